"""A match over the same doors: from a log to its state, its review, and the serves that are to be called."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import parse_log, report
from cornerwise.engine.match import replay as replay_log
from cornerwise.engine.match.libero import may_be_replaced
from cornerwise.engine.match.profile_reading import parse_profile
from cornerwise.engine.match.readers import ANYTHING, Reader, mapping, one_of, text, whole
from cornerwise.engine.match.report import format_state
from cornerwise.engine.match.score import first_serving_next
from cornerwise.engine.match.situation import after_side_out
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.terms import SIDES
from cornerwise.engine.review import review as review_serves
from cornerwise.engine.review import serves_table

from .ask import asked

SERVES_AHEAD = 3  # chosen: what a time-out has the time to talk about
SHEET_LIBEROS = 4  # as many as `set_started` takes; a log may name more
MOST_SETS = 9  # as many as an event's set number takes
LONGEST_NAME = 100  # characters; as long as a match's name may be
LOG: Mapping[str, Reader] = {"events": ANYTHING}


def replay(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a log says: see `match_answer`. request : {profile, events}

    Raises RuleBroken naming the field that cannot be read.
    """
    return match_answer(_folded(mapping("", request, LOG, {"profile": parse_profile})))


def review(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return the review of one side's serves in a log: see `engine.review`.

    request : {profile, events, side, set_number}; ours and the whole match if not given

    Raises RuleBroken naming the field that cannot be read.
    """
    known = {"profile": parse_profile, "side": one_of(*SIDES), "set_number": whole(1, MOST_SETS)}
    read = mapping("", request, LOG, known)
    return review_serves(_folded(read), read.get("side", "us"), read.get("set_number"))


def serves(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return {text}: our serves in a log as a table, see `engine.review.table`.

    request : {profile, events, name}; name : of the match, None for none

    Raises RuleBroken naming the field that cannot be read.
    """
    read = mapping("", request, LOG, {"profile": parse_profile, "name": text(LONGEST_NAME)})
    return {"text": serves_table(_folded(read), read.get("name"))}


def _folded(read: Mapping[str, Any]) -> MatchState:
    return replay_log(parse_log(read["events"]), read.get("profile"))


def match_answer(state: MatchState) -> dict[str, Any]:
    """Return {state, next_state, violations, contradictions, coming, libero_may_replace, first_serving_next,
    sheets} as plain objects.

    coming : our next serves, the first of them the one to call: see `our_serves`
    libero_may_replace : for each side, for whom its libero may come in now, who is likeliest first
    first_serving_next : who serves first in the next set (FIVB 12.1.2); null where the toss says, or none is
    sheets : for each side what `set_started` takes to begin a set with the same players again
    """
    said = report(state)
    sides = said["state"]["sides"]
    return {
        **said,
        "coming": [_coming(s, n) for s, n in our_serves(state)],
        "libero_may_replace": {side: list(may_be_replaced(state, side)) for side in SIDES},
        "first_serving_next": first_serving_next(state),
        "sheets": {side: sheet(sides[side]) for side in sides},
    }


def our_serves(state: MatchState) -> Iterator[tuple[MatchState, int]]:
    """Yield the states in which we serve next, at most three, with the side-outs that lie before each.

    Every rally is taken to be won by the receivers: 0 is the present serve, 1 the one after the next
    side-out, when they have rotated and then we; nothing is yielded beyond the end of the set.
    """
    ahead: MatchState | None = state if state.serving is not None else None
    side_outs, found = 0, 0
    while ahead is not None and found < SERVES_AHEAD:
        following = after_side_out(ahead)
        if following is None:
            return  # the set is over there
        if ahead.serving == "us":
            yield ahead, side_outs
            found += 1
        ahead, side_outs = following, side_outs + 1


def _coming(state: MatchState, side_outs: int) -> dict[str, Any]:
    """Return one of our next serves: the score and the players it is called for, and what to ask."""
    said = format_state(state)
    them = said["sides"]["them"]
    return {
        "side_outs": side_outs,
        **{name: said[name] for name in ("set_number", "rally_number", "points", "sets", "server")},
        "setter_position": them["setter_position"],
        "setter_row": them["setter_row"],
        "setter_inferred": them["setter_inferred"],
        "request": call_for_state(said),
    }


def call_for_state(state: Mapping[str, Any]) -> dict[str, Any] | None:
    """Return what to ask `call` for a state in which we serve; None while nobody knows their setter.

    state : as `replay` returns it. Passers that were seen out of order are left out: their number is kept.
    """
    them = state["sides"]["them"]
    if them["setter_position"] is None:
        return None
    opponent = {"setter_position": them["setter_position"], "system": them["system"]}
    level = {} if state["level"] is None else {"level": state["level"]}
    seen = them["formation"]
    if seen is None:
        return {**level, "opponent": opponent}
    named = {**level, "opponent": {**opponent, "formation": seen["formation"]}}
    numbers = {player["position"]: player["number"] for player in them["lineup"]}
    passers = [_passer(passer, numbers) for passer in seen["passers"]]
    placed = {**level, "opponent": {**opponent, "passers": passers}}
    return placed if passers and _in_order(placed) else named


def _passer(passer: Mapping[str, Any], numbers: Mapping[int, int | None]) -> dict[str, Any]:
    number = passer["number"] if passer["number"] is not None else numbers.get(passer["position"])
    return {name: value for name, value in {**passer, "number": number}.items() if value is not None}


def _in_order(request: dict[str, Any]) -> bool:
    try:
        asked(request)
    except RuleBroken:
        return False
    return True


def sheet(side: Mapping[str, Any]) -> dict[str, Any]:
    """Return a side as it started its set, in the form that `set_started` takes.

    side : as in a state. The setter's place is given where only the place is known, not her number.
    """
    position = side["setter_position"] if side["setter_inferred"] else None
    liberos = side["liberos"][:SHEET_LIBEROS]
    return {
        "lineup": [None if number in liberos else number for number in side["started"]],
        "liberos": liberos,
        "setters": list(side["setters"]),
        "setter_position": None if position is None else (side["rotation"] + position - 1) % 6 + 1,
        "system": side["system"],
    }
