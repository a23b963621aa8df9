"""Substitutions and libero replacements.

`world["happened"]` is the list of all that happened in the present set; entries about changes are
{"what": "entered" | "left", "side", "number", "place"}, {"what": "counted" | "counted_exceptional", "side"},
and {"what": "replacement", "side"}.
"""

from slow_match.notes import breach, contradict
from slow_match.sides import (
    in_order,
    is_libero,
    libero_place,
    on_court,
    place_at,
    position_of,
    regular_place,
    start_there,
)


def happened(world, what, side, **more):
    """Everything of one kind that happened to a side in this set."""
    alike = [h for h in world["happened"] if h["what"] == what and h["side"] == side]
    return [h for h in alike if all(h[key] == value for key, value in more.items())]


def home(world, name, number):
    """The place where a player started this set, else where she first entered; or None."""
    for index, place in enumerate(world["sides"][name]["places"]):
        if place["starter"] == number:
            return index
    entries = happened(world, "entered", name, number=number)
    return entries[0]["place"] if entries else None


def empty_places(side):
    """Places without a known regular player."""
    return [index for index, place in enumerate(side["places"]) if place["number"] is None]


def substitute(world, event, said):
    """A substitution, regular or exceptional."""
    exceptional = event["type"] == "exceptionally_substituted"
    name, enters, leaves = said["side"], said["enters"], said["leaves"]
    side, profile = world["sides"][name], world["profile"]

    world["happened"].append({"what": "counted_exceptional" if exceptional else "counted", "side": name})
    limit = profile["substitutions_per_set"]
    if not exceptional and limit is not None and len(happened(world, "counted", name)) > limit:
        breach(world, event, "too_many_substitutions", "15.1", name, enters)

    for number in (enters, leaves):
        if is_libero(side, number):
            breach(world, event, "libero_in_substitution", "19.3.2", name, number)
            return
    if in_order(side, enters):
        contradict(world, event, "already_on_court", name, None, enters)
        return
    if enters in side["expelled"] or enters in side["disqualified"]:
        breach(world, event, "sanctioned_player_enters", "15.8", name, enters)
    if enters in side["injured"]:
        breach(world, event, "injured_player_enters", "15.7", name, enters)

    index = place_to_enter(side, leaves, said["position"])
    if leaves is not None and regular_place(side, leaves) is None:
        taken = [place["number"] for place in (side["places"] if index is None else [side["places"][index]])]
        if None not in taken:
            contradict(world, event, "not_on_court", name, None, leaves)
    if index is None:
        return
    place = side["places"][index]
    if place["number"] is None and leaves is not None:
        place["number"], place["inferred"] = leaves, False
        start_there(place)

    if not exceptional:
        judge(world, event, name, index, enters)

    if place["number"] is not None:
        world["happened"].append({"what": "left", "side": name, "number": place["number"]})
        if exceptional:
            side["injured"].append(place["number"])
    world["happened"].append({"what": "entered", "side": name, "number": enters, "place": index})
    place["number"], place["inferred"], place["substituted"] = enters, False, True


def place_to_enter(side, leaves, position):
    """The place of a substitution, or None."""
    if regular_place(side, leaves) is not None:
        return regular_place(side, leaves)
    if position is not None:
        return place_at(side, position)
    if leaves is not None and len(empty_places(side)) == 1:
        return empty_places(side)[0]
    return None


def judge(world, event, name, index, enters):
    """The breaches of re-entry."""
    side, how = world["sides"][name], world["profile"]["re_entry"]
    place = side["places"][index]
    starter, leaves = place["starter"], place["number"]
    if how == "free":
        return
    if home(world, name, enters) not in (None, index):
        breach(world, event, "wrong_place", "15.6.1", name, enters)
    if how == "same_place":
        return
    if happened(world, "entered", name, number=enters):
        started = any(enters == p["starter"] for p in side["places"])
        breach(world, event, "entered_twice", "15.6.1" if started else "15.6.2", name, enters)
    if leaves is not None and leaves == starter and happened(world, "left", name, number=leaves):
        breach(world, event, "left_twice", "15.6.1", name, leaves)
    gone = starter in side["injured"] + side["expelled"] + side["disqualified"]
    if starter is not None and leaves is not None and starter != leaves and enters != starter and not gone:
        breach(world, event, "wrong_partner", "15.6.2", name, enters)


def rally_since_replacement(world, name):
    """Whether a rally was decided, or a penalty rotated the side, since its last replacement."""
    for h in reversed(world["happened"]):
        if h["what"] == "replacement" and h["side"] == name:
            return False
        if h["what"] == "result" and h["winner"] is not None:
            return True
        if h["what"] == "penalty_rotated" and h["side"] == name:
            return True
    return True


