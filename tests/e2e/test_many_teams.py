"""A club of forty teams and sixty opponents on a small phone: found, opened, and chosen for a match."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from .conftest import Server
from .screen import axe, outside, overlaps

TEAMS, OPPONENTS = 40, 60
TABLE = "number,name,serve\n" + "".join(f"{n},Player {n},jump float\n" for n in range(1, 13))


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    server = Server(CORNERWISE_DATA=str(tmp_path_factory.mktemp("large")))
    server.start()
    for n in range(TEAMS):
        team = server.ask("/api/v1/teams", {"name": f"Under {n:02} of the Long Harbour Street club"})["id"]
        taken = server.ask(f"/api/v1/teams/{team}/players/import?dry_run=0", {"text": TABLE})
        assert taken["imported"] == 12
    for n in range(OPPONENTS):
        server.ask("/api/v1/opponents", {"name": f"Opponent {n:02}"})
    yield server
    server.stop()


@pytest.fixture
def small(browser, browser_context_args: dict, large: Server) -> Iterator[Page]:
    signed_in = {"storage_state": {"cookies": [large.cookie()], "origins": []}, "base_url": large.url}
    screen = {"viewport": {"width": 360, "height": 640}}
    context = browser.new_context(**browser_context_args | signed_in | screen)
    context.add_init_script("delete globalThis.Worker")
    yield context.new_page()
    context.close()


def test_the_fortieth_team_is_found_and_opened(small: Page):
    small.goto("/team")
    teams = small.locator(".matches > li")
    expect(teams).to_have_count(20)  # a page of them, and the rest by a tap
    assert (axe(small), outside(small), overlaps(small)) == ([], [], [])
    small.get_by_role("button", name="More teams").tap()
    expect(teams).to_have_count(40)
    small.get_by_role("button", name="More teams").tap()
    expect(teams).to_have_count(TEAMS + 1)  # with the one to try
    small.get_by_text("Under 39").tap()
    expect(small.locator(".player")).to_have_count(12)
    assert (outside(small), overlaps(small)) == ([], [])


def test_opponents_come_in_pages(small: Page):
    small.goto("/opponents")
    items = small.locator(".matches > li")
    expect(items.first).to_be_visible()
    before = items.count()
    assert before <= 50
    small.get_by_role("button", name="More").tap()
    expect(items).to_have_count(OPPONENTS + 3)  # with the three to try
    assert (axe(small), outside(small), overlaps(small)) == ([], [], [])


def test_letting_a_server_view_in_offers_every_team(small: Page):
    small.goto("/club")
    small.get_by_role("button", name="Server view").tap()
    choice = small.get_by_label("What it shows")
    expect(
        choice.locator("option", has_text="Under 39 of the Long Harbour Street club: the match it is playing")
    ).to_have_count(1)
    assert (axe(small), outside(small), overlaps(small)) == ([], [], [])
