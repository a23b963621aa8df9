"""A side: six places in serving order, who stands in them, who sets."""


def new_side():
    """A side of which nothing is known."""
    return {"liberos": [], "setters": [], "system": "one_setter"} | new_places()


def new_places():
    """Six empty places; place 0 starts in position 1."""
    return {
        "places": [
            {"number": None, "inferred": False, "libero": None, "starter": None, "substituted": False}
            for _ in range(6)
        ],
        "rotation": 0,
        "marked": [],
    }


def place_at(side, position):
    """Index of the place that stands in a position."""
    return (side["rotation"] + position - 1) % 6


def position_of(side, index):
    """Position in which a place stands."""
    return next(position for position in range(1, 7) if place_at(side, position) == index)


def on_court(place):
    """The number on court in a place, or None."""
    return place["number"] if place["libero"] is None else place["libero"]


def in_order(side, number):
    """Whether a number is the regular player or the libero of some place."""
    return number is not None and any(number in (p["number"], p["libero"]) for p in side["places"])


def regular_place(side, number):
    """The place whose regular player has the number, or None."""
    if number is None:
        return None
    return next((i for i, p in enumerate(side["places"]) if p["number"] == number), None)


def libero_place(side, number):
    """The place in which the number stands as libero, or None."""
    if number is None:
        return None
    return next((i for i, p in enumerate(side["places"]) if p["libero"] == number), None)


def is_libero(side, number):
    """Whether a number is one of the side's liberos or stands as one."""
    return number is not None and (number in side["liberos"] or libero_place(side, number) is not None)


def rotate(side, steps=1):
    """The player of position 2 comes to position 1."""
    side["rotation"] = (side["rotation"] + steps) % 6


def turn_to_serve(side, number):
    """Rotate until the number, who is in the order, is in position 1."""
    while number not in (
        side["places"][place_at(side, 1)]["number"],
        side["places"][place_at(side, 1)]["libero"],
    ):
        rotate(side)


def start_there(place):
    """The place's regular player started there, unless somebody has been substituted there."""
    if not place["substituted"]:
        place["starter"] = place["number"]


def write(side, index, number):
    """Write a number into a place."""
    place = side["places"][index]
    elsewhere = regular_place(side, number)
    if elsewhere == index:
        place["inferred"], place["libero"] = False, None
    elif elsewhere is not None:
        other = side["places"][elsewhere]
        other["number"], other["inferred"] = place["number"], place["number"] is not None
        place["number"], place["inferred"] = number, False
        start_there(other)
        start_there(place)
        place["libero"] = None
    elif is_libero(side, number):
        for other in side["places"]:
            if other["libero"] == number:
                other["libero"] = None
        place["libero"] = number
    else:
        place["number"], place["inferred"] = number, False
        start_there(place)
        place["libero"] = None


def setter_places(side):
    """Places of the setters on court; else those marked."""
    by_number = [i for i, p in enumerate(side["places"]) if on_court(p) in side["setters"]]
    return by_number or side["marked"]


def setter_positions(side):
    """Their positions, ascending."""
    return sorted(position_of(side, index) for index in setter_places(side))


def who_sets(side):
    """Position of the one who sets, or None."""
    positions = setter_positions(side)
    wanted = {
        "one_setter": [1, 2, 3, 4, 5, 6],
        "two_setters_back_sets": [1, 5, 6],
        "two_setters_front_sets": [2, 3, 4],
    }[side["system"]]
    for position in [*wanted, 1, 2, 3, 4, 5, 6]:
        if position in positions:
            return position
    return None


def place_setter(side, position):
    """The setter is in this position now."""
    if any(on_court(place) in side["setters"] for place in side["places"]):
        while on_court(side["places"][place_at(side, position)]) not in side["setters"]:
            rotate(side)
        return
    index = place_at(side, position)
    side["marked"] = [index]
    if side["system"] != "one_setter":
        side["marked"].append((index + 3) % 6)
    place = side["places"][index]
    if on_court(place) is None and len(side["setters"]) == 1:
        setter = side["setters"][0]
        if not in_order(side, setter) and not is_libero(side, setter):
            place["number"], place["inferred"] = setter, True
            start_there(place)


def start(side, team):
    """The side at the start of a set."""
    side.update(new_places())
    lineup = team["lineup"] or [None] * 6
    for place, number in zip(side["places"], lineup, strict=True):
        place["number"] = place["starter"] = number
    if team["liberos"] is not None:
        side["liberos"] = list(team["liberos"])
    side["liberos"] = [number for number in side["liberos"] if number not in lineup]
    if team["setters"] is not None:
        side["setters"] = list(team["setters"])
    if team["system"] is not None:
        side["system"] = team["system"]
    if team["setter_position"] is not None:
        place_setter(side, team["setter_position"])


def correct(side, said):
    """The side set right by hand."""
    if said["liberos"] is not None:
        side["liberos"] = list(said["liberos"])
        for place in side["places"]:
            if place["number"] is not None and place["number"] in side["liberos"]:
                if place["libero"] is None:
                    place["libero"] = place["number"]
                place["number"], place["inferred"] = None, False
                start_there(place)
    if said["setters"] is not None:
        side["setters"] = list(said["setters"])
    if said["system"] is not None:
        side["system"] = said["system"]
    if said["rotate"] is not None:
        rotate(side, said["rotate"])
    for position, number in enumerate(said["lineup"] or [], start=1):
        if number is not None:
            write(side, place_at(side, position), number)
    if said["setter_position"] is not None:
        place_setter(side, said["setter_position"])
