"""What is said of a match going on: its state, what broke a rule, what to serve next."""

from __future__ import annotations

from typing import get_args

from marshmallow import fields

from cornerwise.engine.bridge.live import SERVES_AHEAD
from cornerwise.engine.match.notes import ContradictionCode, ViolationCode
from cornerwise.engine.match.profiles import PROFILES, OverlapAppliesTo, ReEntry, WrongServerRule
from cornerwise.engine.match.reading import LONGEST_LOG
from cornerwise.engine.match.report import LAST_RALLIES
from cornerwise.engine.match.score import Status
from cornerwise.engine.match.terms import FIRST_BALLS, SERVE_ERRORS
from cornerwise.engine.names import FORMATIONS, LEVELS, SERVE_KINDS, SYSTEMS

from .answers import (
    Answer,
    CallsAnswer,
    PlaceAnswer,
    chance,
    choice,
    flag,
    listed,
    part,
    parts,
    real,
    string,
    whole,
)
from .match_parts import (
    MOST_NOTES,
    CourseAnswer,
    NamesAnswer,
    NumbersAnswer,
    SetScoreAnswer,
    SheetAnswer,
    pair,
    perhaps,
    shirt,
    stands,
    tally,
    which,
)


class ProfileAnswer(Answer):
    """The rules that the match is played by. `verify`: check them in your competition's rule book."""

    name = choice(tuple(PROFILES))
    sets_to_win = whole(1, 5)
    points = whole(1, 99)
    deciding_points = whole(1, 99)
    lead = whole(1, 9)
    cap = whole(1, 199, null=True)
    deciding_cap = whole(1, 199, null=True)
    starting_points = whole(0, 50)
    deciding_starting_points = whole(0, 50)
    substitutions_per_set = shirt(null=True)
    re_entry = choice(get_args(ReEntry))
    time_outs_per_set = whole(0, 9)
    time_out_s = whole(10, 300)
    liberos = whole(0, 4)
    libero_may_serve = flag()
    libero_exchange_to_serve = flag()
    seconds_to_serve = whole(1, 30)
    serve_again = flag()
    side_change_points = whole(1, 99, null=True)
    overlap_applies_to = choice(get_args(OverlapAppliesTo))
    wrong_server = choice(get_args(WrongServerRule))
    verify = flag()


class ServesAnswer(Answer):
    """Who serves."""

    side = which()
    number = shirt(null=True)
    inferred = flag()
    libero = flag()


class TurnAnswer(Answer):
    """Serves and points of the present serving turn."""

    serves = tally()
    points = tally()


class StandingAnswer(Answer):
    """Who stands in a position."""

    position = stands()
    number = shirt(null=True)
    inferred = flag()
    libero = flag()
    libero_for = shirt(null=True)
    setter = flag()


class SeenPasserAnswer(PlaceAnswer):
    """A passer as she was seen."""

    position = stands(null=True)
    number = shirt(null=True)


class FormationAnswer(Answer):
    """A reception formation as it was seen."""

    formation = choice(FORMATIONS)
    passers = parts(SeenPasserAnswer, 6)


class SideAnswer(Answer):
    """One side of the net."""

    lineup = parts(StandingAnswer, 6, 6)
    rotation = whole(0, 5)
    started = listed(shirt(null=True), 6, 6)
    setter_position = stands(null=True)
    setter_positions = listed(stands(), 6)
    setter_row = choice(("front", "back"), null=True)
    setter_inferred = flag()
    system = choice(SYSTEMS)
    liberos = listed(shirt(), 100)
    setters = listed(shirt(), 6)
    substitutions_used = tally()
    substitutions_left = tally(null=True)
    exceptional_substitutions = tally()
    time_outs_used = tally()
    time_outs_left = tally()
    libero_must_leave = flag()
    expelled = listed(shirt(), LONGEST_LOG)
    disqualified = listed(shirt(), LONGEST_LOG)
    formation = perhaps(FormationAnswer)


class SidesAnswer(Answer):
    """Both sides of the net."""

    us = part(SideAnswer)
    them = part(SideAnswer)


class RunAnswer(Answer):
    """Rallies won in a row."""

    side = which(null=True)
    points = tally()


class MatchSituationAnswer(Answer):
    """What makes this moment a special one."""

    set_point = listed(which(), 2)
    match_point = listed(which(), 2)
    after_time_out = listed(which(), 2)
    service_errors_in_a_row = tally()
    run = part(RunAnswer)


