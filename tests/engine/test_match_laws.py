"""Laws of the fold, on random logs, legal and illegal: nothing here is about one rule of play.

Each law holds for every log: undoing equals never having happened, parts equal the whole, posting
twice equals once, the net has two equal sides, six places hold six players.
"""

from __future__ import annotations

import json
import random
from dataclasses import replace
from functools import reduce

import pytest
from cornerwise.engine.court import Point
from cornerwise.engine.match import carried_on, format_entry, parse_entry, replay, report, snapshot
from cornerwise.engine.match import events as ev
from cornerwise.engine.match.logbook import entry_id, logged
from cornerwise.engine.match.profiles import PROFILES, RuleProfile
from cornerwise.engine.match.rotation import setter_position
from cornerwise.engine.match.row import Row
from cornerwise.engine.match.score import status
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.terms import SIDES, Both, other
from cornerwise.engine.names import SYSTEMS
from hypothesis import given, settings
from hypothesis import strategies as st

sides = st.sampled_from(SIDES)
numbers = st.integers(0, 14)
positions = st.integers(1, 6)
maybe_number = st.none() | numbers
lineups = st.lists(numbers, min_size=6, max_size=6, unique=True).map(tuple)
half_lineups = st.builds(
    lambda lineup, known: tuple(n if k else None for n, k in zip(lineup, known, strict=True)),
    lineups,
    st.lists(st.booleans(), min_size=6, max_size=6),
)
short_sets = replace(PROFILES["custom"], points=5, sets_to_win=2, cap=6)
profiles = st.sampled_from([*PROFILES.values(), short_sets])
few_numbers = st.lists(numbers, max_size=2, unique=True).map(tuple)


def sheet(lineup: ev.Lineup, liberos: tuple[int, ...], setters: tuple[int, ...] | None) -> ev.TeamSheet:
    liberos = tuple(number for number in liberos if number not in lineup)
    return ev.TeamSheet(lineup, liberos, setters)


sheets = st.builds(sheet, lineups | half_lineups, few_numbers, st.none() | few_numbers)
parts = st.builds(
    ev.Parts,
    grade=st.none() | st.integers(0, 3),
    error=st.none() | st.sampled_from(["net", "long"]),
    passer=maybe_number,
    landing=st.none() | st.just(Point(1.0, 7.0)),
)
corrections = st.builds(
    ev.LineupCorrected,
    sides,
    lineup=st.none() | half_lineups,
    rotate=st.none() | st.integers(-5, 5),
    setter_position=st.none() | positions,
    setters=st.none() | few_numbers,
    liberos=st.none() | few_numbers,
    system=st.none() | st.sampled_from(SYSTEMS),
)
exchange = {"enters": numbers, "leaves": maybe_number, "position": st.none() | positions}
happenings = st.one_of(
    st.builds(ev.RallyWon, sides, st.sampled_from([None, "ace", "service_error"]), parts),
    st.builds(ev.RallyWon, sides),
    st.builds(ev.RallyWon, sides),
    st.builds(ev.Substituted, sides, **exchange),
    st.builds(ev.LiberoReplaced, sides, **exchange),
    st.builds(ev.LiberoReplaced, sides, leaves=numbers),
    st.builds(ev.ServerSeen, sides, numbers),
    st.builds(ev.SetStarted, sides, sheets, sheets),
    st.builds(ev.PassGraded, parts),
    st.builds(
        ev.WrongServerCalled, sides, st.sampled_from(["at_service", "after_rally"]), st.none() | positions
    ),
    st.builds(ev.PenaltyPointGiven, sides, st.booleans()),
    corrections,
    st.one_of(
        st.builds(ev.ExceptionallySubstituted, sides, **exchange),
        st.builds(ev.ServerCorrected, sides, maybe_number),
        st.builds(ev.RallyReplayed),
        st.builds(ev.MatchOpened, profiles, st.sampled_from(["Harbour", "Hill"])),
        st.builds(ev.CallShown, st.just(Point(0.0, -9.2)), st.just(Point(0.0, 7.0)), st.just("jump_float")),
        st.builds(ev.ReceptionFormationSeen, sides, st.sampled_from(["two", "three"])),
        st.builds(ev.TimeOutTaken, sides),
        st.builds(ev.ScoreCorrected, st.integers(0, 30), st.integers(0, 30)),
        st.builds(ev.SidesChanged),
        st.builds(ev.Expelled, sides, maybe_number),
        st.builds(ev.Disqualified, sides, maybe_number),
        st.builds(ev.SetEnded, st.none() | sides),
        st.builds(ev.MatchEnded),
        st.builds(ev.MatchAbandoned),
        st.builds(ev.Forfeited, sides, st.just("match"), st.sampled_from(["default", "incomplete"])),
        st.builds(ev.Forfeited, sides, st.just("set"), st.just("incomplete")),
    ),
)


