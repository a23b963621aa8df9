"""Names go: of a deleted player, and of a deleted club, from every device that had them."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Server
from .kept import kept, wait_until_gone
from .match import begin
from .screen import axe, outside, overlaps

NAME, OTHER = "Zephyrine Quillfeather", "Odile Ash"


@pytest.fixture
def team(fresh: Server) -> str:
    """A team with two named players."""
    team = fresh.ask("/api/v1/teams", {"name": "Lantern Hill"})["id"]
    for number, name in ((4, NAME), (7, OTHER)):
        fresh.ask(f"/api/v1/teams/{team}/players", {"number": number, "name": name})
    return team


@pytest.fixture
def phones(browser, browser_context_args: dict, fresh: Server) -> Iterator[Callable[..., Page]]:
    """Phones that keep the app; each joins by a code of its fresh."""
    opened: list[BrowserContext] = []

    def phone(**scope: str) -> Page:
        args = {"storage_state": None, "base_url": fresh.url, "service_workers": "allow"}
        opened.append(browser.new_context(**browser_context_args | args))
        page = opened[-1].new_page()
        join(page, fresh, **scope)
        return page

    yield phone
    for context in opened:
        context.close()


def join(page: Page, server: Server, **scope: str) -> None:
    code = server.ask("/api/v1/devices/codes", {"role": "assistant", **scope})["code"]
    page.goto(f"/join#{code}")
    page.get_by_role("button", name="Join", exact=True).tap()
    expect(page).not_to_have_url(f"{server.url}/join")


def keeps_the_roster(page: Page) -> None:
    """Show the team with her name, on a phone that has the whole app and so needs no network for it."""
    page.goto("/matches")
    expect(page.get_by_text("Ready without network")).to_be_visible(timeout=60_000)
    page.goto("/team")
    page.get_by_text("Lantern Hill").tap()
    expect(page.locator(".player", has_text=NAME)).to_be_visible()
    assert NAME in kept(page)


def delete_player(server: Server, team: str) -> None:
    [player] = [p for p in server.ask(f"/api/v1/teams/{team}")["roster"] if p["name"] == NAME]
    server.ask(f"/api/v1/teams/{team}/players/{player['id']}", method="DELETE")


def test_a_deleted_players_name_goes_from_a_device_at_its_next_contact_wherever_it_is_opened(
    fresh, team, phones
):
    page = phones()
    keeps_the_roster(page)
    page.context.set_offline(True)
    delete_player(fresh, team)
    page.goto("/")
    assert NAME in kept(page)  # it cannot know yet
    page.context.set_offline(False)
    page.goto("/")  # not a page of the team
    wait_until_gone(page, NAME)
    assert OTHER in kept(page)
    page.goto("/team")
    expect(page.get_by_text("1 player")).to_be_visible()


def test_a_deleted_players_name_goes_from_a_page_that_stays_open(fresh, team, phones):
    page = phones()
    keeps_the_roster(page)
    page.context.set_offline(True)
    delete_player(fresh, team)
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    wait_until_gone(page, NAME)
    expect(page.locator(".player", has_text=OTHER)).to_be_visible()


def test_a_device_that_was_revoked_and_joins_again_has_no_deleted_name(fresh, team, phones):
    page = phones()
    keeps_the_roster(page)
    [device] = [d for d in fresh.ask("/api/v1/devices")["items"] if d["role"] == "assistant"]
    page.goto("about:blank")
    delete_player(fresh, team)
    revoke(fresh, device["id"])
    page.goto(f"{fresh.url}/matches")
    wait_until_gone(page, NAME)
    wait_until_gone(page, OTHER)
    join(page, fresh)
    page.goto("/team")
    expect(page.get_by_text("Lantern Hill")).to_be_visible()
    assert OTHER in kept(page)
    assert NAME not in kept(page)


def revoke(server: Server, device: str) -> None:
    """Revoke a device, which is answered without a body."""
    cookie = {"Cookie": f"cornerwise={server.cookie()['value']}"}
    with server._open(f"/api/v1/devices/{device}", None, cookie, "DELETE") as said:
        assert said.status == 204


def test_a_phone_for_one_match_has_the_names_of_its_team_offline_and_of_no_other(fresh, team, phones):
    other = fresh.ask("/api/v1/teams", {"name": "Seniors"})["id"]
    fresh.ask(f"/api/v1/teams/{other}/players", {"number": 4, "name": "Mirabel Thane"})
    match = fresh.ask("/api/v1/matches", {"name": "Cup"})["id"]
    place = {"device": "coach", "seen": 0}
    fresh.ask(f"/api/v1/matches/{match}/events", {"events": [
        {"id": "01900000-0000-7000-8000-0000000000b1", "counter": 0, "set_number": 0, "rally_number": 0,
         "type": "match_opened", "us": "Lantern Hill", "level": "high_school", **place},
        {"id": "01900000-0000-7000-8000-0000000000b2", "counter": 1, "set_number": 1, "rally_number": 1,
         "type": "set_started", "serving_first": "us", "us": {"lineup": [4, 7, None, None, None, None]},
         "them": {"setter_position": 4}, **place},
    ]})  # fmt: skip
    page = phones(match=match)
    expect(page).to_have_url(f"{fresh.url}/match/{match}")
    expect(page.locator(".live-call .odds")).to_be_visible(timeout=30_000)
    for _ in range(100):
        if NAME in kept(page):
            break
        page.wait_for_timeout(100)
    assert NAME in kept(page)
    assert "Mirabel" not in kept(page)
    page.goto("/team")
    expect(page.get_by_text("Lantern Hill")).to_be_visible()
    expect(page.get_by_text("Seniors")).to_have_count(0)
    page.goto("/matches")
    expect(page.get_by_text("Ready without network")).to_be_visible(timeout=60_000)
    page.context.set_offline(True)
    page.goto(f"/match/{match}/review")
    expect(page.locator("h1")).to_be_visible()
    assert NAME in kept(page)


def test_a_deleted_clubs_names_go_from_its_devices_and_its_logs_when_somebody_says_so(fresh, team, phones):
    page = phones()
    keeps_the_roster(page)
    begin(page, "us", 4).won("us")
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=15_000)
    row = f'"match":"{page.url.rsplit("/", 1)[1]}"'
    page.goto("/opponents")
    expect(page.locator(".matches li").first).to_be_visible()
    theirs = fresh.ask("/api/v1/opponents")["items"][0]["name"]
    page.wait_for_timeout(500)
    assert theirs in kept(page)
    deleted = fresh.ask("/api/v1/club", method="DELETE")
    assert "drops names, rosters and opponents" in deleted["text"]
    page.goto("/")
    for word in (NAME, OTHER, "Lantern Hill", theirs, "Local club"):
        wait_until_gone(page, word)
    assert row in kept(page)  # numbers only
    assert page.request.get("/api/v1/matches").status == 401
    page.goto("/club")
    section = page.locator("section", has=page.get_by_role("heading", name="Still on this device"))
    assert (axe(page), outside(page), overlaps(page)) == ([], [], [])
    section.get_by_role("button", name="Remove them").tap()
    section.get_by_role("button", name="Remove", exact=True).tap()
    expect(section).to_have_count(0)
    assert row not in kept(page)


def test_a_device_that_another_club_lets_in_keeps_nothing_of_the_one_before(fresh, team, phones, tmp_path):
    """Also when the server had signed it out in between."""
    page = phones()
    keeps_the_roster(page)
    begin(page, "us", 4).won("us")
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=15_000)
    row = f'"match":"{page.url.rsplit("/", 1)[1]}"'
    page.context.clear_cookies()
    page.goto("/")
    wait_until_gone(page, NAME)
    assert row in kept(page)
    command = [sys.executable, "-m", "cornerwise", "club", "add", "Mill Road", "--coach", "Ada Stone"]
    environ = os.environ | {"CORNERWISE_DATA": str(tmp_path / "data")}
    said = subprocess.run(command, env=environ, capture_output=True, text=True, check=True).stdout
    page.goto(f"/sign-in#once={said.strip().rsplit('once=', 1)[1]}")
    page.get_by_role("button", name="Sign in").tap()
    expect(page.get_by_role("link", name="Mill Road")).to_be_visible()
    wait_until_gone(page, row)
