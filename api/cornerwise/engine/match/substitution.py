"""Substitutions: who goes out, who comes in, and whether the rules allow it (FIVB 15.6 to 15.8)."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwise.engine.match.events import (
    Disqualified,
    Entry,
    ExceptionallySubstituted,
    Expelled,
    Substituted,
    Substitution,
)
from cornerwise.engine.match.rotation import (
    in_order,
    is_libero,
    place_at,
    regular_place,
    settled,
    unknown_places,
    with_place,
)
from cornerwise.engine.match.state import MatchState, Team, with_contradiction, with_team, with_violation


@dataclass(frozen=True, slots=True)
class Exchange:
    """Two players change places in the order: `enters` for the regular player of `place`."""

    place: int
    enters: int


def substituted(state: MatchState, entry: Entry, event: Substituted) -> MatchState:
    """A substitution counts; it changes the order, and is judged, if it can be so."""
    team = state.teams.of(event.side)
    state = with_team(state, event.side, team._replace(substitutions=team.substitutions + 1))
    limit = state.profile.substitutions_per_set
    if limit is not None and team.substitutions >= limit:
        state = with_violation(state, entry, "too_many_substitutions", event.side, event.enters)
    return exchanged(state, entry, event)


def exceptionally_substituted(state: MatchState, entry: Entry, event: ExceptionallySubstituted) -> MatchState:
    """A substitution for injury is outside the limits; who left is out for the match (FIVB 15.7)."""
    team = state.teams.of(event.side)
    count = team.exceptional_substitutions + 1
    return exchanged(
        with_team(state, event.side, team._replace(exceptional_substitutions=count)), entry, event
    )


def exchanged(state: MatchState, entry: Entry, event: Substitution) -> MatchState:
    """Return the state with the order changed, unless the numbers contradict it."""
    team, side = state.teams.of(event.side), event.side
    liberos = [n for n in (event.enters, event.leaves) if n is not None and is_libero(team, n)]
    if liberos:
        return with_violation(state, entry, "libero_in_substitution", side, liberos[0])
    if in_order(team, event.enters):
        return with_contradiction(state, entry, "already_on_court", side, None, event.enters)
    state = may_enter(state, entry, event)
    state = leaver_looked_for(state, entry, event)
    place = place_of_leaver(team, event)
    if place is None:
        return state
    team = leaver_filled_in(team, place, event.leaves)
    exchange = Exchange(place, event.enters)
    if isinstance(event, Substituted):
        state = judged(state, entry, event, team, exchange)
    return with_team(state, side, carried_out(team, exchange, event))


def place_of_leaver(team: Team, event: Substitution) -> int | None:
    """Return the place in which a substitution happens, as far as it can be known."""
    regular = regular_place(team, event.leaves)
    if regular is not None:
        return regular
    if event.position is not None:
        return place_at(team, event.position)
    unknown = unknown_places(team)
    return unknown[0] if event.leaves is not None and len(unknown) == 1 else None


def leaver_looked_for(state: MatchState, entry: Entry, event: Substitution) -> MatchState:
    """A player who leaves without being on the court is a contradiction, if no unknown place may be hers."""
    team = state.teams.of(event.side)
    if event.leaves is None or regular_place(team, event.leaves) is not None:
        return state
    place = place_of_leaver(team, event)
    somewhere = unknown_places(team) if place is None else team.places[place].number is None
    if somewhere:
        return state
    return with_contradiction(state, entry, "not_on_court", event.side, None, event.leaves)


def leaver_filled_in(team: Team, place: int, leaves: int | None) -> Team:
    """Return the side with who leaves an unknown place written there: she was its regular player."""
    if leaves is None or team.places[place].number is not None:
        return team
    return with_place(team, place, settled(team.places[place], leaves))


def may_enter(state: MatchState, entry: Entry, event: Substitution) -> MatchState:
    """Players who were sent off (FIVB 15.8) or replaced exceptionally (15.7) may not enter."""
    team = state.teams.of(event.side)
    if event.enters in team.expelled or event.enters in team.disqualified:
        state = with_violation(state, entry, "sanctioned_player_enters", event.side, event.enters)
    if event.enters in team.injured:
        state = with_violation(state, entry, "injured_player_enters", event.side, event.enters)
    return state


def home(team: Team, number: int) -> int | None:
    """Return the place a player belongs to in this set: where she started, else where she first entered."""
    started = (i for i, place in enumerate(team.places) if place.starter == number)
    entered = (place for player, place in team.entered if player == number)
    return next(started, next(entered, None))


def judged(state: MatchState, entry: Entry, event: Substituted, team: Team, exchange: Exchange) -> MatchState:
    """Return the state with every limit on re-entry that this substitution breaks (FIVB 15.6.1, 15.6.2)."""
    side, enters, rule = event.side, exchange.enters, state.profile.re_entry
    place = team.places[exchange.place]
    if rule != "free" and home(team, enters) not in (None, exchange.place):
        state = with_violation(state, entry, "wrong_place", side, enters)
    if rule != "once":
        return state
    if any(enters == player for player, _ in team.entered):
        started = any(enters == p.starter for p in team.places)
        number = "15.6.1" if started else "15.6.2"
        state = with_violation(state, entry, "entered_twice", side, enters, number)
    if place.number is not None and place.number == place.starter and place.number in team.left:
        state = with_violation(state, entry, "left_twice", side, place.number)
    back = place.starter is not None and may_come_back(team, place.starter)
    if back and place.number is not None and place.starter not in (place.number, enters):
        state = with_violation(state, entry, "wrong_partner", side, enters)
    return state


def may_come_back(team: Team, number: int) -> bool:
    """Return whether a player who left may enter again: not after an injury or sent off (FIVB 15.7, 15.8)."""
    return number not in {*team.injured, *team.expelled, *team.disqualified}


def carried_out(team: Team, exchange: Exchange, event: Substitution) -> Team:
    """Return the side after an exchange; the libero who stands in the place stays there."""
    place = team.places[exchange.place]
    known = any(exchange.enters == player for player, _ in team.entered)
    exceptional = isinstance(event, ExceptionallySubstituted)
    team = team._replace(
        entered=team.entered if known else (*team.entered, (exchange.enters, exchange.place)),
        left=with_number(team.left, place.number),
        injured=with_number(team.injured, place.number) if exceptional else team.injured,
    )
    entered = replace(place, number=exchange.enters, inferred=False, substituted=True)
    return with_place(team, exchange.place, entered)


def sent_off(state: MatchState, event: Expelled | Disqualified) -> MatchState:
    """Expelled for the set or disqualified for the match: written down, checked when she plays or enters."""
    team = state.teams.of(event.side)
    if isinstance(event, Expelled):
        team = team._replace(expelled=with_number(team.expelled, event.number))
    else:
        team = team._replace(disqualified=with_number(team.disqualified, event.number))
    return with_team(state, event.side, team)


def with_number(numbers: tuple[int, ...], number: int | None) -> tuple[int, ...]:
    """Return a list of players with one more, if she is known and not in it."""
    return numbers if number is None or number in numbers else (*numbers, number)
