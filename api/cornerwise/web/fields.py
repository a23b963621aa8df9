"""Fields as strict as JSON Schema. Whatever a field refuses, its message says what was expected."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from marshmallow import Schema, fields

from cornerwise.engine.match.readers import UUID7

EXPECTED_ID = "a UUIDv7 in lower case"


def _always(expected: str) -> dict[str, str]:
    keys = ("required", "null", "invalid", "too_large", "special", "type")
    return dict.fromkeys(keys, expected)


class JsonNumber(fields.Float):
    """A number in a range. "5", true, null, and a number beyond a float are none."""

    whole = False

    def __init__(
        self, low: float, high: float, unit: str = "", *, above: bool = False, note: str = "", **kwargs: Any
    ):
        """low to high, both allowed; with `above`, low itself is not. note : for the document."""
        number = "a whole number" if self.whole else "a number"
        bounds = f"above {low:g} and up to {high:g}" if above else f"from {low:g} to {high:g}"
        expected = f"{number} {bounds} {unit}".rstrip()
        metadata = {"exclusiveMinimum" if above else "minimum": low, "maximum": high}
        metadata["description"] = f"{expected}; {note}" if note else expected
        metadata["type"] = "integer" if self.whole else "number"
        super().__init__(error_messages=_always(expected), metadata=metadata, **kwargs)
        self.low, self.high, self.above = low, high, above

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, int | float) or value > self.high:
            raise self.make_error("invalid", input=value)
        if value < self.low or (self.above and value == self.low):
            raise self.make_error("invalid", input=value)
        return float(value)


class JsonInteger(JsonNumber):
    """A whole number in a range, as JSON Schema means it: 5 and 5.0 are, 5.5 is not."""

    whole = True

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        number = super()._deserialize(value, attr, data, **kwargs)
        if not number.is_integer():
            raise self.make_error("invalid", input=value)
        return int(number)


class QueryInteger(JsonInteger):
    """A whole number in a range, as it stands in an address."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or re.fullmatch("-?[0-9]{1,15}", value) is None:
            raise self.make_error("invalid", input=value)
        return super()._deserialize(int(value), attr, data, **kwargs)


class JsonBoolean(fields.Boolean):
    """true or false, and nothing that merely looks like it."""

    def __init__(self, **kwargs: Any):
        super().__init__(error_messages=_always("true or false"), **kwargs)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, bool):
            raise self.make_error("invalid", input=value)
        return value


class Choice(fields.String):
    """One of some names. note : for the document."""

    def __init__(self, names: Sequence[str], *, note: str = "", **kwargs: Any):
        expected = "one of " + ", ".join(names)
        metadata = {"enum": list(names)} | ({"description": note} if note else {})
        super().__init__(error_messages=_always(expected), metadata=metadata, **kwargs)
        self.names = names

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or value not in self.names:
            raise self.make_error("invalid", input=value)
        return value


class Text(fields.String):
    """Text of a bounded length, in characters."""

    def __init__(self, low: int, high: int, **kwargs: Any):
        expected = f"text of {low} to {high} characters"
        metadata = {"minLength": low, "maxLength": high, "pattern": r"^[^\u0000]*$"}
        super().__init__(error_messages=_always(expected), metadata=metadata, **kwargs)
        self.low, self.high = low, high

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or not self.low <= len(value) <= self.high:
            raise self.make_error("invalid", input=value)
        return value


class Uuid7(fields.String):
    """An id, made by a device or by the server."""

    def __init__(self, **kwargs: Any):
        metadata = {"pattern": f"^{UUID7.pattern}$", "description": EXPECTED_ID}
        super().__init__(error_messages=_always(EXPECTED_ID), metadata=metadata, **kwargs)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or UUID7.fullmatch(value) is None:
            raise self.make_error("invalid", input=value)
        return value


class Items(fields.List):
    """A list of a bounded length. Its length is looked at before its items.

    by_rule : a rule of the engine refuses other lengths, by its own name; here they pass.
    """

    def __init__(self, inner: fields.Field, low: int, high: int, *, by_rule: bool = False, **kwargs: Any):
        expected = f"a list of {low} to {high} items"
        metadata = {"minItems": low, "maxItems": high}
        super().__init__(inner, error_messages=_always(expected), metadata=metadata, **kwargs)
        self.low, self.high, self.by_rule = low, high, by_rule

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list) or not (self.by_rule or self.low <= len(value) <= self.high):
            raise self.make_error("invalid", input=value)
        return super()._deserialize(value, attr, data, **kwargs)


class Strict(Schema):
    """An object with these members and no others."""

    error_messages = {"type": "an object"}  # noqa: RUF012

    def __init__(self, **kwargs: Any):
        super().__init__(**kwargs)
        self.error_messages["unknown"] = "no field of this name, but one of " + ", ".join(self.fields)


class Part(fields.Nested):
    """An object inside an object."""

    def __init__(self, schema: type[Schema], **kwargs: Any):
        super().__init__(schema, error_messages=_always("an object"), **kwargs)


class NameOrPart(fields.Raw):
    """One of some names, or an object."""

    def __init__(self, names: Sequence[str], schema: type[Schema], **kwargs: Any):
        reference = {"$ref": f"#/components/schemas/{schema.__name__}"}
        either = [{"type": "string", "enum": list(names)}, reference]
        expected = f"one of {', '.join(names)}, or an object"
        super().__init__(error_messages=_always(expected), metadata={"oneOf": either}, **kwargs)
        self.names, self.schema = names, schema

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, dict):
            return self.schema().load(value)
        if value not in self.names:
            raise self.make_error("invalid", input=value)
        return value