@st.composite
def logs(draw: st.DrawFn) -> tuple[ev.Entry, ...]:
    """A log of two devices with late entries and retractions, as it might lie on the server."""
    rng = draw(st.randoms(use_true_random=False))
    if draw(st.booleans()):
        first = draw(st.builds(ev.SetStarted, sides, sheets, sheets))
        length = draw(st.integers(0, 30))
        events = [first, *draw(st.lists(happenings, min_size=length, max_size=length))]
    else:
        events = played(rng, draw(st.integers(0, 150)))
    log = [
        replace(entry, device=rng.choice(["phone", "bench"]), set_number=min(entry.set_number, 9))
        for entry in logged(*events)
    ]
    for _ in range(draw(st.integers(0, 3))):
        shifted = rng.randrange(len(log))
        log[shifted] = replace(log[shifted], rally_number=rng.randint(1, len(log)))
    for _ in range(draw(st.integers(0, 4))):
        log.append(retraction(log, entry_id(rng.randrange(len(log) + 3))))
    return tuple(log)


STARTERS, BENCH, LIBEROS = (1, 2, 3, 4, 5, 6), (7, 8, 9), (11, 12)


def played(rng: random.Random, length: int) -> list[ev.Event]:
    """Events as a bench might log them: known line-ups, mostly rallies, often against the rules."""
    sheet = ev.TeamSheet(STARTERS, LIBEROS, (1,))
    events: list[ev.Event] = [ev.SetStarted(rng.choice(SIDES), sheet, sheet)]
    for _ in range(length):
        side = rng.choice(SIDES)
        player, reserve = rng.choice(STARTERS), rng.choice((*STARTERS, *BENCH))
        libero = rng.choice(LIBEROS)
        exchanges: list[ev.Event] = [
            ev.Substituted(side, reserve, rng.choice((player, *BENCH))),
            ev.ExceptionallySubstituted(side, reserve, player),
            ev.LiberoReplaced(side, libero, player),
            ev.LiberoReplaced(side, rng.choice((None, player, reserve, 12)), 11),
        ]
        decisions: list[ev.Event] = [
            ev.TimeOutTaken(side),
            ev.Expelled(side, player),
            ev.WrongServerCalled(side, rng.choice(("at_service", "after_rally")), rng.choice((None, 1, 5))),
            ev.PenaltyPointGiven(side, rng.random() < 0.5),
            ev.ServerSeen(side, player),
            ev.PassGraded(ev.Parts(grade=rng.randint(0, 3))),
            ev.SetStarted(side, sheet, sheet),
            ev.RallyReplayed(),
        ]
        group = rng.choices(([ev.RallyWon(side)], exchanges, decisions), (4, 4, 1))[0]
        events += [event for event in (rng.choice(group),) if says_something_of(event)]
    return events


def retraction(log: list[ev.Entry] | tuple[ev.Entry, ...], event_id: str) -> ev.Entry:
    """The entry with which a device takes back an event."""
    return ev.Entry(entry_id(len(log)), "phone", len(log), 1, 1, ev.Retracted(event_id))


def numbers_of(state: MatchState, side: ev.Side) -> list[int]:
    """Every shirt number that the order of a side holds, regular players and liberos."""
    places = state.teams.of(side).places
    return [n for place in places for n in (place.number, place.libero) if n is not None]


@given(logs(), profiles)
@settings(max_examples=400, deadline=None)
def test_any_log_folds_and_keeps_six_distinct_players_a_side(
    log: tuple[ev.Entry, ...], profile: RuleProfile
) -> None:
    state = replay(log, profile)
    for side in SIDES:
        assert len(state.teams.of(side).places) == 6
        players = numbers_of(state, side)
        assert len(players) == len(set(players))
        assert not set(state.teams.of(side).liberos) & {p.number for p in state.teams.of(side).places}
    assert min(state.points.us, state.points.them) >= 0
    json.dumps(report(state), allow_nan=False)


@given(logs(), st.data())
@settings(max_examples=200, deadline=None)
def test_a_retracted_event_never_happened(log: tuple[ev.Entry, ...], data: st.DataObject) -> None:
    index = data.draw(st.integers(0, len(log) - 1))
    undone = replay([*log, retraction(log, log[index].id)])
    never = replay([*log[:index], *log[index + 1 :]])
    if any(isinstance(e.event, ev.Retracted) and e.event.event_id == log[index].id for e in log):
        undone, never = (s._replace(contradictions=known(s)) for s in (undone, never))
    assert undone == never


