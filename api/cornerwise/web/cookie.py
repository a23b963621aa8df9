"""The cookie of a signed-in device, and whether a request comes from the app's own pages."""

from __future__ import annotations

from urllib.parse import urlsplit

from flask import Response, request

from cornerwise.service.accounts import STAYS_SIGNED_IN

NAME = "cornerwise"
SAFE = ("GET", "HEAD", "OPTIONS")


def name() -> str:
    """Return the cookie's name. With HTTPS its prefix makes browsers refuse one set by anybody else."""
    return f"__Host-{NAME}" if request.is_secure else NAME


def token() -> str | None:
    return request.cookies.get(name())


def keep(response: Response, secret: str) -> None:
    """Let the browser keep a token: no script sees it, no other site's page sends it."""
    response.set_cookie(
        name(), secret, max_age=STAYS_SIGNED_IN, path="/", secure=request.is_secure, httponly=True,
        samesite="Strict",
    )  # fmt: skip


def forget(response: Response) -> None:
    response.delete_cookie(name(), path="/", secure=request.is_secure, httponly=True, samesite="Strict")


def from_elsewhere() -> bool:
    """Return whether a browser says that another site's page sent this request.

    Browsers set both headers themselves and no page can change them (OWASP, "Cross-Site Request Forgery
    Prevention": Fetch Metadata, then the standard headers). Without HTTPS there is Origin only.
    """
    site, origin = request.headers.get("Sec-Fetch-Site"), request.headers.get("Origin")
    if site is not None:
        return site != "same-origin"
    return origin is not None and urlsplit(origin).netloc != request.host


def from_here() -> bool:
    """Return whether a browser says that one of the app's own pages sent this request."""
    said = "Sec-Fetch-Site" in request.headers or "Origin" in request.headers
    return said and not from_elsewhere()
