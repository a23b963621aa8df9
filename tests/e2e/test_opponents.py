"""Opponents: formations dragged on the court, the call book, and the card on paper."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect
from pypdf import PdfReader

from .conftest import Server
from .preparing import drag, rotation, save_rotation
from .screen import axe, grip, middle, outside, until, words

NAME, TEAM = "Harbour Street", "Quarry Lane"  # of the demo club
SMALLEST_PT = 7
BY_ITSELF_MS = (
    240_000  # chosen: a device works out some forty calls; a busy machine may take ten times as long
)
KEEPS_BOTH = """async (opponent) => {
  const asked = indexedDB.open("cornerwise");
  await new Promise((ok) => (asked.onsuccess = ok));
  const kept = asked.result.transaction("kept").objectStore("kept");
  const read = (name) => new Promise((ok) => (kept.get(name).onsuccess = ({ target }) => ok(target.result)));
  const [teams, opponents] = await Promise.all([read("teams/1"), read("opponents/1")]);
  asked.result.close();
  return (teams ?? []).length > 0 && (opponents?.opponents ?? []).some(({ id }) => id === opponent);
}"""


@pytest.fixture
def opponent(server: Server) -> str:
    """Return the id of an opponent of the demo club."""
    items = server.ask("/api/v1/opponents")["items"]
    return next(one["id"] for one in items if one["name"] == NAME)


def open_opponent(page: Page, opponent: str) -> None:
    page.goto(f"/opponent/{opponent}")
    expect(grip(page, "6")).to_be_visible()


def kept(server: Server, opponent: str, setter: int) -> dict[int, tuple[float, float]]:
    """Return where the service keeps their six, by position. [m]"""
    shown = server.ask(f"/api/v1/opponents/{opponent}/formations/{setter}")
    assert (shown["entered"], shown["legal"]) == (True, True)
    return {one["position"]: (one["x_m"], one["y_m"]) for one in shown["players"]}


def test_formations_are_dragged_and_a_pair_out_of_order_is_named_and_not_saved(
    page: Page, server: Server, opponent: str
):
    open_opponent(page, opponent)
    rotation(page, 6)
    before = kept(server, opponent, 6)
    drag(page, 5, 0, -30)
    save_rotation(page, 6)
    after = kept(server, opponent, 6)
    assert after[5][1] > before[5][1] + 0.5  # up the screen is away from the net
    assert after[5][0] == pytest.approx(before[5][0], abs=0.05)  # a hundredth of a metre, and a pixel

    rotation(page, 1)
    x, _ = middle(grip(page, "6").locator(".touch"))
    mine, _ = middle(grip(page, "5").locator(".touch"))
    drag(page, 5, x - mine - 24, 0)  # beyond the middle player
    expect(page.locator(".broken")).to_have_attribute("data-pair", re.compile("^(5-6|6-5)$"))
    expect(page.locator(".breaches")).to_contain_text("6 and 5 are out of order.")
    expect(page.locator(".breaches")).to_contain_text("FIVB 7.4.3.2")
    expect(page.get_by_role("button", name="Save for setter in 1")).to_be_disabled()
    assert (axe(page), outside(page)) == ([], [])

    page.reload()  # what was dragged is not lost
    expect(page.locator(".breaches")).to_contain_text("6 and 5 are out of order.")
    grip(page, "5").focus()
    for _ in range(4):
        page.keyboard.press("Shift+ArrowRight")
    expect(page.locator(".breaches")).to_have_count(0)
    save_rotation(page, 1)
    places = kept(server, opponent, 1)
    assert places[5][0] > places[6][0]


def test_a_copy_takes_the_stock_rotations_at_once_and_asks_before_it_replaces_one_that_was_entered(
    page: Page, server: Server
):
    made = server.ask("/api/v1/opponents", {"name": "Copied Oaks"})["id"]
    for setter, formation in ((1, "two"), (2, "four")):
        server.ask(f"/api/v1/opponents/{made}/formations/{setter}", {"formation": formation}, "PUT")
    before = kept(server, made, 2)
    open_opponent(page, made)
    rotation(page, 1)
    copies = page.locator(".copies")
    copies.locator("summary").tap()
    copies.get_by_role("button", name="all 4 stock ones").tap()
    expect(copies.get_by_role("status")).to_contain_text("Copied to setter in 3, 4, 5, 6.")
    passers = {place for place in kept(server, made, 1).values() if place[1] > 4.6}
    assert passers <= set(kept(server, made, 4).values())
    assert kept(server, made, 2) == before  # what was entered stays
    copies.get_by_role("button", name="setter in 2").tap()
    expect(copies.get_by_role("alert")).to_contain_text("Replace what is entered for their setter in 2?")
    assert (axe(page), outside(page)) == ([], [])
    copies.get_by_role("button", name="Keep it").tap()
    expect(copies.get_by_role("alert")).to_have_count(0)
    assert kept(server, made, 2) == before
    copies.get_by_role("button", name="setter in 2").tap()
    copies.get_by_role("button", name="Replace it").tap()
    expect(copies.get_by_role("status")).to_contain_text("Copied to setter in 2.")
    assert passers <= set(kept(server, made, 2).values())
    server.ask(f"/api/v1/opponents/{made}", None, "DELETE")


def book_of(server: Server, opponent: str) -> dict[str, Any]:
    return server.ask(f"/api/v1/opponents/{opponent}/book?serving_first=us")


def open_book(page: Page, opponent: str, patience_ms: int = 60_000) -> None:
    page.goto(f"/opponent/{opponent}/book")
    page.get_by_role("button", name="We serve first").click()
    expect(page.get_by_role("button", name="We serve first")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("In the order in which we serve.")).to_be_visible(timeout=patience_ms)


def expected(book: dict[str, Any]) -> list[list[tuple[int, str, str, bool]]]:
    """Return what each call of the API says, by rotation: server, call, odds, and if she meets them there."""
    return [
        [(one["server"], one["call"]["words"]["call"], one["call"]["words"]["odds"], one["meets"])
         for one in rotation["calls"]]
        for rotation in book["rotations"]
    ]  # fmt: skip


def test_the_call_book_says_on_screen_what_the_api_says(page: Page, server: Server, opponent: str):
    open_book(page, opponent)
    book = expected(book_of(server, opponent))
    assert [sum(meets for *_, meets in calls) for calls in book] == [1, 1, 2, 1, 1, 1]  # one has a substitute
    for calls in book:
        shown = page.locator(".book-calls li")
        first = sorted(calls, key=lambda one: not one[3])  # who meets them stands first
        expect(shown).to_have_count(len(first))
        for line, (server_number, call, odds, meets) in zip(shown.all(), first, strict=True):
            text = words(line)
            assert text.startswith(f"#{server_number}")
            assert f"{call} {odds}" in text
            assert ("meets" in (line.get_attribute("class") or "")) == meets
        page.get_by_role("button", name="Next rotation").click()
    assert (axe(page), outside(page)) == ([], [])

    page.set_viewport_size({"width": 1280, "height": 800})
    rows = page.locator(".book-table tbody tr")
    for at, row in enumerate(rows.all()):
        for calls, cell in zip(book, row.locator("td").all(), strict=True):
            assert f"{calls[at][1]} {calls[at][2]}" in words(cell)
    assert axe(page) == []


@pytest.fixture
def printed(page: Page, opponent: str) -> dict[str, bytes]:
    open_book(page, opponent)
    return {paper: page.pdf(format=paper) for paper in ("A4", "Letter")}


def test_the_card_is_one_page_of_either_size_with_every_call_of_the_api(
    printed: dict[str, bytes], server: Server, opponent: str
):
    book = expected(book_of(server, opponent))
    for pdf in printed.values():
        pages = PdfReader(io.BytesIO(pdf)).pages
        assert len(pages) == 1
        sizes: list[float] = []

        def look(text: str, outer: list, inner: list, _: object, size: float, found: list = sizes) -> None:
            if text.strip():
                found.append(abs(size * inner[3] * outer[3]))

        text = re.sub(r"\s+", " ", pages[0].extract_text(visitor_text=look))
        assert min(sizes) >= SMALLEST_PT - 0.01  # a printed size has two decimals
        rest = text
        for calls in book:
            for number, call, odds, _ in calls:
                found = re.search(rf"#{number}\b.*?{re.escape(call)} {re.escape(odds)}", rest)
                assert found, (number, call, odds)
                assert len(found.group()) < 140, found.group()  # hers, not that of somebody further on
                rest = rest[found.end() :]


LONG_NAME = "Annemarijke van Oosterlinden"  # 28 characters, invented
MOST_ON_A_CARD, WITH_RUNS = 10, 7


@pytest.fixture(params=[WITH_RUNS, WITH_RUNS + 1, MOST_ON_A_CARD, 12])
def many_servers(server: Server, request: pytest.FixtureRequest) -> Iterator[int]:
    """A team, first by its name, with so many who serve, those beyond six for one of the line-up."""
    team = server.ask("/api/v1/teams", {"name": "A Team of Many", "level": "high_school"})["id"]
    for number in range(1, request.param + 1):
        serves = [{"kind": "standing_float", "spots": ["right_corner"], "next_job": 5}]
        player = {"number": number, "name": LONG_NAME, "serves": serves}
        comes_in = {"comes_in_for": [number - 6]} if number > 6 else {}
        server.ask(f"/api/v1/teams/{team}/players", player | comes_in)
    server.ask(f"/api/v1/teams/{team}", {"lineup": [1, 2, 3, 4, 5, 6]}, "PATCH")
    yield request.param
    server.ask(f"/api/v1/teams/{team}", None, "DELETE")


def test_a_card_of_many_servers_is_one_page_and_says_how_many_it_leaves_out(
    many_servers: int, printed: dict[str, bytes]
):
    for pdf in printed.values():
        pages = PdfReader(io.BytesIO(pdf)).pages
        assert len(pages) == 1
        text = re.sub(r"\s+", " ", pages[0].extract_text())
        left_out = f"{many_servers - MOST_ON_A_CARD} more servers have no room here"
        assert (left_out in text) == (many_servers > MOST_ON_A_CARD)
        for number in range(1, many_servers + 1):  # the line-up, then who comes in, in each rotation
            assert len(re.findall(rf"#{number}\b", text)) >= 6 * (number <= MOST_ON_A_CARD), number
        assert f"#{MOST_ON_A_CARD + 1}" not in text
        assert (re.search(r"then \d+ m to 5", text) is not None) == (many_servers <= WITH_RUNS)


BOXES = """all => all.map((e) => {
  const { left, top, right, bottom } = e.getBoundingClientRect();
  return [left, top, right, bottom];
})"""


def test_nothing_on_the_card_covers_another(page: Page, opponent: str):
    """Looked at as it is printed, after a way over other pages, whose styles are there as well by then."""
    page.goto("/matches")
    expect(page.get_by_role("heading", name="Matches")).to_be_visible()
    open_book(page, opponent)
    page.emulate_media(media="print")
    boxes = page.locator(".card .half, .card .place > span, .card .place > b, .card li > p").evaluate_all(
        BOXES
    )
    assert len(boxes) > 50
    over = [
        (a, b)
        for n, a in enumerate(boxes)
        for b in boxes[n + 1 :]
        if min(a[2], b[2]) - max(a[0], b[0]) > 1 and min(a[3], b[3]) - max(a[1], b[1]) > 1
    ]
    assert over == []


def test_a_prepared_opponent_fills_the_new_match_and_the_lesson(page: Page, server: Server, opponent: str):
    page.goto("/matches/new")
    page.get_by_role("group", name="Prepared opponents").get_by_role("button", name=NAME).click()
    expect(page.get_by_label("Their name")).to_have_value(NAME)
    profile = server.ask(f"/api/v1/opponents/{opponent}")
    summary = page.locator("summary", has_text="Their line-up")
    expect(summary).to_contain_text(" ".join(str(number) for number in profile["lineup"]))

    open_opponent(page, opponent)
    with page.expect_request("**/api/v1/calls") as asked:
        page.get_by_role("button", name="Teach this opponent").click()
        expect(page.get_by_text(f"These are the rotations of {NAME}.")).to_be_visible()
        page.get_by_role("button", name="Start: six rotations").click()
    passers = asked.value.post_data_json["opponent"]["passers"]
    entered = server.ask(f"/api/v1/opponents/{opponent}/formations/1")["players"]
    assert [(p["x_m"], p["y_m"]) for p in passers] == [(p["x_m"], p["y_m"]) for p in entered if p["passes"]]


def test_a_phone_that_only_saw_its_matches_has_teams_opponents_and_the_whole_book_without_network(
    phone: BrowserContext, server: Server, opponent: str, with_device: None
):
    page = phone.new_page()
    page.goto("/matches")
    expect(page.get_by_text("Ready without network")).to_be_visible(timeout=60_000)
    until(page, KEEPS_BOTH, opponent)
    phone.set_offline(True)
    page.goto("/team")
    expect(page.locator(".match", has_text=TEAM)).to_be_visible()
    page.goto("/opponents")
    expect(page.locator(".match", has_text=NAME)).to_be_visible()
    open_book(page, opponent, BY_ITSELF_MS)
    phone.set_offline(False)
    book = expected(book_of(server, opponent))
    phone.set_offline(True)
    for calls in book:
        shown = [words(line) for line in page.locator(".book-calls li").all()]
        for number, call, odds, _ in calls:
            assert [f"{call} {odds}" in line for line in shown if line.startswith(f"#{number} ")] == [True]
        page.get_by_role("button", name="Next rotation").click()
    [card] = PdfReader(io.BytesIO(page.pdf(format="A4"))).pages
    text = re.sub(r"\s+", " ", card.extract_text())
    for number, call, odds, _ in (one for calls in book for one in calls):
        assert re.search(rf"#{number}\b.{{0,60}}?{re.escape(call)} {re.escape(odds)}", text), (number, call)
