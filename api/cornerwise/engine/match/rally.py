"""A rally's result, and what it does to score, service and rotation."""

from __future__ import annotations

from cornerwise.engine.match.events import (
    Entry,
    RallyReplayed,
    RallyWon,
)
from cornerwise.engine.match.referee import checked_at_result
from cornerwise.engine.match.rotation import (
    rotated,
)
from cornerwise.engine.match.serve import (
    circumstances,
    ending_of,
    parts_noted,
    record_of,
    with_past_record,
    with_record,
)
from cornerwise.engine.match.state import (
    MatchState,
    ServingTurn,
    with_contradiction,
    with_team,
)
from cornerwise.engine.match.terms import Both, RecordEnding, Side


def rally_won(state: MatchState, entry: Entry, event: RallyWon) -> MatchState:
    """The winner gets a point; a receiving winner rotates and serves (FIVB 6.1.3, 12.2.2)."""
    state = parts_noted(state, entry, event.parts)
    if has_result(state, entry):
        return second_result(state, entry, event.winner, event.ending)
    state = result_fitted(checked_at_result(state, entry), entry, event)
    return won(state, event.winner, event.ending)


def rally_replayed(state: MatchState, entry: Entry, event: RallyReplayed) -> MatchState:
    """Nobody gets a point, the same player serves again."""
    state = with_record(state, entry, lambda record: record)
    if has_result(state, entry):
        return second_result(state, entry, None, "replayed")
    return recorded(checked_at_result(state, entry), None, "replayed")


def won(state: MatchState, winner: Side, ending: RecordEnding | None = None) -> MatchState:
    """Return the state after the present rally was won, with the serving turn counted on."""
    turn = ServingTurn(state.turn.serves + 1, state.turn.points + 1)
    kept_the_serve = winner == state.serving
    state = decided(state, winner, ending)
    return state._replace(turn=turn) if kept_the_serve else state


def decided(state: MatchState, winner: Side, ending: RecordEnding | None) -> MatchState:
    """Return the state after the present rally was decided: a completed rally, a point, the service."""
    state = recorded(state, winner, ending)
    us, them = (team._replace(libero_ready=True) for team in (state.teams.us, state.teams.them))
    return with_service(with_point(state._replace(teams=Both(us, them)), winner), winner)


def recorded(state: MatchState, winner: Side | None, ending: RecordEnding | None) -> MatchState:
    """Return the state with the present rally's record closed and the next rally to come."""
    record = circumstances(state, record_of(state, state.rally_number))
    record = record._replace(winner=winner, ending=ending)
    return state._replace(
        rallies=(*state.rallies, record),
        present=None,
        rally_number=state.rally_number + 1,
        time_out_by=(),
    )


def with_point(state: MatchState, side: Side) -> MatchState:
    """Return the state with one point more for a side."""
    return state._replace(points=state.points.put(side, state.points.of(side) + 1))


def with_service(state: MatchState, side: Side) -> MatchState:
    """Return the state with a side serving; one that gains the service from the other rotates first."""
    if state.serving == side:
        return state
    if state.serving is not None:
        state = with_team(state, side, rotated(state.teams.of(side)))
    return state._replace(serving=side, turn=ServingTurn())


def has_result(state: MatchState, entry: Entry) -> bool:
    """Return whether the entry's rally has a result already."""
    return entry.rally_number < state.rally_number


def result_word(winner: Side | None, ending: RecordEnding | None) -> str:
    """Return a result in one word."""
    if ending in ("wrong_server", "replayed"):
        return ending
    return winner or "none"


def second_result(
    state: MatchState, entry: Entry, winner: Side | None, ending: RecordEnding | None
) -> MatchState:
    """The first result of a rally counts; one that says something else is a contradiction."""
    record = record_of(state, entry.rally_number)
    kept, given = result_word(record.winner, record.ending), result_word(winner, ending)
    if kept != given:
        return with_contradiction(state, entry, "conflicting_result", None, kept, given)
    known = ending_of(record)
    if ending is None or ending == known:
        return state
    if known is not None:
        return with_contradiction(state, entry, "conflicting_part", None, known, ending)
    return with_past_record(state, record._replace(ending=ending))


def result_fitted(state: MatchState, entry: Entry, event: RallyWon) -> MatchState:
    """An ace that the server's side lost, or a service error that it won, is a contradiction."""
    if state.serving is None:
        return state
    parts = record_of(state, entry.rally_number).parts
    if event.winner == state.serving:
        misfits = {"service_error": event.ending == "service_error", "error": parts.error is not None}
    else:
        misfits = {"ace": event.ending == "ace", "grade": parts.grade == 0}
    misfit = next((word for word, holds in misfits.items() if holds), None)
    if misfit is None:
        return state
    return with_contradiction(state, entry, "result_does_not_fit", event.winner, None, misfit)
