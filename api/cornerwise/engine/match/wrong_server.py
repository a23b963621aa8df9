"""A wrong server, called by the referee: who gets the point, and which points are taken back (FIVB 7.7).

The opponent gets one point and the service. Under FIVB rules the points that the team at fault has
won since the fault are cancelled when its moment is known. Under US rules (from memory) only those of
that term of service are, and nothing once the opponent has served.
"""

from __future__ import annotations

from cornerwise.engine.match.events import Entry, WrongServerCalled
from cornerwise.engine.match.rally import (
    decided,
    has_result,
    second_result,
    with_point,
    with_service,
)
from cornerwise.engine.match.referee import checked_at_result
from cornerwise.engine.match.rotation import in_order, libero_place, regular_place, turned_to
from cornerwise.engine.match.serve import with_record
from cornerwise.engine.match.state import MatchState, Rally, with_contradiction, with_team, with_violation
from cornerwise.engine.match.terms import other


def wrong_server_called(state: MatchState, entry: Entry, event: WrongServerCalled) -> MatchState:
    """Return the state after the call; found at the service it is the rally's own result."""
    if event.found == "at_service":
        state = with_record(state, entry, lambda record: record)
        if has_result(state, entry):
            return second_result(state, entry, other(event.side), "wrong_server")
        state = checked_at_result(state, entry)
        if state.serving not in (None, event.side):
            state = with_contradiction(
                state, entry, "other_side_serves", event.side, state.serving, event.side
            )
    state = with_violation(state, entry, "wrong_server", event.side)
    return order_put_right(consequences(state, event), entry, event)


def consequences(state: MatchState, event: WrongServerCalled) -> MatchState:
    """Return the state with points taken back, and a point and the service given."""
    receiver = other(event.side)
    last = next((rally for rally in reversed(state.rallies) if rally.decided), None)
    at_service = event.found == "at_service"
    if state.profile.wrong_server == "since_fault":
        lost = points_since_fault(state, event)
    elif at_service or (last is not None and last.serving == event.side):
        lost = points_of_this_term(state, event)
    else:
        return state
    if at_service:
        state = decided(state, receiver, "wrong_server")
    elif last is None or not already_paid(last, event):
        state = with_service(with_point(state, receiver), receiver)
    return cancelled(state, event, lost)


def already_paid(last: Rally, event: WrongServerCalled) -> bool:
    """Return whether the opponent has its point and the service from the rally just played."""
    from_rally = event.from_rally if event.from_rally is not None else last.rally_number
    return last.serving == event.side and last.winner == other(event.side) and from_rally <= last.rally_number


def points_since_fault(state: MatchState, event: WrongServerCalled) -> frozenset[int]:
    """Return the rallies that the team at fault has won since the fault; none if its moment is unknown."""
    if event.from_rally is None:
        return frozenset()
    return frozenset(
        rally.rally_number
        for rally in state.rallies
        if rally.winner == event.side and rally.rally_number >= event.from_rally and not rally.cancelled
    )


def points_of_this_term(state: MatchState, event: WrongServerCalled) -> frozenset[int]:
    """Return the rallies won by the team at fault in its last unbroken term of service."""
    term = set()
    for rally in reversed(state.rallies):
        if not rally.decided:
            continue
        if rally.serving != event.side:
            break
        if rally.winner == event.side and rally.rally_number >= (event.from_rally or 0):
            term.add(rally.rally_number)
    return frozenset(term)


def cancelled(state: MatchState, event: WrongServerCalled, rally_numbers: frozenset[int]) -> MatchState:
    """Return the state with the points of these rallies taken back, each at most once."""
    if not rally_numbers:
        return state
    count = sum(rally.rally_number in rally_numbers and not rally.cancelled for rally in state.rallies)
    rallies = tuple(
        rally._replace(cancelled=True) if rally.rally_number in rally_numbers else rally
        for rally in state.rallies
    )
    points = max(state.points.of(event.side) - count, 0)
    return state._replace(rallies=rallies, points=state.points.put(event.side, points))


def order_put_right(state: MatchState, entry: Entry, event: WrongServerCalled) -> MatchState:
    """Return the state with the right server of the team at fault in position 1, if she was named."""
    number = event.right_server
    if number is None:
        return state
    team = state.teams.of(event.side)
    if not in_order(team, number):
        return with_contradiction(state, entry, "not_on_court", event.side, None, number)
    index = libero_place(team, number)
    if index is None:
        index = regular_place(team, number)
    assert index is not None  # in the order
    return with_team(state, event.side, turned_to(team, (index,), 1))