def known(state: MatchState) -> tuple[object, ...]:
    """The contradictions but for retractions of what is not in the log."""
    return tuple(note for note in state.contradictions if note.code != "unknown_event")


@given(logs(), st.data())
@settings(max_examples=100, deadline=None)
def test_an_undone_undo_is_as_if_nothing_was_undone(log: tuple[ev.Entry, ...], data: st.DataObject) -> None:
    target = data.draw(st.sampled_from(log))
    undo = retraction(log, target.id)
    redo = retraction([*log, undo], undo.id)
    assert replay([*log, undo, redo]) == replay(log)


@given(logs(), st.data(), profiles)
@settings(max_examples=200, deadline=None)
def test_a_log_in_parts_equals_the_log_at_once(
    log: tuple[ev.Entry, ...], data: st.DataObject, profile: RuleProfile
) -> None:
    cut = data.draw(st.integers(0, len(log)))
    whole = snapshot(log, profile)
    continued = carried_on(snapshot(log[:cut], profile), log[cut:])
    assert continued in (None, whole)


@given(st.lists(happenings, max_size=30), st.data())
@settings(max_examples=100, deadline=None)
def test_a_log_written_as_it_happened_can_always_be_carried_on(
    events: list[ev.Event], data: st.DataObject
) -> None:
    log = logged(ev.SetStarted("us"), *events)
    ends = (ev.SetEnded, ev.MatchEnded, ev.MatchAbandoned, ev.Forfeited)
    order = [entry for entry in log if not isinstance(entry.event, ends)]
    order.sort(key=lambda entry: (entry.set_number, entry.rally_number))
    cut = data.draw(st.integers(0, len(order)))
    starts = [i for i, e in enumerate(order[:cut], 1) if isinstance(e.event, (ev.RallyWon, ev.RallyReplayed))]
    cut = max(starts, default=0)
    continued = carried_on(snapshot(order[:cut]), order[cut:])
    assert continued is not None
    assert continued == snapshot(order)


@given(st.lists(st.integers(), max_size=300))
@settings(max_examples=50, deadline=None)
def test_a_row_holds_what_was_added_in_its_order(entries: list[int]) -> None:
    empty: Row[int] = Row()
    assert list(reduce(Row.plus, entries, empty)) == entries


@given(logs())
@settings(max_examples=100, deadline=None)
def test_posting_a_log_twice_equals_posting_it_once(log: tuple[ev.Entry, ...]) -> None:
    assert replay([*log, *log]) == replay(log)


@given(logs())
@settings(max_examples=200, deadline=None)
def test_every_entry_survives_being_written_and_read(log: tuple[ev.Entry, ...]) -> None:
    for entry in filter(says_something, log):
        assert parse_entry(json.loads(json.dumps(format_entry(entry)))) == entry


def says_something(entry: ev.Entry) -> bool:
    return says_something_of(entry.event)


def says_something_of(event: ev.Event) -> bool:
    """Whether a random event is one that a device could have written."""
    match event:
        case ev.PassGraded(parts):
            return parts.grade is not None
        case ev.LineupCorrected(side):
            return event != ev.LineupCorrected(side)
        case ev.Substituted() | ev.ExceptionallySubstituted() | ev.LiberoReplaced():
            return event.enters != event.leaves
        case _:
            return True


def mirrored_event(event: ev.Event) -> ev.Event:
    """The same event with us and them exchanged."""
    changes: dict[str, object] = {}
    for name in ("side", "winner", "serving_first", "to"):
        value = getattr(event, name, None)
        if value is not None:
            changes[name] = other(value)
    if isinstance(event, (ev.SetStarted, ev.ScoreCorrected)):
        changes |= {"us": event.them, "them": event.us}
    return replace(event, **changes) if changes else event


@given(logs(), profiles)
@settings(max_examples=200, deadline=None)
def test_the_rules_treat_both_sides_alike(log: tuple[ev.Entry, ...], profile: RuleProfile) -> None:
    state = replay(log, profile)
    seen = replay([replace(entry, event=mirrored_event(entry.event)) for entry in log], profile)
    assert seen.points == Both(state.points.them, state.points.us)
    assert seen.teams.us == state.teams.them
    assert seen.teams.them == state.teams.us
    assert seen.turn == state.turn
    assert status(seen) == status(state)
    assert seen.serving == (None if state.serving is None else other(state.serving))
    codes = sorted(violation.code for violation in state.violations)
    assert sorted(violation.code for violation in seen.violations) == codes


