"""Several phones, tabs and failures around one match: nothing is lost, and what is not agreed is said."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, Route, expect

from .match import begin
from .screen import axe, outside, overlaps

EVENTS = re.compile(r"/api/v1/matches/[^/]+/events")
MATCHES = re.compile(r"/api/v1/matches")
SOON = 15_000  # ms: a few turns of the exchange, on a busy machine


@pytest.fixture
def another(new_context: Callable[..., BrowserContext]) -> Callable[[], Page]:
    """Another phone: a browser with a memory of its own."""
    return lambda: new_context().new_page()


def cut(page: Page, what: re.Pattern[str] = EVENTS) -> None:
    """Cut the way to the service; whatever counts, counts on."""
    page.context.route(what, lambda route: route.abort())


def join(page: Page, what: re.Pattern[str] = EVENTS) -> None:
    page.context.unroute(what)
    page.evaluate("dispatchEvent(new Event('online'))")


def log_of(server: Any, page: Page) -> list[dict[str, Any]]:
    match_id = page.url.split("/match/")[1].split("/")[0]
    return server.ask(f"/api/v1/matches/{match_id}/log")["events"]


def tap(page: Page, name: str) -> None:
    page.locator(".log-pad").get_by_role("button", name=name, exact=True).tap()


def shows(page: Page, us: int, them: int) -> None:
    expect(page.locator(".score .ours")).to_have_text(str(us), timeout=SOON)
    expect(page.locator(".score .theirs")).to_have_text(str(them), timeout=SOON)
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true", timeout=SOON)


def sent(page: Page) -> None:
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=SOON)


def wait_until(page: Page, so: Callable[[], bool]) -> None:
    for _ in range(SOON // 50):
        if so():
            return
        page.wait_for_timeout(50)
    raise TimeoutError


def results(events: list[dict[str, Any]]) -> list[str]:
    return [event["winner"] for event in events if event["type"] == "rally_won"]


def test_a_server_killed_in_the_middle_of_a_push_loses_nothing(page: Page, server):
    begin(page, "us", 4)
    sent(page)

    pushed: list[str] = []

    def killed(route: Route) -> None:
        if route.request.method == "POST" and not pushed:
            pushed.append(route.fetch().text())  # it is there, and committed
            server.kill()
        route.abort()

    page.context.route(EVENTS, killed)
    try:
        tap(page, "We won")
        expect(page.locator(".sync")).to_have_text("saved here, 2 waiting", timeout=SOON)
        wait_until(page, lambda: bool(pushed))
        assert len(json.loads(pushed[0])["accepted"]) == 2  # the call that was shown, and the result
    finally:
        page.context.unroute(EVENTS)
        if pushed:
            server.start()
    page.evaluate("dispatchEvent(new Event('online'))")
    shows(page, 1, 0)
    tap(page, "They won")
    shows(page, 1, 1)
    sent(page)
    events = log_of(server, page)
    assert results(events) == ["us", "them"]
    assert len({event["id"] for event in events}) == len(events)


def test_two_phones_at_odds_are_settled_by_one_tap(page: Page, another, server):
    begin(page, "us", 4)
    sent(page)
    other = another()
    other.goto(page.url)
    shows(other, 0, 0)
    for one in (page, other):
        cut(one)
    tap(page, "We won")
    tap(other, "They won")
    shows(page, 1, 0)
    shows(other, 0, 1)
    join(page)
    sent(page)
    join(other)
    sent(other)
    for one in (page, other):
        shows(one, 1, 0)  # the first that was accepted
        expect(one.locator(".prompt.conflict")).to_be_visible(timeout=SOON)
    expect(other.locator(".prompt.conflict p")).to_have_text(
        "Rally 1: this phone says they won, another says we won. Counted: we won."
    )
    assert (axe(other), outside(other), overlaps(other)) == ([], [], [])
    other.locator(".prompt.conflict").get_by_role("button", name="They won").tap()
    for one in (page, other):
        shows(one, 0, 1)
        expect(one.locator(".prompt.conflict")).to_have_count(0)
        sent(one)
    assert results(log_of(server, page)) == ["us", "them", "them"]  # both kept, and the choice


def test_the_same_rally_logged_alike_on_two_phones_counts_once(page: Page, another):
    begin(page, "us", 4)
    sent(page)
    other = another()
    other.goto(page.url)
    shows(other, 0, 0)
    for one in (page, other):
        cut(one)
        tap(one, "We won")
    for one in (page, other):
        join(one)
        sent(one)
    for one in (page, other):
        shows(one, 1, 0)
        expect(one.locator(".prompt.conflict, .prompt.note")).to_have_count(0)


def test_undo_takes_back_our_own_tap_and_never_a_colleagues(page: Page, another):
    begin(page, "us", 4)
    other = another()
    sent(page)
    other.goto(page.url)
    shows(other, 0, 0)
    undo = other.locator(".log-pad").get_by_role("button", name="Undo")
    expect(undo).to_be_disabled()
    tap(other, "We won")
    shows(page, 1, 0)  # by itself, within a turn of the exchange
    tap(page, "They won")
    shows(other, 1, 1)
    expect(undo).to_be_disabled()  # a rally was logged elsewhere since
    page.locator(".log-pad").get_by_role("button", name="Undo").tap()
    shows(other, 1, 0)
    undo.tap()
    shows(page, 0, 0)


def test_a_phone_that_only_reads_says_how_old_its_score_is_and_greys_its_call(page: Page, another):
    begin(page, "us", 4)
    sent(page)
    other = another()
    other.clock.install()
    other.goto(page.url)
    shows(other, 0, 0)
    tap(page, "We won")
    shows(other, 1, 0)
    cut(other)
    other.clock.fast_forward(30_000)
    expect(other.locator(".as-of")).to_contain_text("s ago")
    expect(other.locator(".live")).not_to_have_class(re.compile("stale"))
    other.clock.fast_forward(70_000)
    expect(other.locator(".as-of")).to_contain_text("1 min ago", timeout=SOON)
    expect(other.locator(".live")).to_have_class(re.compile("stale"))
    assert (axe(other), outside(other), overlaps(other)) == ([], [], [])
    join(other)
    expect(other.locator(".live")).not_to_have_class(re.compile("stale"), timeout=SOON)
    expect(other.locator(".as-of")).to_have_count(0)


def test_a_phone_that_logs_is_not_stale_however_long_it_is_alone(page: Page):
    page.clock.install()
    begin(page, "us", 4)
    sent(page)
    cut(page)
    tap(page, "We won")
    shows(page, 1, 0)
    page.clock.fast_forward(600_000)
    expect(page.locator(".sync")).to_have_text("saved here, 2 waiting")
    expect(page.locator(".as-of")).to_have_count(0)
    expect(page.locator(".live")).to_have_class("live")


MALFORMED = """async () => {
  const asked = indexedDB.open("cornerwise-log");
  const db = await new Promise((done) => { asked.onsuccess = () => done(asked.result); });
  const match = location.pathname.split("/")[2];
  const rows = db.transaction("rows", "readwrite").objectStore("rows");
  const id = "01900000-0000-7000-8000-0000000000ff";
  const place = { set_number: 1, rally_number: 1, seen: 0 };
  const event = { id, device: "x", counter: 1, ...place, type: "pass_graded", grade: 9 };
  const row = { id, match, n: 900, event, tap: id, undo: false, said: "pass 9", position: 0, refused: "" };
  await new Promise((done) => { rows.put(row).onsuccess = done; });
  db.close();
}"""


def test_a_refused_event_is_shown_with_its_reason_and_stops_no_other(page: Page, server):
    begin(page, "us", 4)
    sent(page)
    page.evaluate(MALFORMED)
    tap(page, "We won")
    expect(page.locator(".sync")).to_have_text("1 refused", timeout=SOON)
    shows(page, 1, 0)
    assert results(log_of(server, page)) == ["us"]
    page.locator(".sync").tap()
    sheet = page.locator("dialog")
    expect(sheet.locator(".turned-down li")).to_contain_text("pass 9")
    expect(sheet.locator(".turned-down li")).to_contain_text("grade: a whole number from 0 to 3")
    assert axe(page) == []
    sheet.get_by_role("button", name="Drop").tap()
    sheet.get_by_role("button", name="Close").tap()
    sent(page)


def test_of_two_tabs_one_logs_and_the_other_follows_until_it_takes_over(page: Page, server):
    begin(page, "us", 4)
    sent(page)
    second = page.context.new_page()
    second.goto(page.url)
    expect(second.locator(".following")).to_be_visible(timeout=SOON)
    tap(page, "We won")
    shows(second, 1, 0)
    assert axe(second) == []
    second.get_by_role("button", name="Log here instead").tap()
    tap(second, "They won")
    shows(page, 1, 1)
    expect(page.locator(".following")).to_be_visible()
    second.close()
    tap(page, "We won")  # the pen came back by itself
    shows(page, 2, 1)
    sent(page)
    events = log_of(server, page)
    assert results(events) == ["us", "them", "us"]
    assert len({event["device"] for event in events}) == 1
    counters = [event["counter"] for event in events]
    assert counters == sorted(set(counters))


FILL = """async () => {
  const db = await new Promise((done) => {
    const asked = indexedDB.open("filler", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("all", { autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
  });
  const fits = (bytes) => new Promise((done) => {
    const write = db.transaction("all", "readwrite");
    write.objectStore("all").add("x".repeat(bytes));
    write.oncomplete = () => done(true);
    write.onabort = () => done(false);
  });
  for (const bytes of [1e5, 1e4, 1e3, 1e2, 1]) while (await fits(bytes));
  db.close();
}"""
EMPTY = "new Promise((done) => { indexedDB.deleteDatabase('filler').onsuccess = done; }).then(() => true)"


def test_a_full_disk_is_said_and_the_tap_can_be_made_again(page: Page, server):
    cdp = page.context.new_cdp_session(page)
    cdp.send("Storage.overrideQuotaForOrigin", {"origin": server.url, "quotaSize": 1_000_000})
    begin(page, "us", 4)
    sent(page)
    page.evaluate(FILL)
    tap(page, "We won")
    expect(page.get_by_role("alert")).to_contain_text("The last tap was not saved")
    expect(page.locator(".score .ours")).to_have_text("0")
    expect(page.locator(".sync")).to_have_text("last tap not saved")
    assert axe(page) == []
    page.goto("/matches/new")
    page.get_by_role("button", name="Setter in 4,").tap()
    page.get_by_role("button", name="We serve first").tap()
    expect(page.get_by_role("alert").filter(has_text="The match was not begun")).to_be_visible()
    page.go_back()
    cdp.send("Storage.overrideQuotaForOrigin", {"origin": server.url})
    page.evaluate(EMPTY)
    shows(page, 0, 0)
    tap(page, "We won")
    shows(page, 1, 0)
    sent(page)
    assert results(log_of(server, page)) == ["us"]


def test_the_list_of_matches_comes_by_itself_as_soon_as_the_server_answers(page: Page):
    cut(page, MATCHES)
    page.goto("/matches")
    expect(page.get_by_text("The server cannot be reached.")).to_be_visible()
    page.context.unroute(MATCHES)
    expect(page.locator(".matches > li", has_text="A match to try")).to_be_visible(timeout=SOON)
    expect(page.get_by_text("The server cannot be reached.")).to_be_hidden()


def test_matches_are_begun_renamed_reviewed_and_listed_without_the_service(page: Page, server):
    page.goto("/matches")
    expect(page.locator(".matches > li", has_text="A match to try")).to_be_visible()
    cut(page, MATCHES)
    begin(page, "us", 4)
    tap(page, "We won")
    shows(page, 1, 0)
    here = page.url.removeprefix(server.url)
    page.get_by_role("link", name="Matches").tap()
    item = page.locator(".matches > li", has=page.locator(f'.match[href="{here}"]'))
    expect(item).to_contain_text("set 1: 1\u20130")
    expect(item).to_contain_text("on this device, not sent yet")
    item.locator("summary").tap()
    item.get_by_label("Name").fill("Begun in a cellar")
    item.get_by_role("button", name="Rename").tap()
    expect(item.locator(".match")).to_contain_text("Begun in a cellar")
    demo = page.locator(".matches > li", has_text="A match to try")
    demo.locator("summary").tap()
    demo.get_by_role("button", name="Delete…").tap()
    demo.get_by_role("button", name="Delete for good").tap()
    expect(page.get_by_role("alert").first).to_contain_text("the server cannot be reached")
    expect(demo).to_be_visible()
    assert axe(page) == []
    item.get_by_role("link", name="Review").tap()
    expect(page.locator(".headline")).to_contain_text("1 of 1")
    with page.expect_download() as download:
        page.get_by_role("button", name="Log as JSON").click()
    saved = json.loads(download.value.path().read_text())
    assert results(saved["events"]) == ["us"]
    assert saved["match"]["name"] == "Begun in a cellar"
    page.goto(here)
    join(page, MATCHES)
    sent(page)
    assert server.ask(f"/api/v1/matches/{here.split('/')[-1]}")["name"] == "Begun in a cellar"


@pytest.mark.parametrize(
    ("status", "kind", "sign", "words"),
    [
        (429, "about:blank", "saved here, 2 waiting", "too much at once"),
        (403, "/problems/role", "here only: not allowed", "may not log this match"),
        (401, "/problems/signed_out", "here only: sign in", "Nobody is signed in on this device"),
    ],
)
def test_an_answer_that_is_no_success_keeps_everything_and_says_so(
    page: Page, status: int, kind: str, sign: str, words: str
):
    begin(page, "us", 4)
    sent(page)
    page.context.route(
        EVENTS,
        lambda route: route.fulfill(status=status, headers={"Retry-After": "1"}, json={"type": kind}),
    )
    tap(page, "We won")
    expect(page.locator(".sync")).to_have_text(sign, timeout=SOON)
    page.locator(".sync").tap()
    expect(page.locator("dialog .notice")).to_contain_text(words, timeout=SOON)
    page.context.unroute(EVENTS)
    page.locator("dialog").get_by_role("button", name="Exchange now").tap()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    sent(page)
    shows(page, 1, 0)
