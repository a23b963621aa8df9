"""What a user is told when something cannot be done, though the question was a sound one."""

from __future__ import annotations


class CannotBeDone(Exception):
    """The reason, in a sentence."""


class NoSuchMatch(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("there is no such match")


class NoSuchCode(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("no match has this code now: a code is good for an hour or two")


class MatchDeleted(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("this match was deleted, with all its events")


class IdTaken(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("this id belongs to another match: make a new one")


class NoServe(CannotBeDone):
    def __init__(self) -> None:
        super().__init__("no such serve of ours is to come: who serves is not known, or the set is over")
