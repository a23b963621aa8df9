"""What several answers about matches are made of."""

from __future__ import annotations

from typing import get_args

from marshmallow import Schema, fields

from cornerwise.engine.bridge.live import SHEET_LIBEROS
from cornerwise.engine.match.reading import LONGEST_LOG
from cornerwise.engine.match.terms import SIDES, RecordEnding
from cornerwise.engine.names import SYSTEMS

from .answers import (
    Answer,
    choice,
    flag,
    listed,
    part,
    string,
    whole,
)

MOST_POINTS = LONGEST_LOG + 1000  # every event a penalty point, upon a corrected score
MOST_NOTES = 2 * LONGEST_LOG


def perhaps(schema: type[Schema]) -> fields.Nested:
    return fields.Nested(schema, required=True, allow_none=True)


def shirt(*, null: bool = False) -> fields.Integer:
    return whole(0, 99, null=null)


def stands(*, null: bool = False) -> fields.Integer:
    return whole(1, 6, null=null)


def which(*, null: bool = False) -> fields.String:
    return choice(SIDES, null=null)


def tally(high: int = LONGEST_LOG, *, null: bool = False) -> fields.Integer:
    return whole(0, high, null=null)


def pair() -> fields.Nested:
    return part(PairAnswer)


class PairAnswer(Answer):
    """A count for each side."""

    us = tally(MOST_POINTS)
    them = tally(MOST_POINTS)


class NamesAnswer(Answer):
    """The teams' names."""

    us = string(null=True)
    them = string(null=True)


class NumbersAnswer(Answer):
    """A shirt number for each side."""

    us = shirt(null=True)
    them = shirt(null=True)


class RotationsAnswer(Answer):
    """How often each side has rotated, modulo 6."""

    us = whole(0, 5)
    them = whole(0, 5)


class PositionsAnswer(Answer):
    """Where each side's setter stands."""

    us = stands(null=True)
    them = stands(null=True)


class SetScoreAnswer(PairAnswer):
    """A set that is behind us."""

    set_number = whole(1, 9)
    winner = which(null=True)


class SheetAnswer(Answer):
    """A side as it started a set, in the form that `set_started` takes."""

    lineup = listed(shirt(null=True), 6, 6)
    liberos = listed(shirt(), SHEET_LIBEROS)
    setters = listed(shirt(), 6)
    setter_position = stands(null=True)
    system = choice(SYSTEMS)


class CourseAnswer(Answer):
    """How a rally was played from, and who won it."""

    rally_number = whole(1, 999)
    serving = which(null=True)
    server = shirt(null=True)
    points_before = pair()
    rotations = part(RotationsAnswer)
    setter_positions = part(PositionsAnswer)
    winner = which(null=True)
    ending = choice(get_args(RecordEnding), null=True)
    cancelled = flag()
