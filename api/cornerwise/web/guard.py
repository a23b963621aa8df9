"""Before every question to the API: who asks, and may she?

Whoever is nobody hears 401, whoever lacks the role 403, both before anything is looked up. So they hear the
same of what is there, of what is another club's, and of what is not there. Who has the role asks her own club
only: what is another's is not there (404).
"""

from __future__ import annotations

from typing import NoReturn

from flask import Flask, Response, abort, g, request
from flask_smorest import abort as refuse

from cornerwise.service import accounts, matches, scope
from cornerwise.service.accounts import Who
from cornerwise.service.errors import MatchDeleted, NoSuchMatch

from . import cookie
from .rights import HELD_FROM_REVOKED, NOT_FOR_ONE_MATCH, PREFIX, RIGHTS, operation

REVOKED = "/problems/revoked"


def watch(app: Flask) -> None:
    """Look at every request to the API."""
    app.before_request(_look)
    app.after_request(_prolong)


def _look() -> None:
    g.who = None
    rule = request.url_rule
    if rule is None or not rule.rule.startswith(f"{PREFIX}/") or request.method == "OPTIONS":
        return
    asked = operation(request.method, rule.rule)
    least = RIGHTS.get(asked)
    if least is None:
        abort(403)  # nobody has said who may
    if least != "open":
        g.who = _let_in()
        if g.who.revoked:
            if asked not in HELD_FROM_REVOKED or not g.who.may(least):
                refuse_revoked()
            return
        if not g.who.may(least):
            detail = f"this needs the role of {least}; yours is {g.who.role}"
            refuse(403, kind="/problems/role", detail=detail)
        _within_scope(g.who, asked)


def _let_in() -> Who:
    """Return who asks, also a device that was revoked; refuse nobody's request and one from elsewhere."""
    header = request.headers.get("Authorization")
    if header is not None:
        kind, _, token = header.partition(" ")
        who = accounts.by_bearer(token.strip()) if kind.lower() == "bearer" else None
    else:
        who = by_cookie()
        if who is not None and request.method not in cookie.SAFE and not cookie.from_here():
            refuse(403, kind="/problems/cross_site", detail="only the app's own pages may ask for this")
    if who is None:
        refuse(401, kind="/problems/signed_out", detail="sign in first, or join by a code")
    return who


def by_cookie() -> Who | None:
    token = cookie.token()
    return accounts.by_cookie(token) if token else None


def refuse_revoked(held: int | None = None) -> None:
    """Refuse a device that was revoked, and say how many of the events it sent are held."""
    detail = "this device was revoked; what it sent is held for the coach"
    if held is None:
        refuse(401, kind=REVOKED, detail="this device was revoked")
    refuse(401, kind=REVOKED, detail=detail, held=held)


def _within_scope(who: Who, asked: str) -> None:
    """Refuse what is beside the one match, or the team, that a device was let in for: it is not there."""
    places = {name: str(value) for name, value in (request.view_args or {}).items()}
    if who.match_id is not None:
        if asked in NOT_FOR_ONE_MATCH:
            refuse_beside_the_match()
        scope.check(who, places)
    elif who.team is not None and "match_id" in places and who.team != _team_of(who.club, places["match_id"]):
        raise NoSuchMatch


def refuse_beside_the_match() -> NoReturn:
    refuse(403, kind="/problems/role", detail="this device was let in for one match")


def _team_of(club: str, match_id: str) -> str | None:
    """Return the name of our team in a match; of one that was deleted, nobody's."""
    try:
        return matches.caught_up(club, match_id).us
    except MatchDeleted:
        return None


def _prolong(response: Response) -> Response:
    """Let the cookie live as long as the device, whose time was prolonged."""
    who, token = g.get("who"), cookie.token()
    if who is not None and who.stays and token:
        cookie.keep(response, token)
    return response
