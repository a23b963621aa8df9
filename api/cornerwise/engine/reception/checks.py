"""What is refused, and how it is said: the fields are those of a request's `opponent`."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwise.engine.court import HALF_LENGTH_M, HALF_WIDTH_M, Point, on_opponents_half
from cornerwise.engine.errors import RuleBroken

from .assignment import Passer, least_breach, setter_choices
from .overlap import Breach, Position, breaches

MOST_PASSERS = 5  # FIVB 7.3.1: six players in play, one of them the setter

RULES: dict[str, str] = {
    "no_passers": "At least one passer is needed.",
    "too_many_passers": "Six players are on court: at most five passers besides the setter.",
    "passer_outside_court": "At the hit every passer stands inside her own court, lines included.",
    "setter_outside_court": "At the hit the setter stands inside her own court, lines included.",
    "position_taken": "Each of the six positions belongs to one player.",
    "number_twice": "No two passers wear the same shirt number.",
    "overlap": "At the hit the receiving team is in its rotational order; players may be level.",
    "no_legal_assignment": "Some assignment of positions to the players must satisfy the overlap rule.",
}
"""Rule names used here, with one sentence each (FIVB 7.3.1, 7.4, 7.4.2, 7.4.3)."""


def check_passers(passers: Sequence[Passer], setter_position: Position | None, setter_place: Point) -> None:
    """Raise RuleBroken for what is wrong before any position is guessed."""
    if not passers:
        raise RuleBroken("opponent.passers", [], "at least one passer", "no_passers")
    if len(passers) > MOST_PASSERS:
        expected = f"at most {MOST_PASSERS} passers besides the setter"
        raise RuleBroken("opponent.passers", len(passers), expected, "too_many_passers")
    for i, passer in enumerate(passers):
        _check_on_court(f"opponent.passers.{i}", passer.place, "passer_outside_court")
    _check_on_court("opponent.setter_start", setter_place, "setter_outside_court")
    _check_positions(passers, setter_position)
    _check_numbers(passers)
    _check_overlap(passers, setter_position, setter_place)


def refusal(passers: Sequence[Passer], setter_position: Position | None, setter_place: Point) -> RuleBroken:
    """Return why no assignment is legal: the pairs out of order in the one that comes nearest."""
    choices = setter_choices(passers, setter_position, setter_place)
    tried = (least_breach(passers, setter, setter_place) for setter in choices)
    pairs, setter_alone = min(tried, key=lambda nearest: len(nearest[0]))
    faults = "; ".join(pair.rule for pair in pairs)
    expected = f"places that some legal order of positions allows; in the nearest order, {faults}"
    if setter_alone:
        return RuleBroken("opponent.setter_start", _as_dict(setter_place), expected, "no_legal_assignment")
    places = [_as_dict(passer.place) for passer in passers]
    return RuleBroken("opponent.passers", places, expected, "no_legal_assignment")


def _check_on_court(field: str, place: Point, rule: str) -> None:
    if on_opponents_half(place):
        return
    if not abs(place.x_m) <= HALF_WIDTH_M:
        expected = f"-{HALF_WIDTH_M:g} to {HALF_WIDTH_M:g} m, inside the court"
        raise RuleBroken(f"{field}.x_m", place.x_m, expected, rule)
    raise RuleBroken(f"{field}.y_m", place.y_m, f"0 to {HALF_LENGTH_M:g} m, inside the court", rule)


def _check_positions(passers: Sequence[Passer], setter_position: Position | None) -> None:
    holders: dict[Position, str] = {} if setter_position is None else {setter_position: "the setter"}
    for i, passer in enumerate(passers):
        if passer.position is None:
            continue
        if passer.position in holders:
            expected = f"a position other than {passer.position}, which {holders[passer.position]} holds"
            raise RuleBroken(f"opponent.passers.{i}.position", passer.position, expected, "position_taken")
        holders[passer.position] = f"passer {i}"


def _check_numbers(passers: Sequence[Passer]) -> None:
    wearers: dict[int, int] = {}
    for i, passer in enumerate(passers):
        if passer.number is None:
            continue
        if passer.number in wearers:
            expected = f"a number other than {passer.number}, which passer {wearers[passer.number]} wears"
            raise RuleBroken(f"opponent.passers.{i}.number", passer.number, expected, "number_twice")
        wearers[passer.number] = i


def _check_overlap(passers: Sequence[Passer], setter_position: Position | None, setter_place: Point) -> None:
    known: dict[Position, tuple[str, Point]] = {}
    if setter_position is not None:
        known[setter_position] = ("opponent.setter_start", setter_place)
    for i, passer in enumerate(passers):
        if passer.position is not None:
            known[passer.position] = (f"opponent.passers.{i}", passer.place)
    for breach in breaches({position: place for position, (_, place) in known.items()}):
        raise _overlap(breach, known)


def _overlap(breach: Breach, known: dict[Position, tuple[str, Point]]) -> RuleBroken:
    """Return the refusal of a pair, said of the later passer of the two: the setter may be assumed."""
    order = list(known)
    named = max(breach.first, breach.second, key=order.index)
    field, place = known[named]
    _, other = known[breach.second if named == breach.first else breach.first]
    value, bound = (place.x_m, other.x_m) if breach.axis == "x" else (place.y_m, other.y_m)
    side = "at most" if named == breach.first else "at least"
    return RuleBroken(f"{field}.{breach.axis}_m", value, f"{side} {bound:g} m: {breach.rule}", "overlap")


def _as_dict(place: Point) -> dict[str, float]:
    return {"x_m": place.x_m, "y_m": place.y_m}
