"""Request bodies, read strictly: 415 for another media type, 400 for what is no JSON, 422 with a
list of fields for what does not fit the schema."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Sequence
from functools import wraps
from http import HTTPStatus
from itertools import islice
from typing import Any, NoReturn

from flask import Request, request
from flask_smorest import Blueprint, abort
from marshmallow import RAISE, Schema, ValidationError
from webargs.flaskparser import FlaskParser

from cornerwise.service.table import decoded

from .problem import MAX_ERRORS, SCHEMA_RULE, field_error

BODY_LIMIT_BYTES = 64 * 1024
BATCH_LIMIT_BYTES = 1024 * 1024
LOG_LIMIT_BYTES = 8 * 1024 * 1024
READ_AT_MOST_BYTES = BODY_LIMIT_BYTES + 1  # a body without a length is cut off here: one more byte tells
NOT_SHOWN = {"password", "current", "once", "code"}  # secrets are not sent back in a refusal
DEEPEST = 20  # chosen: levels of nesting; no body here needs more than 5


def _number(token: str) -> float | str:
    """Return a float; a number beyond one stays text, which no schema takes for a number."""
    number = float(token)
    return number if math.isfinite(number) else token


def _whole(token: str) -> int | str:
    """Return a whole number; one beyond a float stays text."""
    return int(token) if math.isfinite(float(token)) else token


def _no_constant(token: str) -> NoReturn:
    raise ValueError(f"{token} is not JSON")


def _unique(members: list[tuple[str, Any]]) -> dict[str, Any]:
    if len(dict(members)) != len(members):
        raise ValueError("a member stands twice in one object")
    return dict(members)


def _check(value: Any, any_text: bool, depth: int = 0) -> None:
    """Refuse text that UTF-8 or a database cannot hold, unless any will do, and too deep nesting."""
    if depth > DEEPEST:
        raise ValueError(f"nested deeper than {DEEPEST} levels")
    if isinstance(value, str) and not any_text:
        if "\0" in value:
            raise ValueError("U+0000 is not allowed in text")
        if any("\ud800" <= character <= "\udfff" for character in value):
            raise ValueError("half a surrogate pair is not allowed in text")
    elif isinstance(value, list):
        for item in value:
            _check(item, any_text, depth + 1)
    elif isinstance(value, dict):
        for name, item in value.items():
            _check(name, any_text)
            _check(item, any_text, depth + 1)


def parse(body: bytes, any_text: bool = False) -> Any:
    """Return what a JSON text says.

    any_text : lone surrogates and U+0000 are allowed; whoever keeps the text looks at it.

    Raises ValueError for what is no JSON, NaN and Infinity, a member given twice, lone surrogates,
    U+0000, and nesting deeper than 20 levels.
    """
    try:
        value = json.loads(
            body.decode(),
            parse_float=_number,
            parse_int=_whole,
            parse_constant=_no_constant,
            object_pairs_hook=_unique,
        )
    except UnicodeDecodeError as error:
        raise ValueError(f"byte {error.start + 1} is not UTF-8") from None
    except RecursionError:
        raise ValueError(f"nested deeper than {DEEPEST} levels") from None
    _check(value, any_text)
    return value


def field_errors(messages: dict[Any, Any], value: Any, path: Sequence[str] = ()) -> Iterator[dict[str, Any]]:
    """Yield an error for each message of marshmallow, with the value it is about.

    messages : nested by field name or list index; a message about an object itself is under "_schema".
    path     : where the value stands; a name that is not one word is quoted, so that dots stay clear.
    """
    for key, below in messages.items():
        inner, here = value, path
        if isinstance(value, dict):
            inner = None if key in NOT_SHOWN else value.get(key)
            here = [*path, key if key.isidentifier() else json.dumps(key)]
        elif isinstance(key, int):
            inner, here = value[key], [*path, str(key)]
        if isinstance(below, dict):
            yield from field_errors(below, inner, here)
        else:
            yield field_error(".".join(here), inner, below[0], SCHEMA_RULE)


def _body(req: Request) -> bytes:
    """Return the body; one over its route's limit is refused, and not read where its length is known."""
    most = (req.max_content_length or READ_AT_MOST_BYTES) - 1
    sent = req.content_length or 0
    body = b"" if sent > most else req.get_data()
    if max(sent, len(body)) > most:
        given = f"{sent} bytes" if sent else "more"
        abort(413, detail=f"a body has at most {most // 1024} KB ({most} bytes); {given} were sent")
    return body


def _table(body: bytes) -> str:
    """Return the text of a table that was sent as a file."""
    try:
        return decoded(body)
    except ValueError:
        abort(400, detail="the table is not UTF-8 text: save it as CSV in UTF-8, or paste it")


class StrictParser(FlaskParser):
    """The parser of every JSON body."""

    def load_json(self, req: Request, schema: Schema) -> Any:
        if req.mimetype == "text/csv" and getattr(schema, "takes_csv", False):
            return {"text": _table(_body(req))}
        if req.mimetype != "application/json":
            abort(415, detail="the body must be application/json")
        try:
            return parse(_body(req), getattr(schema, "any_text", False))
        except ValueError as error:
            abort(400, detail=f"the body is not JSON as this API takes it: {error}")

    def handle_error(self, error: ValidationError, req: Request, schema: Schema, **_: Any) -> NoReturn:
        [(where, messages)] = error.messages.items()
        any_text = getattr(schema, "any_text", False)
        given: Any = req.args.to_dict()
        if where == "json":
            given = parse(req.get_data(), any_text) if req.mimetype == "application/json" else {}
        errors = list(islice(field_errors(messages, given), MAX_ERRORS))
        abort(
            422,
            kind="/problems/schema",
            title=f"The {'body' if where == 'json' else where} does not fit the schema",
            detail="; ".join(f"{e['field'] or 'the body'}: expected {e['expected']}" for e in errors[:3]),
            errors=errors,
        )


class StrictBlueprint(Blueprint):
    """A blueprint whose bodies are read strictly."""

    ARGUMENTS_PARSER = StrictParser()

    def body(
        self, schema: type[Schema], example: dict[str, Any], limit_bytes: int = BODY_LIMIT_BYTES
    ) -> Callable[[Any], Any]:
        """Say that a view takes such a body, and document how it can be refused."""

        def decorate(view: Any) -> Any:
            for status in (400, 413, 415):
                view = self.alt_response(status, HTTPStatus(status).name)(view)
            read = self.arguments(schema, example=example)(view)

            @wraps(read)
            def limited(*args: Any, **kwargs: Any) -> Any:
                request.max_content_length = limit_bytes + 1  # as READ_AT_MOST_BYTES
                return read(*args, **kwargs)

            return limited

        return decorate

    def query(self, schema: type[Schema]) -> Callable[[Any], Any]:
        """Say that a view takes such parameters behind its address, and no others."""
        return self.arguments(schema, location="query", unknown=RAISE)

    def of_a_match(self, view: Any) -> Any:
        """Document how a view answers when there is no such match, or no more."""
        for status in (404, 410):
            view = self.alt_response(status, HTTPStatus(status).name)(view)
        return view
