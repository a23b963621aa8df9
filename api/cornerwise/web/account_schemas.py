"""Bodies and answers about who is signed in, devices, tokens and the club."""

from __future__ import annotations

from marshmallow import fields

from cornerwise.service.accounts import ROLES
from cornerwise.service.devices import MOST_DEVICES, MOST_HELD, MOST_TOKENS
from cornerwise.service.passwords import LONGEST, SHORTEST
from cornerwise.store.tables import LONGEST_NAME

from .answers import Answer, choice, flag, part, parts, string, whole
from .fields import Choice, Strict, Text, Uuid7
from .match_parts import perhaps
from .match_schemas import event

MOST_OF_A_CLUB = 1_000_000


def name() -> Text:
    return Text(1, LONGEST_NAME, required=True)


class SignInRequest(Strict):
    """Either `once`, from a one-time link, or `name` and `password`; what the device is called in lists."""

    once = Text(1, 100)
    name = Text(1, LONGEST_NAME)
    password = Text(1, LONGEST)
    label = Text(1, LONGEST_NAME)


class PasswordRequest(Strict):
    """A new password; `current` is needed if there is one and she did not come by a link."""

    password = Text(SHORTEST, LONGEST, required=True)
    current = Text(1, LONGEST)


class JoinRequest(Strict):
    """A code, as typed, and what the device is called in lists."""

    code = Text(1, 20, required=True)
    label = Text(1, LONGEST_NAME)


class CodeRequest(Strict):
    """Whom to let in, and for what: a server view for one team, by its name as logged, or for one match."""

    role = Choice(ROLES, required=True)
    team = Text(1, LONGEST_NAME)
    match = Uuid7()


class TokenRequest(Strict):
    """A script's name and role."""

    label = name()
    role = Choice(ROLES[1:], required=True)


class ClubChange(Strict):
    """The club's new name."""

    name = name()


class ClubNameAnswer(Answer):
    """A club."""

    id = string()
    name = string()


class WhoAnswer(Answer):
    """Who is signed in here: a person, or a device without one."""

    club = part(ClubNameAnswer)
    name = string("of the person; null for a device that joined by a code", null=True)
    label = string("what the device is called")
    role = choice(ROLES)
    device_id = string(null=True)
    team = string("all it may see, if not null", null=True)
    match_id = string("all it may see, if not null", null=True)
    has_password = flag()


class SessionAnswer(Answer):
    """Who is signed in here, null for nobody.

    revoked : this device was signed in, and the coach has revoked it
    now_playing : for a server view, the match whose call it may ask for
    """

    who = perhaps(WhoAnswer)
    revoked = flag()
    now_playing = string(null=True)


class CodeAnswer(Answer):
    """A code that lets one device in, once, and the address that carries it."""

    code = string("eight characters of Crockford's Base 32")
    path = string("the page to open, after the address of this server")
    address = string("the same with the address by which this request came")
    expires_at = string("date and time, UTC")


class DeviceAnswer(Answer):
    """A device that is signed in, was let in, or was revoked."""

    id = string()
    label = string()
    role = choice(ROLES)
    team = string(null=True)
    match_id = string(null=True)
    person = string("who signed in on it", null=True)
    joined_by = string("who let it in", null=True)
    this = flag()
    created_at = string("date and time, UTC")
    seen_at = string("date and time, UTC, to the hour")
    expires_at = string("date and time, UTC; later with each visit")
    revoked_at = string("date and time, UTC", null=True)
    held = whole(0, MOST_HELD)


class DevicesAnswer(Answer):
    """The club's devices, the last to join first."""

    items = parts(DeviceAnswer, MOST_DEVICES)


class HeldMatchAnswer(Answer):
    """What a revoked device sent of one match."""

    match_id = string()
    events = fields.List(event(), required=True, metadata={"maxItems": MOST_HELD})


class HeldAnswer(Answer):
    """What a revoked device sent, match by match."""

    items = parts(HeldMatchAnswer, MOST_HELD)


class TakenAnswer(Answer):
    """What became of what was held for one match; `problem` says why some of it stays held."""

    match_id = string()
    accepted = whole(0, MOST_HELD)
    known = whole(0, MOST_HELD)
    refused = whole(0, MOST_HELD)
    problem = string(null=True)


class AcceptedAnswer(Answer):
    """What became of what was held, match by match."""

    items = parts(TakenAnswer, MOST_HELD)


class DiscardedAnswer(Answer):
    """How many events were discarded."""

    discarded = whole(0, MOST_HELD)


class TokenAnswer(Answer):
    """A script's token, without its secret."""

    id = string()
    label = string()
    role = choice(ROLES)
    created_at = string("date and time, UTC")
    seen_at = string("date and time, UTC, to the hour", null=True)


class NewTokenAnswer(TokenAnswer):
    """A new token, shown this once."""

    token = string()


class TokensAnswer(Answer):
    """The tokens of the club's scripts, the newest first."""

    items = parts(TokenAnswer, MOST_TOKENS)


class ClubAnswer(Answer):
    """A club, how much it has, and what deleting it means."""

    id = string()
    name = string()
    created_at = string("date and time, UTC")
    matches = whole(0, MOST_OF_A_CLUB)
    people = whole(0, MOST_OF_A_CLUB)
    devices = whole(0, MOST_OF_A_CLUB)
    deleting = string("what deleting it would mean")


class ClubRemovedAnswer(Answer):
    """What was deleted; whether its traces in the database's file are removed already."""

    id = string()
    text = string()
    traces_removed = flag()
