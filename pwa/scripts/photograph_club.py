"""Photograph the pages of a club, its teams, its opponents and the lessons, into build/club/.

    python pwa/scripts/photograph_club.py http://127.0.0.1:8000 --sign-in LINK                   every state
    python pwa/scripts/photograph_club.py http://127.0.0.1:8000 book --sign-in LINK --width 360  some of them

The server must be running, with the club that a new one begins with; the pictures are for looking at, not
for comparing.
"""

from __future__ import annotations

from playwright.sync_api import Page

from album import ROOT, State, photograph_signed_in

OUT = ROOT / "build" / "club"
SIZES = {360: 740, 820: 1180, 1280: 800}
OPPONENT = "Harbour Street"
TWO_BAD_ROWS = """number;name;role;reach
21;Ottilie Brack;setter;2.2
22;Wenna Tarn;outside;24
23;Sunniva Hale;keeper;2.3
"""


def signed_out(page: Page) -> None:
    page.context.clear_cookies()
    page.goto(page.url.replace("/matches", "/sign-in"))
    page.locator("h1").wait_for()


def join(page: Page) -> None:
    page.goto(page.url.replace("/matches", "/join#7K2M9XQP"))
    page.locator("h1").wait_for()


def club(page: Page) -> None:
    page.locator("header").get_by_role("link", name="club").click()
    page.get_by_role("button", name="Show a code").wait_for()


def code(page: Page) -> None:
    club(page)
    page.get_by_role("button", name="Show a code").click()
    page.locator(".code").wait_for()


def token(page: Page) -> None:
    club(page)
    page.get_by_text("For scripts").click()
    page.locator(".tokens, details[open]").last.scroll_into_view_if_needed()


def teams(page: Page) -> None:
    page.goto(page.url.replace("/matches", "/team"))
    page.locator("main li a").first.wait_for()


def team(page: Page) -> None:
    teams(page)
    page.locator("main li a").first.click()
    page.locator(".player").first.wait_for()


def player(page: Page) -> None:
    team(page)
    page.locator(".player").first.click()
    page.get_by_role("form").scroll_into_view_if_needed()


def table(page: Page) -> None:
    team(page)
    if page.locator(".import summary").count():
        page.locator(".import summary").click()
    page.locator(".import textarea").fill(TWO_BAD_ROWS)
    page.get_by_role("button", name="Look at it").click()
    page.locator(".cell-errors li").nth(1).wait_for()
    page.locator(".cell-errors").scroll_into_view_if_needed()


def opponents(page: Page) -> None:
    page.goto(page.url.replace("/matches", "/opponents"))
    page.locator("main li .match", has_text=OPPONENT).wait_for()


def opponent(page: Page) -> None:
    opponents(page)
    page.locator("main li .match", has_text=OPPONENT).click()
    page.locator('[data-grip="6"]').wait_for()


def breach(page: Page) -> None:
    opponent(page)
    page.locator('[data-grip="6"]').focus()
    for _ in range(30):
        page.keyboard.press("Shift+ArrowRight")
        if page.locator(".breaches li").count():
            break
    page.locator(".breaches").scroll_into_view_if_needed()


def book(page: Page) -> None:
    opponent(page)
    page.get_by_role("link", name="Call book").first.click()
    page.get_by_role("button", name="We serve first").click()
    page.get_by_text("In the order in which we serve.").wait_for(timeout=60_000)


def learn(page: Page) -> None:
    page.goto(page.url.replace("/matches", "/learn"))
    page.locator("h1").first.wait_for()


STATES: dict[str, State] = {
    "signed-out": signed_out,
    "join": join,
    "club": club,
    "code": code,
    "token": token,
    "teams": teams,
    "team": team,
    "player": player,
    "table": table,
    "opponents": opponents,
    "opponent": opponent,
    "breach": breach,
    "book": book,
    "learn": learn,
}
WHOLE_PAGE = {"club", "team", "player", "table", "opponent", "book"}


if __name__ == "__main__":
    photograph_signed_in(__doc__, OUT, STATES, SIZES, WHOLE_PAGE)
