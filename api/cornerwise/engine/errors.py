"""What the engine says when a value breaks a documented rule."""

from __future__ import annotations


class RuleBroken(ValueError):
    """A value that a documented rule forbids.

    field    : where it stands in the request, dotted, e.g. "opponent.passers.1.x_m"
    value    : what was given
    expected : what would have been right, in words, with units
    rule     : short name of the rule, one of RULES in `cornerwise.engine.bridge`
    """

    def __init__(self, field: str, value: object, expected: str, rule: str) -> None:
        super().__init__(f"{field}: expected {expected}, got {value!r}")
        self.field = field
        self.value = value
        self.expected = expected
        self.rule = rule
