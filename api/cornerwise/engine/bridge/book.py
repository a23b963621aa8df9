"""The call book: for each of their six rotations, in the order in which we meet them, what each of our
servers is called to do; and what a corner costs that a server cannot use yet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from cornerwise.engine.call.alternatives import EQUAL
from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN, Maths
from cornerwise.engine.players import USUAL_KIND
from cornerwise.engine.reception import setter_row, setting_position
from cornerwise.engine.roster import servers, turns

from .answer import call
from .chosen import preference
from .exact import point
from .roster import (
    formation_for,
    frame_of,
    next_job,
    number_of,
    opponent_request,
    serve_request,
    start_of,
)
from .stock import START_LEVEL

ORDER = (1, 6, 5, 4, 3, 2)  # of their setter's positions, when nobody knows where she starts (FIVB 7.6.2)
SHOWN = ("spot", "target", "kind", "speed_m_s", "keep", "p_error", "words", "signal")

Calls = dict[str, dict[str, Any] | None]


def book(request: Mapping[str, Any], m: Maths = PLAIN) -> dict[str, Any]:
    """Return the calls of a match against one opponent.

    request :
        level, net_height_m, ball, drag_model, service_line_m : as for a call
        roster       : {number, name, role, reach_m, serves, comes_in_for}; without serves, the level's usual
        servers      : in place of a roster, those of it who serve, in this order
        lineup       : our six numbers by position at the start of a set, null where not known
        opponent     : as `opponent_request` takes it
        serving_first: us or them, if known
        turn         : only this one of the six, 1 to 6

    Returns {level, order_known, rotations, servers, assumed}: each rotation with a call for every
    server. They are in the order of our serving turns when it is known where their setter starts and who
    serves first; else their setter goes on from where she starts, or from position 1.
    """
    frame, opponent = frame_of(request), request["opponent"]
    if "servers" not in request:
        request = {**request, "servers": servers(request["roster"], request.get("lineup"))}
    known: Calls = {}
    rotations = [
        _rotation(m, request, frame, turn, setter_position, server_number, known)
        for turn, (setter_position, server_number) in enumerate(_meetings(request), 1)
        if request.get("turn") in (None, turn)
    ]
    assumed = {one["name"]: one for answer in known.values() if answer for one in answer["assumed"]}
    return {
        "level": frame.get("level", START_LEVEL),
        "order_known": start_of(opponent) is not None and request.get("serving_first") is not None,
        "rotations": rotations,
        "servers": [_server(one, rotations) for one in request["servers"]],
        "assumed": list(assumed.values()),
    }


def _meetings(request: Mapping[str, Any]) -> Iterator[tuple[int, int | None]]:
    """Yield their setter's position and our server's number, for each of our six serving turns."""
    start, first = start_of(request["opponent"]), request.get("serving_first")
    if start is None or first is None:
        begin = 0 if start is None else ORDER.index(start)
        yield from ((position, None) for position in (*ORDER[begin:], *ORDER[:begin]))
        return
    lineup = request.get("lineup") or (None,) * 6
    for turn in turns(start, first):
        yield turn.setter_position, lineup[turn.server_position - 1]


def _rotation(
    m: Maths,
    request: Mapping[str, Any],
    frame: Mapping[str, Any],
    turn: int,
    setter_position: int,
    server_number: int | None,
    known: Calls,
) -> dict[str, Any]:
    opponent, level = request["opponent"], frame.get("level", START_LEVEL)
    theirs = opponent_request(opponent, setter_position, level)
    setting = setting_position(setter_position, opponent.get("system") or "one_setter")  # type: ignore[arg-type]
    calls = []
    for server in request["servers"]:
        meets = server_number is not None and server_number in (
            server["number"],
            *(server.get("comes_in_for") or ()),
        )
        calls.append({**_best(m, frame, theirs, server, known), "meets": meets})
    return {
        "turn": turn,
        "setter_position": setter_position,
        "setting_position": setting,
        "setter_row": setter_row(setting),
        "server": server_number,
        "formation_entered": formation_for(opponent, setter_position) is not None,
        "receivers": _receivers(opponent, setter_position, calls),
        "calls": [{name: value for name, value in one.items() if name != "receivers"} for one in calls],
    }


def _receivers(
    opponent: Mapping[str, Any], setter_position: int, calls: Sequence[Mapping[str, Any]]
) -> list[dict[str, Any]]:
    """Return their six in this rotation; from the situation of a call, with the numbers that are known."""
    shown: Sequence[Mapping[str, Any]] = next((one["receivers"] for one in calls if one["receivers"]), [])
    return [
        {
            "position": player["position"],
            "number": number_of(opponent, setter_position, player),
            "role": player["role"],
            "x_m": player["x_m"],
            "y_m": player["y_m"],
        }
        for player in shown
    ]


def _best(
    m: Maths,
    frame: Mapping[str, Any],
    theirs: Mapping[str, Any],
    server: Mapping[str, Any],
    known: Calls,
) -> dict[str, Any]:
    """Return a server's call: the best of her serves that keep to their ceiling, the others beside it."""
    kind = USUAL_KIND[frame.get("level", START_LEVEL)]
    serves = server.get("serves") or ({"kind": kind},)
    answered = []
    for serve in serves:
        answer = _answer(m, frame, theirs, serve, server.get("reach_m"), known)
        if answer is not None:
            answered.append((serve, answer))
    head = {
        "server": server["number"],
        "name": server.get("name"),
        "comes_in_for": server.get("comes_in_for") or [],
    }
    if not answered:
        text = "No serve of hers reaches the court over the net at the pace given."
        return {**head, "call": None, "equals": [], "missing_spots": [], "text": text, "receivers": []}
    answered.sort(key=lambda one: preference(one[1]))
    serve, answer = answered[0]
    best = answer["best"]
    near = [
        option
        for _, other in answered
        for option in (*([other["best"]] if other is not answer else []), *other["alternatives"])
        if abs(option["keep"] - best["keep"]) <= EQUAL and other["policy"]["met"]
    ]
    return {
        **head,
        "call": {**_shown(best), "next_job": _job(serve, best)},
        "equals": [_shown(option) for option in near],
        "missing_spots": answer["limits"]["missing_spots"],
        "text": answer["policy"]["text"],
        "receivers": answer["situation"]["players"],
    }


