"""/api/v1/session, /password and /join: who is signed in on this device"""

from __future__ import annotations

from typing import Any

from flask import Response, current_app, g, jsonify
from flask_smorest import abort

from cornerwise.engine.errors import RuleBroken
from cornerwise.service import accounts, devices, matches
from cornerwise.service.accounts import Who
from cornerwise.service.passwords import Work

from . import cookie
from .account_schemas import JoinRequest, PasswordRequest, SessionAnswer, SignInRequest
from .guard import by_cookie
from .limits import limit_tries
from .parsing import StrictBlueprint

A_BROWSER = "A browser"  # what a device is called that does not say

sessions = StrictBlueprint("sessions", __name__, description="Signing in and out, and joining by a code")


@sessions.get("/session")
@sessions.response(200, SessionAnswer)
def show() -> dict[str, Any]:
    """Say who is signed in here; nobody is answered too."""
    return described(by_cookie())


def described(who: Who | None) -> dict[str, Any]:
    here = who if who is not None and not who.revoked else None
    playing = None
    if here is not None and here.role == "server":
        playing = here.match_id or (matches.now_playing(here.club, here.team) if here.team else None)
    return {
        "who": accounts.described(here) if here else None,
        "revoked": who is not None and who.revoked,
        "now_playing": playing,
    }


@sessions.post("/session")
@sessions.body(SignInRequest, {"name": "Coach", "password": "far corner, deep", "label": "Phone"})
@sessions.response(200, SessionAnswer)
@sessions.alt_response(401, "UNAUTHORIZED")
@sessions.alt_response(403, "FORBIDDEN")
@sessions.alt_response(429, "TOO_MANY_REQUESTS")
def sign_in(request: dict[str, Any]) -> Response:
    """Sign in, by a one-time link or by name and password. A session before it ends."""
    refuse_from_elsewhere()
    once, name, password = (request.get(field) for field in ("once", "name", "password"))
    if (once is None) == (name is None) or (name is None) != (password is None):
        raise RuleBroken("", None, "either once, or name and password", "way_in")
    label = request.get("label", A_BROWSER)
    limit_tries("sign-in", accounts.login(name) if name else None)
    if once is not None:
        return entered(accounts.sign_in_by_link(once, label))
    return entered(accounts.sign_in_by_password(name, password, label, work()))


@sessions.delete("/session")
@sessions.response(204)
def sign_out() -> Response:
    """Sign out on this device."""
    token = cookie.token()
    if token:
        accounts.sign_out(token)
    response = Response(status=204)
    cookie.forget(response)
    return response


@sessions.put("/password")
@sessions.body(PasswordRequest, {"password": "far corner, deep"})
@sessions.response(204)
@sessions.alt_response(429, "TOO_MANY_REQUESTS")
def set_password(request: dict[str, Any]) -> Response:
    """Set a password, and sign out everywhere else where the same person is signed in."""
    limit_tries("password", g.who.person_id)
    accounts.set_password(g.who, request["password"], request.get("current"), work())
    return Response(status=204)


@sessions.post("/join")
@sessions.body(JoinRequest, {"code": "7K2M-9XQP", "label": "Tablet on the bench"})
@sessions.response(200, SessionAnswer)
@sessions.alt_response(401, "UNAUTHORIZED")
@sessions.alt_response(403, "FORBIDDEN")
@sessions.alt_response(409, "CONFLICT")
@sessions.alt_response(429, "TOO_MANY_REQUESTS")
def join(request: dict[str, Any]) -> Response:
    """Let this device into a club by a code, which works once."""
    refuse_from_elsewhere()
    limit_tries("join")
    return entered(devices.join(request["code"], request.get("label", A_BROWSER)))


def refuse_from_elsewhere() -> None:
    """Refuse to sign somebody in behind her back (CSRF of the sign-in itself)."""
    if cookie.from_elsewhere():
        abort(403, kind="/problems/cross_site", detail="only the app's own pages may ask for this")


def entered(token: str) -> Response:
    """Return who has just come in, with a new cookie; what the old one stood for is over."""
    before = cookie.token()
    if before:
        accounts.sign_out(before)
    response = jsonify(described(accounts.by_cookie(token)))
    cookie.keep(response, token)
    return response


def work() -> Work:
    kept: Work = current_app.extensions["password_work"]
    return kept
