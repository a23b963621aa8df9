"""The built PWA at /, and the security headers of every answer."""

from __future__ import annotations

import mimetypes
from pathlib import Path

from flask import Flask, Response, abort, request, send_from_directory
from werkzeug.routing import PathConverter
from werkzeug.security import safe_join

CSP = (
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'self'"
)
SECURITY_HEADERS = {
    "Content-Security-Policy": CSP,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), microphone=(), geolocation=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}
SHELL = "index.html"

SQUEEZED = ("assets/", "py/")  # where the build puts gzip copies beside the files

KINDS = {
    ".js": "text/javascript",
    ".mjs": "text/javascript",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
}
for suffix, kind in KINDS.items():
    mimetypes.add_type(kind, suffix)  # not the same in every system's table


class Page(PathConverter):
    """Any path that is not the API's, so that an unknown one there stays 404 and a known one 405."""

    regex = r"(?!api(?:/|$))[^/].*?"


def serve(app: Flask, dist: Path) -> None:
    """Add the PWA in the folder `dist` to the app, and the security headers."""
    app.url_map.converters["page"] = Page

    @app.get("/")
    @app.get("/<page:name>")
    def page(name: str = SHELL) -> Response:
        return _file(dist, name)

    @app.after_request
    def secure(response: Response) -> Response:
        for name, value in SECURITY_HEADERS.items():
            response.headers.setdefault(name, value)
        if request.path.startswith("/api/"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response


def _file(dist: Path, name: str) -> Response:
    """Return a built file; for an address inside the app, which has no dot, the shell."""
    path = safe_join(str(dist), name)
    if path is None:
        abort(404)
    if not Path(path).is_file():
        if "." in name.rsplit("/", 1)[-1]:
            abort(404)  # a missing asset never gets the shell: an old page would take it for its script
        name = SHELL
    response = _squeezed(dist, name) or send_from_directory(dist, name)
    hashed = name.startswith("assets/")  # their names change with their content
    response.headers["Cache-Control"] = "public, max-age=31536000, immutable" if hashed else "no-cache"
    return response


def _squeezed(dist: Path, name: str) -> Response | None:
    """Return the file as its gzip copy if there is one and the browser takes it."""
    if not name.startswith(SQUEEZED) or not (dist / f"{name}.gz").is_file():
        return None
    takes_gzip = request.accept_encodings.quality("gzip") > 0
    copy = f"{name}.gz" if takes_gzip else name
    response = send_from_directory(dist, copy, mimetype=mimetypes.guess_type(name)[0])
    if takes_gzip:
        response.headers["Content-Encoding"] = "gzip"
    response.vary.add("Accept-Encoding")  # a cache on the way must not hand one for the other
    return response
