"""What a user is told when something cannot be done, though the question was a sound one."""

from __future__ import annotations


class CannotBeDone(Exception):
    """The reason, in a sentence. kind : what the app goes by, where it goes on by itself"""

    kind = "about:blank"


class NoSuchMatch(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such match")


class MatchDeleted(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("this match was deleted, with all its events")


class AnotherLog(CannotBeDone):
    """Whoever sends knows a log that this one does not go on from."""

    kind = "/problems/another_log"

    def __init__(self) -> None:
        super().__init__("the log here has another event at the known position: send all of yours again")


class IdTaken(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("this id belongs to another match: make a new one")


class NotLetIn(CannotBeDone):
    """Whoever it is, she is not let in; the reason does not tell what of it was wrong."""


class LoginTaken(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("somebody on this server signs in by this name already: choose another")


class NoSuchClub(CannotBeDone):
    """No club, or several, of a name that a host gave."""


class NoSuchDevice(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such device")


class NoSuchToken(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such token")


class TooMany(CannotBeDone):
    """A club has as many of something as it may have."""


class NoServe(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("no such serve of ours is to come: who serves is not known, or the set is over")


class NoSuchTeam(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such team")


class NoSuchPlayer(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such player")


class NoSuchOpponent(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such opponent")


class NoSuchFormation(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("no formation was entered for this position of their setter")
