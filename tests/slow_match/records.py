"""Rallies and their records, and the parts of a serve."""

from slow_match import sides
from slow_match.notes import contradict
from slow_match.score import OTHER, SIDES

PARTS = ("grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s")


def record_of(world, rally_number):
    """The record of a rally of this set, or None."""
    return next((r for r in world["records"] if r["rally_number"] == rally_number), None)


def record_for(world, event):
    """The record of the event's rally, made when there is none, with the event noted in it."""
    record = record_of(world, event["rally_number"])
    if record is None:
        record = {
            "rally_number": event["rally_number"],
            "parts": dict.fromkeys(PARTS),
            "called": None,
            "formation": None,
            "result": None,  # "us", "them", "replayed", "wrong_server"
            "winner": None,
            "ending": None,
            "before": None,  # circumstances, once decided or left
            "cancelled": False,
            "events": [],
        }
        world["records"].append(record)
    if event["id"] is not None:
        record["events"].append(event["id"])
    return record


def server(world):
    """Who serves, or None."""
    name = world["serving"]
    if name is None:
        return None
    place = world["sides"][name]["places"][sides.place_at(world["sides"][name], 1)]
    libero = place["libero"] is not None
    return {
        "side": name,
        "number": sides.on_court(place),
        "inferred": place["inferred"] and not libero,
        "libero": libero,
    }


def circumstances(world):
    """What a record says about the moment before its result."""
    name = world["serving"]
    return {
        "serving": name,
        "server": None if name is None else server(world)["number"],
        "points_before": dict(world["points"]),
        "rotations": {side: world["sides"][side]["rotation"] for side in SIDES},
        "setter_positions": {side: sides.who_sets(world["sides"][side]) for side in SIDES},
        "server_place": None if name is None else sides.place_at(world["sides"][name], 1),
    }


def move_on(world, event):
    """A later rally than the present one: what lies between is missing."""
    present, number = world["rally_number"], event["rally_number"]
    if number <= present:
        return
    contradict(world, event, "rallies_missing", None, present, number - 1)
    record = record_of(world, present)
    if record is not None:
        record["before"] = circumstances(world)
    world["rally_number"] = number


def ending_of(record):
    """How the rally ended, what follows from its parts included; or None."""
    if record["result"] in ("replayed", "wrong_server"):
        return record["result"]
    if record["ending"] is not None or record["winner"] is None or record["before"]["serving"] is None:
        return record["ending"]
    won_by_server = record["winner"] == record["before"]["serving"]
    if record["parts"]["error"] is not None and not won_by_server:
        return "service_error"
    if record["parts"]["grade"] == 0 and won_by_server:
        return "ace"
    return None


def decided(world):
    """Records of this set with a winner."""
    return [record for record in world["records"] if record["winner"] is not None]


def write_parts(world, event, record, fields):
    """The first value of a part counts."""
    passer_is_new = False
    for part in PARTS:
        kept, given = record["parts"][part], fields[part]
        if given is None:
            continue
        if kept is None:
            record["parts"][part] = given
            passer_is_new = passer_is_new or part == "passer"
        elif kept != given:
            contradict(world, event, "conflicting_part", None, kept, given)
    serving = world["serving"] if record["result"] is None else record["before"]["serving"]
    if passer_is_new and serving is not None:
        receiving = OTHER[serving]
        court = [sides.on_court(place) for place in world["sides"][receiving]["places"]]
        if None not in court and fields["passer"] not in court:
            contradict(world, event, "not_on_court", receiving, None, fields["passer"])


def parts_noted(world, event, fields):
    """Parts of the serve."""
    write_parts(world, event, record_for(world, event), fields)


def call_shown(world, event, fields):
    """The last call counts."""
    record_for(world, event)["called"] = fields


def reception_formation_seen(world, event, fields):
    """The last formation counts, in the rally and for the side with its setter where she is."""
    formation = {"formation": fields["formation"], "passers": fields["passers"] or []}
    record_for(world, event)["formation"] = formation
    side = world["sides"][fields["side"]]
    if sides.who_sets(side) is not None:
        side["formations"][sides.who_sets(side)] = formation


def server_seen(world, event, fields):
    """Somebody was seen serving."""
    record_for(world, event)
    name, number = fields["side"], fields["number"]
    if world["serving"] is None:
        world["serving"] = name
    if world["serving"] != name:
        contradict(world, event, "other_side_serves", name, world["serving"], name)
        return
    side = world["sides"][name]
    place = side["places"][sides.place_at(side, 1)]
    if sides.on_court(place) == number:
        return
    if sides.on_court(place) is None and not sides.in_order(side, number):
        if number in side["liberos"]:
            place["libero"] = number
        else:
            place["number"], place["inferred"] = number, True
            sides.start_there(place)
        return
    contradict(world, event, "other_server_expected", name, sides.on_court(place), number)
