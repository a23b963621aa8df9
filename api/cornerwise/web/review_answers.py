"""What a review looks like: rows of counts, and the course of each set."""

from __future__ import annotations

from cornerwise.engine.court import DEPTHS, SPOT_NAMES
from cornerwise.engine.review.serves import SERVED

from .answers import (
    Answer,
    chance,
    choice,
    part,
    parts,
    real,
    string,
    whole,
)
from .match_parts import (
    CourseAnswer,
    pair,
    perhaps,
    shirt,
    stands,
    tally,
    which,
)


class ShareAnswer(Answer):
    """A share, and what it rests on; null of none."""

    count = tally()
    of = tally()
    share = chance(null=True)


class MeanAnswer(Answer):
    """A mean, and how many it rests on; null of none."""

    mean = real(null=True, minimum=0)
    of = tally()


class ErrorsAnswer(Answer):
    """Missed serves by kind."""

    net = tally()
    long = tally()
    wide = tally()
    foot = tally()
    unknown = tally()


class RowAnswer(Answer):
    """What a group of serves came to. Null where a serving turn may lie in several groups."""

    serves = part(ShareAnswer)
    errors = part(ShareAnswer)
    errors_by_kind = part(ErrorsAnswer)
    aces = part(ShareAnswer)
    won = part(ShareAnswer)
    pass_grade = part(MeanAnswer)
    points_per_turn = perhaps(MeanAnswer)
    longest_run = tally(null=True)


class ServerRowAnswer(RowAnswer):
    """One server's serves."""

    number = shirt(null=True)


class RotationRowAnswer(RowAnswer):
    """Serves with the setter in one place."""

    setter_position = stands(null=True)


class SpotRowAnswer(RowAnswer):
    """Serves from one spot: as logged, else as called."""

    spot = choice(SPOT_NAMES, null=True)


class TargetRowAnswer(RowAnswer):
    """Serves to one target: as called, else where they landed."""

    zone = stands(null=True)
    depth = choice(DEPTHS, null=True)


class SpotAndTargetRowAnswer(SpotRowAnswer, TargetRowAnswer):
    """Serves from one spot to one target."""


class CalledRowAnswer(RowAnswer):
    """Serves by how they were served against the call."""

    served = choice(SERVED)


class PasserRowAnswer(Answer):
    """What one receiver did with the serves she passed."""

    number = shirt()
    pass_grade = part(MeanAnswer)


class SetCourseAnswer(Answer):
    """The course of a set."""

    set_number = whole(1, 9)
    points = pair()
    winner = which(null=True)
    rallies = parts(CourseAnswer, 1000)


class LeftOutAnswer(Answer):
    """Rallies that count for nothing here."""

    replayed = tally()
    wrong_server = tally()
    cancelled = tally()
    undecided = tally()


class ReviewAnswer(Answer):
    """What a side's serves came to. Rotations go by their setter's place."""

    side = which()
    set_number = whole(1, 9, null=True)
    text = string("one sentence of what stands out, null while there are too few serves", null=True)
    all = part(RowAnswer)
    by_server = parts(ServerRowAnswer, 101)
    by_our_rotation = parts(RotationRowAnswer, 7)
    by_their_rotation = parts(RotationRowAnswer, 7)
    by_spot = parts(SpotRowAnswer, 6)
    by_target = parts(TargetRowAnswer, 19)
    by_spot_and_target = parts(SpotAndTargetRowAnswer, 6 * 19)
    called = parts(CalledRowAnswer, len(SERVED), len(SERVED))
    by_passer = parts(PasserRowAnswer, 100)
    not_counted = part(LeftOutAnswer)
    sets = parts(SetCourseAnswer, 9)


class MatchReviewAnswer(ReviewAnswer):
    """What a side's serves came to, by a match's log up to a position."""

    position = tally()


class ServesTableAnswer(Answer):
    """Our serves as a table: comma-separated, the first line names the columns."""

    text = string()
