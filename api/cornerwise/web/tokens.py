"""/api/v1/tokens: what scripts sign in with"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from flask import Response, g

from cornerwise.service import devices as service

from .account_schemas import NewTokenAnswer, TokenRequest, TokensAnswer
from .parsing import StrictBlueprint

tokens = StrictBlueprint("tokens", __name__, description="Bearer tokens for scripts")


@tokens.get("/tokens")
@tokens.response(200, TokensAnswer)
def index() -> dict[str, Any]:
    """List the tokens, without their secrets."""
    return service.api_tokens(g.who.club)


@tokens.post("/tokens")
@tokens.body(TokenRequest, {"label": "Spreadsheet at home", "role": "assistant"})
@tokens.response(201, NewTokenAnswer)
@tokens.alt_response(409, "CONFLICT")
def add(request: dict[str, Any]) -> dict[str, Any]:
    """Make a token. Its secret is shown this once: what is kept is its hash."""
    return service.new_api_token(g.who, request["label"], request["role"])


@tokens.delete("/tokens/<uuid:token_id>")
@tokens.response(204)
@tokens.alt_response(404, "NOT_FOUND")
def revoke(token_id: UUID) -> Response:
    """Revoke a token, at once."""
    service.revoke_api_token(g.who.club, str(token_id))
    return Response(status=204)