class CalledAnswer(Answer):
    """The call that was shown."""

    spot = part(PlaceAnswer)
    target = part(PlaceAnswer)
    kind = choice(SERVE_KINDS)
    speed_m_s = real(null=True, minimum=0)
    keep = chance(null=True)
    p_error = chance(null=True)
    p_ace = chance(null=True)
    grades = fields.List(chance(), required=True, allow_none=True, metadata={"minItems": 4, "maxItems": 4})


class RecordAnswer(CourseAnswer):
    """All that was logged of a rally."""

    server_place = whole(0, 5, null=True)
    called = perhaps(CalledAnswer)
    grade = whole(0, 3, null=True)
    error = choice(SERVE_ERRORS, null=True)
    first_ball = choice(FIRST_BALLS, null=True)
    passer = shirt(null=True)
    landing = perhaps(PlaceAnswer)
    spot = perhaps(PlaceAnswer)
    kind = choice(SERVE_KINDS, null=True)
    speed_m_s = real(null=True, minimum=0)
    formation = perhaps(FormationAnswer)
    events = listed(fields.String(), LONGEST_LOG)


class StateAnswer(Answer):
    """A match as its log says."""

    status = choice(get_args(Status))
    profile = part(ProfileAnswer)
    teams = part(NamesAnswer)
    level = choice(LEVELS, null=True)
    set_number = whole(0, 9)
    rally_number = whole(0, 1000)
    deciding_set = flag()
    points = pair()
    sets = pair()
    set_scores = parts(SetScoreAnswer, 9)
    set_winner = which(null=True)
    winner = which(null=True)
    serving = which(null=True)
    server = perhaps(ServesAnswer)
    next_server = part(NumbersAnswer)
    serving_turn = part(TurnAnswer)
    seconds_to_serve = whole(1, 30)
    time_out_s = whole(10, 300)
    side_change_due = flag()
    sides_changed = tally()
    sides = part(SidesAnswer)
    situation = part(MatchSituationAnswer)
    rally = perhaps(RecordAnswer)
    last_rallies = parts(RecordAnswer, LAST_RALLIES)


class NoteAnswer(Answer):
    """Something to look at, with the event that shows it."""

    event_id = string()
    side = which(null=True)
    set_number = whole(0, 9)
    rally_number = whole(0, 999)
    text = string()


class ViolationAnswer(NoteAnswer):
    """A breach of the rules; the log takes it, because the referee decides."""

    code = choice(get_args(ViolationCode))
    rule = string()
    verify = flag()
    number = shirt(null=True)


class ContradictionAnswer(NoteAnswer):
    """Two things in the log that cannot both be so."""

    code = choice(get_args(ContradictionCode))
    expected = fields.Raw(required=True, allow_none=True)
    seen = fields.Raw(required=True, allow_none=True)


class ServeToComeAnswer(Answer):
    """One of our next serves, if every rally before it is won by the receivers."""

    side_outs = whole(0, 2 * SERVES_AHEAD)
    set_number = whole(1, 9)
    rally_number = whole(1, 1000)
    points = pair()
    sets = pair()
    server = part(ServesAnswer)
    setter_position = stands(null=True)
    setter_row = choice(("front", "back"), null=True)
    setter_inferred = flag()


class ComingAnswer(ServeToComeAnswer):
    """One of our next serves, with what to ask for its call; null while their setter is not known."""

    request = fields.Dict(
        required=True, allow_none=True, metadata={"description": "a request as POST /calls takes it"}
    )


class MayReplaceAnswer(Answer):
    """For each side, for whom its libero may come in now, who is likeliest first."""

    us = listed(shirt(), 3)
    them = listed(shirt(), 3)


class SheetsAnswer(Answer):
    """Both sides as they started this set."""

    us = part(SheetAnswer)
    them = part(SheetAnswer)


class ReplayAnswer(Answer):
    """What a log says. `next_state`: after the next side-out; `coming`: our next serves.

    `first_serving_next`: who serves first in the next set, null where the toss says.
    """

    state = part(StateAnswer)
    next_state = perhaps(StateAnswer)
    violations = parts(ViolationAnswer, MOST_NOTES)
    contradictions = parts(ContradictionAnswer, MOST_NOTES)
    coming = parts(ComingAnswer, SERVES_AHEAD)
    libero_may_replace = part(MayReplaceAnswer)
    first_serving_next = which(null=True)
    sheets = part(SheetsAnswer)


class MatchStateAnswer(ReplayAnswer):
    """What a match's log says, up to a position."""

    position = tally()


class MadeForAnswer(ServeToComeAnswer):
    """The serve that a call was made for, and the position of the log it was read from."""

    position = tally()


class MatchCallAnswer(CallsAnswer):
    """The call for one of our next serves, in the team's own signals."""

    made_for = part(MadeForAnswer)