def _job(serve: Mapping[str, Any], best: Mapping[str, Any]) -> dict[str, Any] | None:
    return next_job(serve.get("next_job"), point(best["contact"]), best["flight_time_s"])


def _answer(
    m: Maths,
    frame: Mapping[str, Any],
    theirs: Mapping[str, Any],
    serve: Mapping[str, Any],
    reach_m: float | None,
    known: Calls,
) -> dict[str, Any] | None:
    """Return the whole answer for one serve, None if it never reaches the court; equal questions are one."""
    asked = {**frame, **serve_request(frame, serve, reach_m), "opponent": dict(theirs)}
    key = repr(asked)
    if key not in known:
        try:
            known[key] = call(asked, m)
        except RuleBroken as error:
            if error.rule != "out_of_reach":
                raise
            known[key] = None
    return known[key]


def _shown(option: Mapping[str, Any]) -> dict[str, Any]:
    return {name: option[name] for name in SHOWN}


def _server(server: Mapping[str, Any], rotations: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Return a server with what each corner that she cannot use costs her against this opponent."""
    hers = [one for rotation in rotations for one in rotation["calls"] if one["server"] == server["number"]]
    return {
        "number": server["number"],
        "name": server.get("name"),
        "comes_in_for": server.get("comes_in_for") or [],
        "missing": missing([one["missing_spots"] for one in hers]),
    }


def missing(answers: Sequence[Sequence[Mapping[str, Any]]]) -> list[dict[str, Any]]:
    """Return the spots that a server lacks, with what each would bring over some rotations, most first.

    answers : of each rotation the `missing_spots` of its call; a spot that is not named there brings nothing
    """
    found = []
    for name in SPOT_NAMES:
        points = [one["points_per_100"] for answer in answers for one in answer if one["spot"] == name]
        if points:
            mean = math.fsum(points) / len(answers)
            where = name.replace("_", " ")
            text = f"From the {where} she would win {mean:.1f} more in 100, over {len(answers)} rotations"
            found.append({"spot": name, "points_per_100": mean, "most_per_100": max(points), "text": text})
    return sorted(found, key=lambda one: -float(one["points_per_100"]))


def corners(request: Mapping[str, Any], m: Maths = PLAIN) -> dict[str, Any]:
    """Return what the spots cost that a server cannot use, over all rotations of some opponents.

    request : as for `book`, with one `server` and some `opponents`
    """
    frame, server, known = frame_of(request), request["server"], Calls()
    level = frame.get("level", START_LEVEL)
    by_opponent = []
    for opponent in request["opponents"]:
        asked = (opponent_request(opponent, position, level) for position in ORDER)
        lacks = [_best(m, frame, theirs, server, known)["missing_spots"] for theirs in asked]
        by_opponent.append({"opponent": opponent.get("name"), "lacks": lacks})
    return {
        "missing": missing([lack for one in by_opponent for lack in one["lacks"]]),
        "opponents": [{"name": one["opponent"], "missing": missing(one["lacks"])} for one in by_opponent],
    }