@given(st.lists(sides, max_size=60), sides, lineups, lineups)
@settings(max_examples=100, deadline=None)
def test_rotation_follows_from_the_number_of_side_outs(
    winners: list[ev.Side], first: ev.Side, ours: ev.Lineup, theirs: ev.Lineup
) -> None:
    """FIVB 12.2.2.2: a side has rotated as often as it won a rally that the other side served."""
    state = replay(
        logged(ev.SetStarted(first, ev.TeamSheet(ours), ev.TeamSheet(theirs)), *map(ev.RallyWon, winners))
    )
    served = [first, *winners]
    for side, lineup in (("us", ours), ("them", theirs)):
        gained = sum(won == side != serving for serving, won in zip(served, winners, strict=False))
        places = [entry["number"] for entry in report(state)["state"]["sides"][side]["lineup"]]
        assert places == [lineup[(gained + i) % 6] for i in range(6)]
        assert state.points.of(side) == winners.count(side)
    assert state.serving == served[-1]


@given(st.lists(sides, max_size=40), positions, sides)
@settings(max_examples=100, deadline=None)
def test_their_setter_is_followed_with_no_number_known(
    winners: list[ev.Side], start: int, first: ev.Side
) -> None:
    """One zone tapped is enough: the setter goes one position down for each side-out of theirs, 1 to 6."""
    setter = ev.TeamSheet(setter_position=start)
    state = replay(logged(ev.SetStarted(first, them=setter), *map(ev.RallyWon, winners)))
    served = [first, *winners]
    gained = sum(won == "them" != serving for serving, won in zip(served, winners, strict=False))
    assert setter_position(state.teams.them) == (start - 1 - gained) % 6 + 1


@given(st.permutations(["grade", "error", "first_ball", "passer", "landing", "spot"]), st.booleans())
@settings(max_examples=50, deadline=None)
def test_parts_of_a_serve_come_in_any_order_before_or_after_its_result(names: list[str], late: bool) -> None:
    values = {
        "grade": 2,
        "error": "foot",
        "first_ball": "attack",
        "passer": 4,
        "landing": Point(1.0, 7.0),
        "spot": Point(4.4, -9.2),
    }
    notes = [ev.ServeNoted(ev.Parts(**{name: values[name]})) for name in names]
    start, won = ev.SetStarted("us"), ev.RallyWon("them")
    log = logged(start, won, *notes) if late else logged(start, *notes, won)
    log = [replace(entry, rally_number=1) for entry in log]
    assert replay(log).rallies[0].parts == ev.Parts(**values)


@given(logs(), profiles)
@settings(max_examples=150, deadline=None)
def test_the_next_state_is_the_state_once_the_receivers_have_won(
    log: tuple[ev.Entry, ...], profile: RuleProfile
) -> None:
    state = replay(log, profile)
    following = report(state)["next_state"]
    if state.serving is None or status(state) != "in_play":
        assert following is None
        return
    won = ev.Entry(
        entry_id(10**6),
        "phone",
        10**6,
        state.set_number,
        state.rally_number,
        ev.RallyWon(other(state.serving)),
    )
    after = report(replay([*log, won], profile))["state"]
    for name in (
        "points",
        "serving",
        "server",
        "next_server",
        "sides",
        "serving_turn",
        "situation",
        "status",
    ):
        assert following[name] == after[name], name


@pytest.mark.parametrize("points", [2, 3, 4])
def test_as_many_rally_sequences_win_a_set_as_combinations_say(points: int) -> None:
    """A set to n with a lead of two is won n to k, k up to n - 2, in C(n - 1 + k, k) ways.

    Source: elementary counting; the last rally is the winner's, the k of the loser lie anywhere before.
    The numbers below are rows of Pascal's triangle.
    """
    expected = {2: [1], 3: [1, 3], 4: [1, 4, 10]}[points]
    profile = replace(PROFILES["custom"], points=points)
    ways = dict.fromkeys(range(points - 1), 0)
    waiting: list[list[ev.Side]] = [[]]
    while waiting:
        winners = waiting.pop()
        state = replay(logged(ev.SetStarted("us"), *map(ev.RallyWon, winners)), profile)
        if status(state) == "set_over":
            if state.points.us > state.points.them:
                ways[state.points.them] += 1
        elif len(winners) < 2 * points - 2:
            waiting += [[*winners, side] for side in SIDES]
    assert list(ways.values()) == expected
