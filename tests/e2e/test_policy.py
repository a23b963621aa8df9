"""The content policy in a real browser: every page walked; nothing inline, from elsewhere, or reported."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from .conftest import Server
from .match import begin

LISTEN = """addEventListener("securitypolicyviolation",
  (e) => console.error(`POLICY ${e.effectiveDirective} ${e.blockedURI} ${e.sourceFile}`), true)"""
INLINE = """() => [...document.querySelectorAll("*")].flatMap((e) => [
  ...(e.localName === "script" && !e.src ? ["script without an address"] : []),
  ...(e.localName === "style" ? ["style element"] : []),
  ...(["iframe", "object", "embed", "base"].includes(e.localName) ? [e.localName] : []),
  ...[...e.attributes]
    .filter(({ name, value }) => name.startsWith("on") || /^\\s*javascript:/i.test(value))
    .map(({ name }) => `${e.localName} ${name}`),
])"""


class Watched:
    """A browser whose pages are watched.

    reported : what the browser says against them; asked : origins that anything was asked of
    """

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.reported: list[str] = []
        self.asked: set[str] = set()
        context.add_init_script(LISTEN)
        context.on(
            "console", lambda said: self.reported.append(said.text) if self._matters(said.text) else None
        )
        context.on("weberror", lambda error: self.reported.append(str(error.error)))
        context.on(
            "request", lambda request: self.asked.add("{0.scheme}://{0.netloc}".format(urlsplit(request.url)))
        )

    @staticmethod
    def _matters(text: str) -> bool:
        return "POLICY" in text or "Content Security Policy" in text or "Refused to" in text


@pytest.fixture
def watched(phone: BrowserContext) -> Watched:
    """The coach's phone, which keeps the app and counts by itself."""
    return Watched(phone)


@pytest.fixture
def nobodys(browser, browser_context_args: dict) -> Iterator[Watched]:
    context = browser.new_context(
        **browser_context_args | {"storage_state": None, "service_workers": "allow"}
    )
    yield Watched(context)
    context.close()


def paths(server: Server, match: str) -> list[str]:
    """Return an address of every page."""
    first = {of: server.ask(f"/api/v1/{of}")["items"][0]["id"] for of in ("opponents", "teams")}
    opponent, team = first["opponents"], first["teams"]
    return ["/", "/server", "/compare", "/learn", "/matches", "/matches/new", "/take", "/team",
            f"/team/{team}", "/opponents", f"/opponent/{opponent}", f"/opponent/{opponent}/book", "/club",
            "/sign-in#once=x", "/join#7K2M9XQP", f"{match}/review", f"{match}/share", match]  # fmt: skip


def walk(page: Page, path: str) -> None:
    page.goto(path)
    expect(page.locator("main").first).to_be_visible()
    page.wait_for_timeout(400)  # what the page goes on to load
    for fold in page.locator("main summary").all()[:4]:
        if fold.is_visible():
            fold.tap()
    assert page.evaluate(INLINE) == [], path


def test_no_page_breaks_the_policy_or_asks_anybody_else(watched: Watched, server: Server):
    page = watched.context.new_page()
    begin(page, "us", 4).won("us")
    match = urlsplit(page.url).path
    for path in paths(server, match):
        walk(page, path)
    assert watched.reported == []
    assert {origin for origin in watched.asked if origin.startswith("http")} == {server.url}
    assert {origin.partition(":")[0] for origin in watched.asked} <= {"http", "blob", "data"}


def test_nor_does_one_that_nobody_is_signed_in_to_or_a_server_view(nobodys: Watched, server: Server):
    page = nobodys.context.new_page()
    for path in ("/", "/learn", "/matches", "/club", "/team", "/opponents", "/join"):
        walk(page, path)
    team = server.ask("/api/v1/teams")["items"][0]["name"]
    code = server.ask("/api/v1/devices/codes", {"role": "server", "team": team})["code"]
    page.goto(f"/join#{code}")
    page.get_by_role("button", name="Join", exact=True).tap()
    page.get_by_role("button", name="Read. The floor is clear").tap()
    walk(page, "/")
    assert nobodys.reported == []
    assert {origin for origin in nobodys.asked if origin.startswith("http")} == {server.url}


ADD = """(tag, put, into = document.body) => {
  const e = document.createElement(tag);
  put(e);
  into.append(e);
  return e;
}"""
ELSEWHERE = "https://elsewhere.example/"
ATTEMPTS = {
    "script-src-elem": 'add("script", (e) => { e.textContent = "window.ran = 1"; })',
    "script-src-attr": 'add("button", (e) => e.setAttribute("onclick", "window.ran = 1")).click()',
    "style-src-elem": 'add("style", (e) => { e.textContent = "body { opacity: 0 }"; })',
    "connect-src": f'void fetch("{ELSEWHERE}").catch(() => 0)',
    "img-src": f'add("img", (e) => {{ e.src = "{ELSEWHERE}"; }})',
    "form-action": f'add("form", (e) => {{ e.action = "{ELSEWHERE}"; }}).submit()',
    "frame-src": f'add("iframe", (e) => {{ e.src = "{ELSEWHERE}"; }})',
}


@pytest.mark.parametrize("directive", ATTEMPTS)
def test_what_the_policy_forbids_is_stopped_and_seen_by_these_tests(watched: Watched, directive: str):
    page = watched.context.new_page()
    page.goto("/")
    expect(page.locator("h1")).to_be_visible()
    page.evaluate(f"() => {{ const add = {ADD}; {ATTEMPTS[directive]}; }}")
    page.wait_for_timeout(300)
    assert any(f"POLICY {directive} " in said for said in watched.reported), watched.reported
    assert page.evaluate("window.ran") is None
    assert urlsplit(page.url).path == "/"
