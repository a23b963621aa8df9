"""The trust page: it looks like the app, and says nothing that a request made up."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from cornerwise.cli.lan.authority import authority
from cornerwise.web import trust
from flask.testing import FlaskClient

TOKENS = Path(__file__).resolve().parents[2] / "pwa" / "src" / "style" / "tokens.css"
HOSTS = ["192.168.1.20", "[fd00::20]"]


@pytest.fixture
def page(tmp_path: Path) -> FlaskClient:
    signer = authority(tmp_path, "laptop.local", datetime.now(UTC))
    told = {"hosts": HOSTS, "name": "laptop.local", "port": 8000, "trust_port": 8080}
    return trust.create_trust_app(str(signer.certificate_file), **told).test_client()


def colours(css: str) -> list[list[tuple[str, str]]]:
    """Return the names and values of the colours, by light and dark."""
    return [sorted(re.findall(r"(--\w+): (#\w+);", block)) for block in css.split("@media")[:2]]


def test_the_trust_page_has_the_colours_of_the_app():
    app = colours(TOKENS.read_text())
    for ours, theirs in zip(colours(Path(trust.HERE, "style.css").read_text()), app, strict=True):
        assert len(ours) == 6
        assert set(ours) <= set(theirs)


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("192.168.1.20:8080", "192.168.1.20"),
        ("[fd00::20]:8080", "[fd00::20]"),
        ("example.org", "192.168.1.20"),
        ("127.0.0.1:8080", "192.168.1.20"),
    ],
)
def test_a_phone_is_led_to_the_address_it_came_by_if_it_is_ours(page, asked, told):
    text = page.get("/", headers={"Host": asked}).text
    assert f'<a class="button strong" href="https://{told}:8000/">' in text
    assert "example.org" not in text


def test_codes_for_phones_stand_on_the_laptops_page_only(page):
    phone = page.get("/", environ_base={"REMOTE_ADDR": "192.168.1.30"}).text
    laptop = page.get("/", environ_base={"REMOTE_ADDR": "127.0.0.1"}).text
    assert ("You are on the laptop" in phone, "You are on the laptop" in laptop) == (False, True)


def test_another_address_leads_back_to_the_page(page):
    answer = page.get("/matches/1")
    assert answer.status_code == 404
    assert 'href="/"' in answer.text


@pytest.mark.parametrize("path", ["/", "/style.css", "/cornerwise.crt", "/nothing"])
def test_nothing_is_fetched_from_elsewhere_or_kept(page, path):
    with page.get(path) as answer:
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'; style-src 'self'; img-src data:;")
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
