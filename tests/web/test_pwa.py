"""The built PWA over HTTP: what is cached for how long, what is never served, and security headers."""

from __future__ import annotations

import gzip

import pytest
from cornerwise.app import create_app
from cornerwise.config import Config

SHELL = b"<title>shell</title>"


@pytest.fixture
def get(client):
    """Get a file and close it again."""

    def get(path: str, **kwargs):
        with client.get(path, **kwargs) as response:
            response.get_data()
            return response

    return get


@pytest.mark.parametrize("path", ["/", "/index.html", "/server", "/some/deep/link", "/apiary"])
def test_an_address_inside_the_app_gets_the_shell(get, path):
    response = get(path)
    assert response.status_code == 200
    assert SHELL in response.data
    assert response.mimetype == "text/html"
    assert response.headers["Cache-Control"] == "no-cache"


def test_a_hashed_asset_is_kept_for_good(get):
    response = get("/assets/index-1a2b.js")
    assert response.mimetype == "text/javascript"
    assert response.headers["Cache-Control"] == "public, max-age=31536000, immutable"


@pytest.mark.parametrize(
    ("path", "kind"), [("/sw.js", "text/javascript"), ("/manifest.webmanifest", "application/manifest+json")]
)
def test_everything_else_is_asked_for_again_each_time(get, path, kind):
    response = get(path)
    assert response.mimetype == kind
    assert response.headers["Cache-Control"] == "no-cache"
    again = get(path, headers={"If-None-Match": response.headers["ETag"]})
    assert again.status_code == 304


@pytest.mark.parametrize(
    ("path", "kind", "text"),
    [
        ("/assets/index-3c4d.css", "text/css", b"main { color: black }"),
        ("/py/engine.wasm", "application/wasm", b"a large file"),
        ("/py/engine.mjs", "text/javascript", b"export {}"),
    ],
)
def test_a_file_with_a_copy_for_the_wire_is_sent_so_to_who_takes_it(get, path, kind, text):
    squeezed = get(path, headers={"Accept-Encoding": "br;q=1.0, gzip;q=0.8"})
    assert squeezed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(squeezed.data) == text
    plain = get(path, headers={"Accept-Encoding": "identity, gzip;q=0"})
    assert "Content-Encoding" not in plain.headers
    assert plain.data == text
    assert squeezed.mimetype == plain.mimetype == kind
    assert squeezed.headers["Vary"] == plain.headers["Vary"] == "Accept-Encoding"
    assert squeezed.headers["ETag"] != plain.headers["ETag"]


def test_the_shell_is_never_sent_from_a_copy(get):
    for path in ("/", "/index.html", "/matches"):
        response = get(path, headers={"Accept-Encoding": "gzip"})
        assert "Content-Encoding" not in response.headers
        assert SHELL in response.data


@pytest.mark.parametrize("path", ["/py/engine.wasm", "/py/plain.zip"])
def test_the_engines_files_are_asked_for_again_each_time_and_sent_only_when_changed(get, path):
    response = get(path, headers={"Accept-Encoding": "gzip"})
    assert response.headers["Cache-Control"] == "no-cache"
    etag = response.headers["ETag"]
    assert get(path, headers={"Accept-Encoding": "gzip", "If-None-Match": etag}).status_code == 304


@pytest.mark.parametrize("path", ["/assets/index-0000.js", "/favicon.ico", "/deep/link/page.js"])
def test_a_missing_asset_is_not_found_and_never_the_shell(get, path):
    response = get(path)
    assert response.status_code == 404
    assert SHELL not in response.data


@pytest.mark.parametrize(
    "path",
    [
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/assets/../../secret.txt",
        "/assets/%2e%2e%2f%2e%2e%2fsecret.txt",
        "/..%5csecret.txt",
        "//etc/passwd",
        "/%2fetc%2fpasswd",
        "/\0.txt",
        "/%00",
        "/%00/../secret.txt",
        "/secret.txt%00.js",
        "/%252e%252e/secret.txt",
        "/%252e%252e%252fsecret.txt",
        "/..%252fsecret.txt",
        "/assets/..%5c..%5csecret.txt",
        "/..\\secret.txt",
        "/\\..\\secret.txt",
        "/%c0%ae%c0%ae/secret.txt",
        "/%u002e%u002e/secret.txt",
        "/....//secret.txt",
        "/./../secret.txt",
        "///etc/passwd",
        "/file:///etc/passwd",
        "/C:/secret.txt",
        "/assets//etc/passwd",
        "/" + "../" * 30 + "etc/passwd",
        "/assets/" + "%2e%2e%2f" * 30 + "etc/passwd",
    ],
)
def test_nothing_outside_the_folder_is_served(get, path):
    response = get(path, follow_redirects=True)
    assert b"not to be served" not in response.data
    assert b"root:" not in response.data
    assert response.status_code == 404 or SHELL in response.data


def test_a_link_out_of_the_folder_is_the_hosts_own_and_nothing_lists_a_folder(get):
    for path in ("/assets", "/assets/", "/py/", "/."):
        response = get(path, follow_redirects=True)
        assert response.status_code == 404 or SHELL in response.data


@pytest.mark.parametrize("path", ["/api", "/api/", "/api/v1", "/api/v1/nothing", "/api/v2/calls"])
def test_an_unknown_address_of_the_api_is_not_found_and_never_the_shell(get, path):
    response = get(path)
    assert response.status_code == 404
    assert response.content_type == "application/problem+json"


def test_a_known_address_says_which_methods_it_takes(get):
    response = get("/api/v1/calls")
    assert response.status_code == 405
    assert response.content_type == "application/problem+json"
    assert set(response.headers["Allow"].split(", ")) == {"POST", "OPTIONS"}


@pytest.mark.parametrize("path", ["/", "/sw.js", "/a.js", "/api/v1/stock", "/api/v1/nothing", "/healthz"])
def test_every_answer_carries_the_security_headers(get, path):
    headers = get(path).headers
    policy = dict(part.split(" ", 1) for part in headers["Content-Security-Policy"].split("; "))
    assert policy["default-src"] == "'self'"
    assert policy["object-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert not any("unsafe-inline" in value or "'unsafe-eval'" in value for value in policy.values())
    assert not any("http" in value for value in policy.values())  # nothing from elsewhere
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    permissions = headers["Permissions-Policy"].split(", ")
    assert permissions == ["camera=(self)", "microphone=()", "geolocation=()"]  # the camera reads QR codes


def test_answers_of_the_api_are_not_kept(get):
    assert get("/api/v1/stock").headers["Cache-Control"] == "no-store"


def test_the_server_says_that_it_is_well(get):
    assert get("/healthz").get_json() == {"status": "ok"}


def test_a_server_without_a_built_app_still_answers_the_api(tmp_path):
    client = create_app(Config(dist=tmp_path, data=tmp_path / "data")).test_client()
    assert client.get("/").status_code == 404
    assert client.get("/api/v1/stock").status_code == 200
