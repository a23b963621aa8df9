"""Every error of the API as problem details (RFC 9457, `application/problem+json`)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, jsonify
from flask_smorest import Api
from marshmallow import Schema, fields
from sqlalchemy.exc import OperationalError
from werkzeug.exceptions import HTTPException, ServiceUnavailable, default_exceptions

from cornerwise.engine.bridge import RULES
from cornerwise.engine.errors import RuleBroken
from cornerwise.service.errors import (
    CannotBeDone,
    IdTaken,
    LoginTaken,
    MatchDeleted,
    NoServe,
    NoSuchDevice,
    NoSuchFormation,
    NoSuchMatch,
    NoSuchOpponent,
    NoSuchPlayer,
    NoSuchTeam,
    NoSuchToken,
    NotLetIn,
    TooMany,
)
from cornerwise.service.rules import RULES as ACCOUNT_RULES

PROBLEM = "application/problem+json"
SCHEMA_RULE = "schema"  # the rule that a body breaks when it does not fit its schema
MAX_ERRORS = 20  # chosen: more tell nobody more
OF_SCHEMAS = {SCHEMA_RULE: "A body has the shape, the types and the ranges of its schema."}
ALL_RULES = {**OF_SCHEMAS, **RULES, **ACCOUNT_RULES}


class FieldError(Schema):
    """One value that was refused."""

    field = fields.String(
        required=True,
        metadata={"description": "where it stands in the body, dotted; empty for the body itself"},
    )
    value = fields.Raw(
        required=True,
        metadata={"description": "what was given, null if nothing was; a number beyond a float as text"},
    )
    expected = fields.String(required=True, metadata={"description": "what would have been right"})
    rule = fields.String(
        required=True,
        metadata={
            "enum": list(ALL_RULES),
            "description": "\n".join(f"- `{name}`: {text}" for name, text in ALL_RULES.items()),
        },
    )


class Problem(Schema):
    """Problem details."""

    type = fields.String(required=True, metadata={"format": "uri-reference"})
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    detail = fields.String(required=True)
    errors = fields.List(fields.Nested(FieldError), metadata={"maxItems": MAX_ERRORS})
    held = fields.Integer(
        metadata={"minimum": 0, "description": "of a revoked device: how many of the events sent are held"}
    )


def field_error(field: str, value: object, expected: str, rule: str) -> dict[str, Any]:
    """Return one entry of `errors`."""
    return {"field": field, "value": value, "expected": expected, "rule": rule}


def problem(status: int, title: str, detail: str, kind: str = "about:blank", **more: Any) -> Response:
    """Return a response with problem details. `kind` becomes their `type`."""
    response = jsonify({"type": kind, "title": title, "status": status, "detail": detail} | more)
    response.status_code = status
    response.content_type = PROBLEM
    return response


def refused(error: HTTPException) -> Response:
    """Return an HTTP error as problem details; `abort` may have put better words into its data."""
    words = {"title": error.name, "detail": error.description or error.name} | getattr(error, "data", {})
    response = problem(error.code or 500, **words)
    if error.code == 401:
        response.headers["WWW-Authenticate"] = CHALLENGE
    for name, value in error.get_headers():  # Allow, Retry-After and the like
        if name != "Content-Type":
            response.headers[name] = value
    return response


STATUS: dict[type[CannotBeDone], int] = {
    NotLetIn: 401,
    NoSuchMatch: 404,
    NoSuchDevice: 404,
    NoSuchToken: 404,
    NoSuchTeam: 404,
    NoSuchPlayer: 404,
    NoSuchOpponent: 404,
    NoSuchFormation: 404,
    IdTaken: 409,
    LoginTaken: 409,
    NoServe: 409,
    TooMany: 409,
    MatchDeleted: 410,
}
CHALLENGE = 'Bearer realm="cornerwise"'  # RFC 9110, 11.6.1: a 401 names a way to sign in


def cannot_be_done(error: CannotBeDone) -> Response:
    """Return why something cannot be done."""
    return refused(default_exceptions[STATUS[type(error)]](str(error)))


def unavailable(_: OperationalError) -> Response:
    """Return that the database cannot be reached, or was busy for too long: trying again may help."""
    return refused(ServiceUnavailable("the database does not answer: try again", retry_after=5))


def rule_broken(error: RuleBroken) -> Response:
    """Return a broken rule of the engine as 422."""
    errors = [field_error(error.field, error.value, error.expected, error.rule)]
    detail = f"{error.field}: expected {error.expected}"
    return problem(422, "A rule is broken", detail, "/problems/rule", errors=errors)


class ProblemApi(Api):
    """An API whose errors are problem details, in its answers and in its document."""

    ERROR_SCHEMA = Problem

    def document(self, schemas: Mapping[str, Mapping[str, Any]]) -> None:
        """Put schemas that are no schemas of marshmallow into the document, by their names."""
        for name, schema in schemas.items():
            self.spec.components.schema(name, dict(schema))

    def _register_error_handlers(self) -> None:
        self._app.register_error_handler(HTTPException, refused)
        self._app.register_error_handler(RuleBroken, rule_broken)
        self._app.register_error_handler(CannotBeDone, cannot_be_done)
        self._app.register_error_handler(OperationalError, unavailable)

    def _register_responses(self) -> None:
        usual, self.DEFAULT_RESPONSE_CONTENT_TYPE = self.DEFAULT_RESPONSE_CONTENT_TYPE, PROBLEM
        try:
            super()._register_responses()
        finally:
            self.DEFAULT_RESPONSE_CONTENT_TYPE = usual
