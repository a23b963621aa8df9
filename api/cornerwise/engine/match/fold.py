"""The fold: what each event does to the state of a match. Nothing is ever refused."""

from __future__ import annotations

from typing import assert_never

from cornerwise.engine.match.closing import forfeited, match_abandoned, match_ended, set_ended
from cornerwise.engine.match.events import (
    CallShown,
    Disqualified,
    Entry,
    ExceptionallySubstituted,
    Expelled,
    Forfeited,
    LiberoReplaced,
    LineupCorrected,
    MatchAbandoned,
    MatchEnded,
    MatchOpened,
    PassGraded,
    PenaltyPointGiven,
    RallyReplayed,
    RallyWon,
    ReceptionFormationSeen,
    Retracted,
    ScoreCorrected,
    ServeNoted,
    ServerCorrected,
    ServerSeen,
    SetEnded,
    SetStarted,
    SidesChanged,
    Substituted,
    TimeOutTaken,
    WrongServerCalled,
)
from cornerwise.engine.match.libero import libero_replaced
from cornerwise.engine.match.lineup import lineup_corrected, server_corrected
from cornerwise.engine.match.opening import match_opened, rally_entered, set_entered, set_started
from cornerwise.engine.match.rally import rally_replayed, rally_won
from cornerwise.engine.match.scorer import penalty_point_given, score_corrected, time_out_taken
from cornerwise.engine.match.serve import call_shown, formation_seen, parts_noted, server_seen
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.substitution import exceptionally_substituted, sent_off, substituted
from cornerwise.engine.match.wrong_server import wrong_server_called


def evolve(state: MatchState, entry: Entry) -> MatchState:
    """Return the state after one entry. Entries come in game order, without what was retracted."""
    state = arrived(state, entry)
    event = entry.event
    match event:
        case MatchOpened():
            return match_opened(state, entry, event)
        case SetStarted():
            return set_started(state, entry, event)
        case CallShown():
            return call_shown(state, entry, event)
        case ServerSeen():
            return server_seen(state, entry, event)
        case ReceptionFormationSeen():
            return formation_seen(state, entry, event)
        case PassGraded() | ServeNoted():
            return parts_noted(state, entry, event.parts)
        case RallyWon():
            return rally_won(state, entry, event)
        case RallyReplayed():
            return rally_replayed(state, entry, event)
        case WrongServerCalled():
            return wrong_server_called(state, entry, event)
        case Substituted():
            return substituted(state, entry, event)
        case ExceptionallySubstituted():
            return exceptionally_substituted(state, entry, event)
        case LiberoReplaced():
            return libero_replaced(state, entry, event)
        case TimeOutTaken():
            return time_out_taken(state, entry, event)
        case PenaltyPointGiven():
            return penalty_point_given(state, event)
        case LineupCorrected():
            return lineup_corrected(state, event)
        case ScoreCorrected():
            return score_corrected(state, event)
        case ServerCorrected():
            return server_corrected(state, event)
        case SidesChanged():
            return state._replace(sides_changed=state.sides_changed + 1)
        case Expelled() | Disqualified():
            return sent_off(state, event)
        case SetEnded():
            return set_ended(state, entry, event)
        case MatchEnded():
            return match_ended(state, entry)
        case MatchAbandoned():
            return match_abandoned(state, entry)
        case Forfeited():
            return forfeited(state, entry, event)
        case Retracted():
            return state
        case _:
            assert_never(event)


def arrived(state: MatchState, entry: Entry) -> MatchState:
    """Return the state in the entry's set and rally; what was never started or never decided is noted."""
    event = entry.event
    match event:
        case MatchOpened() | SetStarted() | MatchEnded() | MatchAbandoned() | Retracted():
            return state
        case Forfeited(scope="match"):
            return state
        case _:
            pass
    if entry.set_number > state.set_number:
        state = set_entered(state, entry)
    if isinstance(event, (SetEnded, Forfeited)) or entry.rally_number <= state.rally_number:
        return state
    return rally_entered(state, entry)