def replace_libero(world, event, said):
    """A libero comes, goes, or takes over from another."""
    name, enters, leaves = said["side"], said["enters"], said["leaves"]
    side = world["sides"][name]
    standing = libero_place(side, leaves)
    if standing is not None and is_libero(side, enters):
        exchange(world, event, name, standing, enters)
    elif standing is not None:
        libero_goes(world, event, name, standing, enters, leaves)
    elif enters is not None and libero_comes_to(side, leaves, said["position"]) is not None:
        libero_comes(world, event, name, libero_comes_to(side, leaves, said["position"]), enters, leaves)
    else:
        contradict(world, event, "not_on_court", name, None, enters if leaves is None else leaves)


def exchange(world, event, name, index, enters):
    """Case 1: one libero for another."""
    side = world["sides"][name]
    move = libero_place(side, enters) is not None
    if move or not rally_since_replacement(world, name):
        breach(world, event, "libero_without_rally", "19.3.2.1", name, enters)
    take_out(side, enters)
    side["places"][index]["libero"] = enters
    world["happened"].append({"what": "replacement", "side": name})


def libero_goes(world, event, name, index, enters, leaves):
    """Case 2: the libero goes out."""
    side = world["sides"][name]
    place = side["places"][index]
    if not rally_since_replacement(world, name):
        number = leaves if enters is None else enters
        breach(world, event, "libero_without_rally", "19.3.2.1", name, number)
    place["libero"] = None
    world["happened"].append({"what": "replacement", "side": name})
    if enters is None or enters == place["number"]:
        return
    if place["number"] is not None:
        breach(world, event, "libero_wrong_return", "19.3.2.2", name, enters)
    if in_order(side, enters):
        contradict(world, event, "already_on_court", name, None, enters)
        return
    place["number"], place["inferred"] = enters, False
    start_there(place)


def libero_comes_to(side, leaves, position):
    """The place that a libero takes, or None."""
    if regular_place(side, leaves) is not None:
        return regular_place(side, leaves)
    if position is not None:
        return place_at(side, position)
    if leaves is not None and not is_libero(side, leaves) and len(empty_places(side)) == 1:
        return empty_places(side)[0]
    return None


def libero_comes(world, event, name, index, enters, leaves):
    """Case 3: a libero stands in."""
    side, profile = world["sides"][name], world["profile"]
    place = side["places"][index]
    if regular_place(side, enters) is not None or place["libero"] == enters:
        contradict(world, event, "already_on_court", name, None, enters)
        return
    position = position_of(side, index)
    move = libero_place(side, enters) is not None
    comes_to_serve = position == 1 and world["serving"] == name
    if (move or not rally_since_replacement(world, name)) and not (
        comes_to_serve and profile["libero_exchange_to_serve"]
    ):
        breach(world, event, "libero_without_rally", "19.3.2.1", name, enters)
    unheard_of = leaves is not None and not in_order(side, leaves) and not is_libero(side, leaves)
    if place["number"] is None and unheard_of:
        place["number"], place["inferred"] = leaves, False
        start_there(place)
    take_out(side, enters)
    place["libero"] = enters
    if enters not in side["liberos"]:
        side["liberos"].append(enters)
        if len(side["liberos"]) > profile["liberos"]:
            breach(world, event, "too_many_liberos", "19.1", name, None)
    if [p for p in side["places"] if p["libero"] not in (None, enters)]:
        breach(world, event, "two_liberos_on_court", "19.1", name, enters)
    if position in (2, 3, 4):
        breach(world, event, "libero_in_front_row", "19.3.1.1", name, enters)
    world["happened"].append({"what": "replacement", "side": name})


def take_out(side, number):
    """A libero stands nowhere."""
    for place in side["places"]:
        if place["libero"] == number:
            place["libero"] = None


def libero_checks(world, event, name):
    """A libero in the front row at the serve, then sanctioned players on court (checks 3 of a rally)."""
    side = world["sides"][name]
    for position in (2, 3, 4):
        libero = side["places"][place_at(side, position)]["libero"]
        if libero is not None:
            breach(world, event, "libero_in_front_row", "19.3.1.1", name, libero)
    for position in range(1, 7):
        number = on_court(side["places"][place_at(side, position)])
        if number is not None and number in side["expelled"] + side["disqualified"]:
            breach(world, event, "sanctioned_player_on_court", "15.8", name, number)


def libero_serves_check(world, event):
    """A libero in position 1 of the serving side (check 4 of a rally)."""
    name = world["serving"]
    if name is None:
        return
    side = world["sides"][name]
    index = place_at(side, 1)
    libero = side["places"][index]["libero"]
    if libero is None:
        return
    if not world["profile"]["libero_may_serve"]:
        breach(world, event, "libero_serves", "19.3.1.3", name, libero)
        return
    earlier = happened(world, "libero_served", name)
    if earlier and earlier[0]["place"] != index:
        breach(world, event, "libero_serves_second_place", "19.3.1.3", name, libero)
    world["happened"].append({"what": "libero_served", "side": name, "place": index})
