"""The page on which a phone learns to trust this laptop, over plain HTTP.

That page, its look and the certificate, nothing else. No match is here, and no key: of the folder of the
certificates only the authority's own is read.
"""

from __future__ import annotations

import ssl
from hashlib import sha256
from pathlib import Path

import segno
from flask import Flask, Response, render_template, request, send_from_directory

HERE = Path(__file__).parent
CERTIFICATE = "cornerwise.crt"
LOOPBACK = ("127.0.0.1", "::1")
HEADERS = {
    "Content-Security-Policy": "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",  # the next authority must not hide behind the last one's page
}


def create_trust_app(certificate_file: str, hosts: list[str], name: str, port: int, trust_port: int) -> Flask:
    """Return the application of the trust page.

    certificate_file : the authority's certificate, as PEM.
    hosts            : where phones reach this laptop, as it stands in a URL, the best first.
    name             : this laptop's local name, or nothing.
    port             : of HTTPS.
    trust_port       : of this page.
    """
    app = Flask(__name__, static_folder=None, template_folder=".")
    certificate = ssl.PEM_cert_to_DER_cert(Path(certificate_file).read_text())
    told = {"name": name, "owner": name.removesuffix(".local"), "marks": _marks(certificate)}
    told["example"] = hosts[0]

    @app.get("/")
    def page() -> str:
        host = _asked(hosts)
        page_at, app_at = f"http://{host}:{trust_port}/", f"https://{host}:{port}/"
        named_at = f"https://{name}:{port}/" if name else ""
        codes = {"page_code": _code(page_at), "app_code": _code(app_at)}
        here = request.remote_addr in LOOPBACK
        return render_template(
            "page.html", page_at=page_at, app_at=app_at, named_at=named_at, here=here, **told, **codes
        )

    @app.get("/style.css")
    def style() -> Response:
        return send_from_directory(HERE, "style.css")

    @app.get(f"/{CERTIFICATE}")
    def authority() -> Response:
        answer = Response(certificate, mimetype="application/x-x509-ca-cert")
        answer.headers["Content-Disposition"] = f'attachment; filename="{CERTIFICATE}"'
        return answer

    @app.errorhandler(404)
    def nothing(_: Exception) -> tuple[str, int]:
        return render_template("nothing.html"), 404

    @app.after_request
    def secure(response: Response) -> Response:
        for header, value in HEADERS.items():
            response.headers[header] = value
        return response

    return app


def _asked(hosts: list[str]) -> str:
    """Return the address at which this page was asked for, if it is one of ours; else the best one."""
    asked = request.host.rpartition(":")[0] or request.host
    return asked if asked in hosts else hosts[0]


def _marks(certificate: bytes) -> list[str]:
    """Return the SHA-256 of a certificate in four lines of eight bytes, as phones show it."""
    digest = sha256(certificate).digest()
    return [digest[start : start + 8].hex(":").upper() for start in range(0, 32, 8)]


def _code(address: str) -> str:
    """Return a QR code as an image's address: black on white in the dark too, with its quiet zone."""
    return segno.make(address, micro=False).svg_data_uri(scale=4, border=4, dark="#000", light="#fff")
