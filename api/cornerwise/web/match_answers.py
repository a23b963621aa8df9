"""What the answers about matches and their logs look like, member by member."""

from __future__ import annotations

from typing import get_args

from marshmallow import fields

from cornerwise.engine.match.reading import LONGEST_LOG
from cornerwise.engine.match.score import Status
from cornerwise.engine.names import LEVELS
from cornerwise.service.matches import MOST_OPPONENTS

from .answers import (
    Answer,
    SignalsAnswer,
    choice,
    flag,
    part,
    parts,
    string,
    whole,
)
from .match_parts import (
    SetScoreAnswer,
    SheetAnswer,
    pair,
    tally,
    which,
)
from .match_schemas import LARGEST_BATCH, LARGEST_PAGE, MATCHES_A_PAGE, event
from .problem import FieldError


class PositionedAnswer(Answer):
    """An event's id, and its position in the match."""

    id = string()
    position = whole(1, LONGEST_LOG)


class RefusedEventAnswer(Answer):
    """An event that was refused: which of the batch, and why."""

    index = whole(0, LARGEST_BATCH - 1)
    id = string("as given, null if that was no text", null=True)
    error = part(FieldError)


class PostedAnswer(Answer):
    """What became of a batch, event by event; a repeated id is answered once."""

    accepted = parts(PositionedAnswer, LARGEST_BATCH)
    known = parts(PositionedAnswer, LARGEST_BATCH)
    refused = parts(RefusedEventAnswer, LARGEST_BATCH)
    position = tally()


class LoggedAnswer(Answer):
    """An event and its position."""

    position = whole(1, LONGEST_LOG)
    event = event(required=True)


class EventsAnswer(Answer):
    """A page of a match's log, oldest first. The last position is where to go on.

    A reader who has another event at `after` than `after_id` has read another log: that of a server which was
    restored from a backup since, and lacks what was logged after it.
    """

    items = parts(LoggedAnswer, LARGEST_PAGE)
    more = flag()
    after_id = string("of the event at the position `after`, null if none is there", null=True)


class MatchAnswer(Answer):
    """A match, and where it stands."""

    id = string()
    name = string(null=True)
    demo = flag()
    us = string("our team's name, as logged", null=True)
    them = string(null=True)
    level = choice(LEVELS, null=True)
    status = choice(get_args(Status))
    winner = which(null=True)
    set_number = whole(0, 9)
    sets = pair()
    points = pair()
    set_scores = parts(SetScoreAnswer, 9)
    position = tally()
    created_at = string("date and time, UTC")
    changed_at = string("date and time, UTC")
    deleting = string("what deleting it would mean")


class MatchesAnswer(Answer):
    """Matches, newest first; `next` is the `before` of the next page."""

    items = parts(MatchAnswer, MATCHES_A_PAGE)
    next = string(null=True)


class MatchDetailAnswer(MatchAnswer):
    """A match, with the code of our team's hands."""

    signals = part(SignalsAnswer)


class RemovedAnswer(Answer):
    """What was deleted."""

    id = string()
    events_removed = tally()
    text = string()


class OpponentAnswer(Answer):
    """An opponent, as it started its last set against us."""

    name = string()
    match_id = string()
    level = choice(LEVELS, null=True)
    sheet = part(SheetAnswer)


class OpponentsAnswer(Answer):
    """Opponents met before, the last first."""

    items = parts(OpponentAnswer, MOST_OPPONENTS)


class LogAnswer(Answer):
    """A match with its whole log."""

    match = part(MatchDetailAnswer)
    events = fields.List(event(), required=True, metadata={"maxItems": LONGEST_LOG})
