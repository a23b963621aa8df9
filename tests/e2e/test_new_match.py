"""The page before a match, for a club with many teams and opponents."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from .conftest import Server
from .screen import axe, outside

MANY = 40


@pytest.fixture
def many(fresh: Server) -> Server:
    """A club with forty teams and, beside the three to try, forty opponents; the last entered is Vale 39."""
    for number in range(MANY):
        fresh.ask("/api/v1/opponents", {"name": f"Vale {number:02}"})
        if number > 0:
            fresh.ask("/api/v1/teams", {"name": f"Squad {number:02}", "level": "college"})
    return fresh


def test_one_of_forty_teams_and_opponents_is_found_by_typing_and_begins_with_what_was_entered(
    many: Server, nobody: Callable[..., Page]
):
    page = nobody(many.url)
    page.context.add_cookies([many.cookie()])
    page.goto("/matches/new")
    theirs = page.get_by_role("group", name="Prepared opponents")
    expect(theirs.get_by_role("button").first).to_contain_text("Vale 39")  # prepared last
    expect(theirs.get_by_role("button")).to_have_count(7)
    theirs.get_by_role("button", name="More").tap()
    expect(theirs.get_by_role("button")).to_have_count(25)
    page.get_by_label("Their name").fill("harb")
    theirs.get_by_role("button", name="Harbour Street").tap()  # not among those this device was brought
    expect(page.get_by_label("Their name")).to_have_value("Harbour Street")
    expect(page.locator("summary", has_text="Their line-up")).to_contain_text("3 8 12 5 17 10")

    ours = page.get_by_role("group", name="Our team")
    page.get_by_label("Our name").fill("lane")
    expect(ours.get_by_role("button")).to_have_count(1)
    ours.get_by_role("button", name="Quarry Lane").tap()
    expect(page.locator("summary", has_text="Our line-up")).to_contain_text("4 11 7 2 15 9")
    expect(ours.get_by_role("button")).to_have_count(2)  # the one that was picked, and the way to the others
    assert (axe(page), outside(page)) == ([], [])

    page.context.set_offline(True)
    page.get_by_label("Their name").fill("vale 07")
    theirs.get_by_role("button", name="Vale 07").tap()
    expect(page.get_by_text("Vale 07 is not on this device.")).to_be_visible()
    page.context.set_offline(False)
    theirs.get_by_role("button", name="Vale 07").tap()
    expect(page.get_by_text("Vale 07 is not on this device.")).to_be_hidden()
