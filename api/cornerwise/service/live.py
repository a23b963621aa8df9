"""A match going on: its log, its state, its calls, its review."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from cornerwise.engine import bridge
from cornerwise.engine.bridge.hands import signalled
from cornerwise.engine.bridge.live import match_answer
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import parse_entry
from cornerwise.engine.match.reading import LONGEST_LOG
from cornerwise.engine.match.terms import Side
from cornerwise.engine.review import review as review_serves
from cornerwise.engine.review import serves_table
from cornerwise.store import events as store

from . import opponents
from . import teams as roster
from .arrays import ARRAYS
from .errors import AnotherLog, MatchDeleted, NoServe
from .folds import fold
from .matches import found, show, signals

NOT_KEPT = re.compile("[\0\ud800-\udfff]")
SEEN_OF_THEM = ("formation", "passers")
SAID_OF_THEM = {"setter_position", "setter_start", "system", *SEEN_OF_THEM}


def post(
    club: str, match_id: str, batch: list[Any], known: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """Take a batch of events; return what became of each: accepted or known with its position, or refused.

    known : {position, id} of an event that the log must have, if not None

    A bad event is refused by itself and the good ones are kept. Raises NoSuchMatch, MatchDeleted, AnotherLog.
    """
    found(club, match_id)
    if known is not None and store.id_at(club, match_id, known["position"]) != known["id"]:
        raise AnotherLog
    good, refused = {}, []
    for index, event in enumerate(batch):
        try:
            event_id = parse_entry(event, f"events.{index}").id
            check_text(event, f"events.{index}")
            good[index] = event_id
        except RuleBroken as error:
            refused.append(refusal(index, event, error))
    result = store.append(club, match_id, [batch[index] for index in good], LONGEST_LOG)
    if result is None:
        raise MatchDeleted  # just now, by somebody else
    for index, event_id in good.items():
        if event_id in result.no_room:
            expected = f"no more than {LONGEST_LOG} events in a match"
            full = RuleBroken(f"events.{index}", event_id, expected, "log_length")
            refused.append(refusal(index, batch[index], full))
    return {
        "accepted": [{"id": event_id, "position": at} for event_id, at in result.accepted.items()],
        "known": [{"id": event_id, "position": at} for event_id, at in result.known.items()],
        "refused": sorted(refused, key=lambda one: one["index"]),
        "position": result.last_position,
    }


def check_text(event: Mapping[str, Any], field: str) -> None:
    """Raise RuleBroken for text that a database cannot hold: U+0000, half a character."""
    for name, value in event.items():
        if isinstance(value, str) and NOT_KEPT.search(value):
            raise RuleBroken(f"{field}.{name}", value, "text of whole characters, without U+0000", "text")


def refusal(index: int, event: Any, error: RuleBroken) -> dict[str, Any]:
    given = event.get("id") if isinstance(event, dict) else None
    said = {"field": error.field, "value": error.value, "expected": error.expected, "rule": error.rule}
    return {"index": index, "id": given if isinstance(given, str) else None, "error": said}


def events(club: str, match_id: str, after: int, limit: int) -> dict[str, Any]:
    """Return the events after a position, oldest first, whether there are more, and which event is there."""
    found(club, match_id)
    rows = store.after(club, match_id, after, limit + 1)
    return {
        "items": [{"position": position, "event": body} for position, body in rows[:limit]],
        "more": len(rows) > limit,
        "after_id": store.id_at(club, match_id, after),
    }


def log(club: str, match_id: str) -> dict[str, Any]:
    """Return a match with its whole log, in the order in which the events were taken."""
    return {"match": show(club, match_id), "events": [body for _, body in store.after(club, match_id, 0)]}


def state(club: str, match_id: str) -> dict[str, Any]:
    """Return what the log says, and up to which position."""
    found(club, match_id)
    position, snapshot = fold(club, match_id)
    return {"position": position, **match_answer(snapshot.state)}


def recommend(club: str, match_id: str, serve: int, given: Mapping[str, Any]) -> dict[str, Any]:
    """Return the call for one of our next serves, in the team's own signals.

    serve : 0 for the next one, which is the present one while we serve
    given : as `calls.recommend` takes it; goes before what the log says, and that before what was entered of
        our server and of the opponent. Of her serves the best is called, unless a kind is given

    Raises NoServe when none is to come, and RuleBroken for what `calls.recommend` refuses.
    """
    said = state(club, match_id)
    if serve >= len(said["coming"]):
        raise NoServe
    coming = dict(said["coming"][serve])
    teams = said["state"]["teams"]
    known = {
        "request": merged(coming.pop("request") or {}, given),
        "opponent": opponents.of_name(club, teams["them"]),
        "player": roster.of_number(club, teams["us"], coming["server"]["number"]),
    }
    answer = bridge.chosen(known, ARRAYS)
    code = signals(club, teams["us"])
    return {
        "made_for": {"position": said["position"], **coming},
        **answer,
        "best": signalled(answer["best"], code),
        "alternatives": [signalled(call, code) for call in answer["alternatives"]],
    }


def merged(logged: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    """Return a request with what was given before what was logged.

    Whoever says where their setter or passers stand does not mean the formation that was logged.
    """
    theirs, said = logged.get("opponent", {}), given.get("opponent", {})
    if SAID_OF_THEM & said.keys():
        theirs = {name: value for name, value in theirs.items() if name not in SEEN_OF_THEM}
    return {**logged, **given, "opponent": {**theirs, **said}}


def review(club: str, match_id: str, side: Side, set_number: int | None) -> dict[str, Any]:
    """Return what a side's serves came to, in the match or in one set."""
    found(club, match_id)
    position, snapshot = fold(club, match_id)
    return {"position": position, **review_serves(snapshot.state, side, set_number)}


def serves_csv(club: str, match_id: str) -> str:
    """Return our serves as a table, one a line; empty where something is not known."""
    match = show(club, match_id)
    return serves_table(fold(club, match_id).state, match["name"])
