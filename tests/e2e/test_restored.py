"""A server that was restored from an older backup: its devices notice, and send again what it lacks."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Server
from .match import begin
from .screen import axe, outside
from .test_sync import SOON, log_of, results, sent, shows, tap


class Kept(Server):
    """A server whose data can be put back to what it was."""

    def __init__(self, folder: Path) -> None:
        self.data, self.backup = folder / "data", folder / "backup"
        super().__init__(CORNERWISE_DATA=str(self.data))

    def back_up(self) -> None:
        self.stop()
        shutil.copytree(self.data, self.backup)
        self.start()

    def restore(self) -> None:
        self.stop()
        shutil.rmtree(self.data)
        shutil.copytree(self.backup, self.data)
        self.start()


@pytest.fixture
def kept(tmp_path: Path) -> Iterator[Kept]:
    server = Kept(tmp_path)
    server.start()
    server.cookie()  # the coach is signed in before the backup
    yield server
    server.stop()


@pytest.fixture
def page(browser, browser_context_args: dict, kept: Kept) -> Iterator[Page]:
    signed_in = {"storage_state": {"cookies": [kept.cookie()], "origins": []}, "base_url": kept.url}
    context: BrowserContext = browser.new_context(**browser_context_args | signed_in)
    context.add_init_script("delete globalThis.Worker")
    yield context.new_page()
    context.close()


def test_the_phone_on_the_match_sends_again_what_the_server_lost_and_says_so(page: Page, kept: Kept):
    begin(page, "us", 4)
    tap(page, "We won")
    shows(page, 1, 0)
    sent(page)
    kept.back_up()
    for us, them, name in ((1, 1, "They won"), (2, 1, "We won")):
        tap(page, name)
        shows(page, us, them)
    sent(page)
    whole = [event["id"] for event in log_of(kept, page)]
    kept.restore()
    assert results(log_of(kept, page)) == ["us"]
    tap(page, "We won")  # before anybody has noticed
    shows(page, 3, 1)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=SOON)
    events = log_of(kept, page)
    assert results(events) == ["us", "them", "us", "us"]
    assert [event["id"] for event in events][: len(whole)] == whole  # in its old order
    page.locator(".sync").tap()
    sheet = page.locator("dialog")
    expect(sheet.locator(".notice")).to_contain_text("The server had lost some of this match")
    assert (axe(page), outside(page)) == ([], [])


def test_a_match_that_is_not_on_the_screen_is_sent_again_from_the_list(page: Page, kept: Kept):
    begin(page, "us", 4)
    sent(page)
    kept.back_up()
    tap(page, "We won")
    shows(page, 1, 0)
    sent(page)
    match = page.url.rsplit("/", 1)[1]
    page.goto("about:blank")
    kept.restore()
    page.goto(f"{kept.url}/matches")
    expect(page.locator(".match", has_text="1\u20130")).to_be_visible(timeout=SOON)
    for _ in range(100):
        if results(kept.ask(f"/api/v1/matches/{match}/log")["events"]) == ["us"]:
            break
        page.wait_for_timeout(100)
    assert results(kept.ask(f"/api/v1/matches/{match}/log")["events"]) == ["us"]


def test_a_match_that_the_server_lost_whole_is_listed_and_sent_again_by_a_tap(page: Page, kept: Kept):
    kept.back_up()
    begin(page, "us", 4)
    tap(page, "We won")
    shows(page, 1, 0)
    sent(page)
    match = page.url.rsplit("/", 1)[1]
    page.goto("about:blank")
    kept.restore()
    page.goto(f"{kept.url}/matches")
    item = page.locator(".matches > li", has_text="on this device only: the server has it no more")
    item.locator(".match").tap()
    expect(page.locator(".sync")).to_have_text("saved here only", timeout=SOON)
    page.locator(".sync").tap()
    sheet = page.locator("dialog")
    expect(sheet.locator(".notice")).to_contain_text("it may have been restored from an older backup")
    assert (axe(page), outside(page)) == ([], [])
    sheet.get_by_role("button", name="Send the match again").tap()
    sheet.get_by_role("button", name="Close").tap()
    sent(page)
    assert results(kept.ask(f"/api/v1/matches/{match}/log")["events"]) == ["us"]


def test_a_match_that_was_deleted_stays_deleted_and_goes_from_the_device(page: Page, kept: Kept):
    begin(page, "us", 4)
    tap(page, "We won")
    shows(page, 1, 0)
    sent(page)
    match = page.url.rsplit("/", 1)[1]
    page.goto("/matches")
    expect(page.locator(f'.match[href="/match/{match}"]')).to_be_visible()
    kept.ask(f"/api/v1/matches/{match}", method="DELETE")
    page.reload()
    expect(page.locator(".matches > li", has_text="A match to try")).to_be_visible()
    expect(page.locator(f'.match[href="/match/{match}"]')).to_have_count(0, timeout=SOON)
    page.wait_for_timeout(500)
    page.goto(f"/match/{match}")
    expect(page.get_by_role("heading", name="There is no such match any more")).to_be_visible(timeout=SOON)
