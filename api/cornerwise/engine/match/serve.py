"""What is seen of one serve, and the record it is written into: call, server, pass grade, landing."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import fields, replace
from operator import attrgetter

from cornerwise.engine.match.events import (
    CallShown,
    Entry,
    Parts,
    ReceptionFormationSeen,
    ServerSeen,
)
from cornerwise.engine.match.rotation import (
    in_order,
    is_libero,
    on_court,
    place_at,
    setter_position,
    settled,
    with_place,
)
from cornerwise.engine.match.state import (
    Formation,
    MatchState,
    Place,
    Rally,
    Team,
    with_contradiction,
    with_team,
)
from cornerwise.engine.match.terms import Both, RecordEnding, other

PART_NAMES = tuple(field.name for field in fields(Parts))


def record_of(state: MatchState, rally_number: int) -> Rally:
    """Return the record of a rally of this set: decided, in play, or fresh."""
    if rally_number == state.rally_number:
        return state.present or Rally(rally_number)
    index = place_of(state, rally_number)
    found = state.rallies[index : index + 1]
    return found[0] if found and found[0].rally_number == rally_number else Rally(rally_number)


def place_of(state: MatchState, rally_number: int) -> int:
    """Return where the record of a rally stands among those of its set, which are in order."""
    return bisect_left(state.rallies, rally_number, key=attrgetter("rally_number"))


def with_past_record(state: MatchState, record: Rally) -> MatchState:
    """Return the state with the record of a rally that has a result replaced."""
    index = place_of(state, record.rally_number)
    return state._replace(rallies=(*state.rallies[:index], record, *state.rallies[index + 1 :]))


def with_record(state: MatchState, entry: Entry, change: Callable[[Rally], Rally]) -> MatchState:
    """Return the state with the record of the entry's rally changed, and the entry's id in it."""
    record = change(record_of(state, entry.rally_number))
    record = record._replace(events=record.events.plus(entry.id))
    if entry.rally_number == state.rally_number:
        return state._replace(present=record)
    return with_past_record(state, record)


def circumstances(state: MatchState, record: Rally) -> Rally:
    """Return a record with what the present rally is played from: server, points, rotations, setters."""
    teams, serving = state.teams, state.serving
    server = None if serving is None else place_at(teams.of(serving), 1)
    return record._replace(
        serving=serving,
        server=None if serving is None or server is None else on_court(teams.of(serving).places[server]),
        server_place=server,
        points_before=state.points,
        rotations=Both(teams.us.rotation, teams.them.rotation),
        setter_positions=Both(setter_position(teams.us), setter_position(teams.them)),
    )


def ending_of(record: Rally) -> RecordEnding | None:
    """Return how a rally ended: as logged, or as the parts of its serve say."""
    if record.ending is not None or record.winner is None or record.serving is None:
        return record.ending
    if record.winner == record.serving:
        return "ace" if record.parts.grade == 0 else None
    return "service_error" if record.parts.error is not None else None


def call_shown(state: MatchState, entry: Entry, call: CallShown) -> MatchState:
    """The call last shown before the serve is the one that was made."""
    return with_record(state, entry, lambda record: record._replace(called=call))


def parts_noted(state: MatchState, entry: Entry, parts: Parts) -> MatchState:
    """Parts of a serve are written down; the first value of each counts."""
    known = record_of(state, entry.rally_number).parts
    new = {}
    for name in PART_NAMES:
        value, kept = getattr(parts, name), getattr(known, name)
        if value is None or value == kept:
            continue
        if kept is None:
            new[name] = value
        else:
            state = with_contradiction(state, entry, "conflicting_part", None, kept, value)
    if "passer" in new:
        state = passer_looked_for(state, entry, new["passer"])
    if not new:
        return with_record(state, entry, lambda record: record)
    return with_record(state, entry, lambda record: record._replace(parts=replace(known, **new)))


def passer_looked_for(state: MatchState, entry: Entry, number: int) -> MatchState:
    """A passer who is not among six known players on the receiving side is a contradiction."""
    serving = record_of(state, entry.rally_number).serving or state.serving
    if serving is None:
        return state
    players = [on_court(place) for place in state.teams.of(other(serving)).places]
    if None in players or number in players:
        return state
    return with_contradiction(state, entry, "not_on_court", other(serving), None, number)


def formation_seen(state: MatchState, entry: Entry, event: ReceptionFormationSeen) -> MatchState:
    """A formation is kept for the rally, and for the side with its setter where she is now."""
    seen = Formation(event.formation, event.passers)
    team = state.teams.of(event.side)
    position = setter_position(team)
    if position is not None:
        others = tuple((p, formation) for p, formation in team.formations if p != position)
        state = with_team(state, event.side, team._replace(formations=(*others, (position, seen))))
    return with_record(state, entry, lambda record: record._replace(formation=seen))


def server_seen(state: MatchState, entry: Entry, event: ServerSeen) -> MatchState:
    """Who is seen serving fills an unknown place; anyone else than expected is a contradiction."""
    state = with_record(state, entry, lambda record: record)
    if state.serving is None:
        state = state._replace(serving=event.side)
    if state.serving != event.side:
        return with_contradiction(state, entry, "other_side_serves", event.side, state.serving, event.side)
    team = state.teams.of(event.side)
    index = place_at(team, 1)
    expected = on_court(team.places[index])
    if expected == event.number:
        return state
    if expected is not None or in_order(team, event.number):
        return with_contradiction(state, entry, "other_server_expected", event.side, expected, event.number)
    place = found(team, team.places[index], event.number)
    return with_team(state, event.side, with_place(team, index, place))


def found(team: Team, place: Place, number: int) -> Place:
    """Return an unknown place in which this number was seen: as libero if she is one."""
    if is_libero(team, number):
        return replace(place, libero=number)
    return settled(place, number, inferred=True)
