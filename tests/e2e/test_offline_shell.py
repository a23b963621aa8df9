"""The app kept on a phone: it starts without network, is updated whole and only when the coach says so."""

from __future__ import annotations

import json
import re
import shutil
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from cornerwise.config import USUAL_DIST
from playwright.sync_api import BrowserContext, Error, Page, Request, expect

from .conftest import Server
from .screen import axe, outside

STAMP = Path(__file__).resolve().parents[2] / "pwa/scripts/manifest.mjs"
READY = "Ready without network"
A_MATCH = "/match/01890000-0000-7000-8000-000000000000"

UPDATE = """async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  const coming = await registration.update().then((r) => r.installing ?? r.waiting, () => null);
  if (coming === null) return "none";
  const done = ["installed", "activated", "redundant"];
  while (!done.includes(coming.state)) {
    await new Promise((ok) => coming.addEventListener("statechange", ok, { once: true }));
  }
  return coming.state;
}"""


class Site(Server):
    """A server with a copy of the built app, of which a test makes further versions."""

    def __init__(self, folder: Path) -> None:
        self.dist = folder / "dist"
        super().__init__(CORNERWISE_DIST=str(self.dist), CORNERWISE_DATA=str(folder / "data"))
        self.runs = False

    def build(self) -> None:
        """Put up the app as it was built."""
        shutil.rmtree(self.dist, ignore_errors=True)
        shutil.copytree(USUAL_DIST, self.dist)

    def stop(self, how: signal.Signals = signal.SIGKILL) -> None:
        super().stop(how)
        self.runs = False

    def start(self) -> None:
        super().start()
        self.runs = True

    def deploy(self, version: str) -> None:
        """Put up another version: one file is changed."""
        shell = self.dist / "index.html"
        text = re.sub(r'<meta name="made".*?>', "", shell.read_text())
        shell.write_text(text.replace("<title>", f'<meta name="made" content="{version}"><title>'))
        subprocess.run(["node", STAMP, self.dist], check=True, stdout=subprocess.DEVNULL)


@pytest.fixture(scope="module")
def one_site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("site"))
    yield site
    site.stop()


@pytest.fixture
def site(one_site: Site) -> Site:
    one_site.build()
    if not one_site.runs:
        one_site.start()
    return one_site


def settle(context: BrowserContext, site: Server, path: str = "/") -> Page:
    """Open the app and wait until all of it is on the phone."""
    page = context.new_page()
    page.goto(site.url + path)
    expect(page.get_by_text(READY)).to_be_visible(timeout=20_000)
    return page


def version(page: Page) -> str:
    made = page.locator('meta[name="made"]')
    return made.get_attribute("content") if made.count() else "first"


def kept_versions(page: Page) -> int:
    return sum(name.startswith("version-") for name in page.evaluate("caches.keys()"))


def without_network(context: BrowserContext, site: Server) -> None:
    context.set_offline(True)
    site.stop()


def test_without_network_and_server_the_app_starts_at_every_address(phone, site):
    page = settle(phone, site)
    without_network(phone, site)
    page.reload()
    expect(page.get_by_role("heading", name="Where is their setter?")).to_be_visible()
    for path, heading in (
        ("/matches", "Matches"),
        ("/matches/new", "New match"),
        ("/server", "Before the first serve"),
        (A_MATCH, "The server cannot be reached"),
    ):
        page.goto(site.url + path)
        expect(page.get_by_role("heading", name=heading, exact=True)).to_be_visible()
    assert page.evaluate("performance.getEntriesByType('navigation')[0].workerStart") > 0


def test_what_is_no_place_in_the_app_is_never_answered_with_its_page(phone, site):
    page = settle(phone, site)
    listed = page.evaluate("fetch('/manifest.webmanifest').then((r) => r.json())")
    phone.set_offline(True)
    assert page.evaluate("fetch('/manifest.webmanifest').then((r) => r.json())") == listed
    for path in ("/api/v1/stock", "/healthz", "/assets/index-0000.js", "/report.pdf"):
        assert page.evaluate("(path) => fetch(path).then(() => 'answered', () => 'failed')", path) == "failed"
    for path in ("/report.pdf", "/api/v1/matches", "/healthz"):
        with pytest.raises(Error, match="net::ERR_"):
            page.goto(site.url + path)


def test_a_phone_that_keeps_nothing_cannot_start_without_network(page, site):
    page.goto(site.url)
    expect(page.get_by_role("heading", name="Where is their setter?")).to_be_visible()
    page.context.set_offline(True)
    with pytest.raises(Error, match="ERR_INTERNET_DISCONNECTED"):
        page.reload()


def test_the_app_starts_after_the_browser_was_closed_and_the_server_is_gone(profile, site):
    context = profile()
    settle(context, site)
    context.close()
    site.stop()
    page = profile().new_page()
    page.goto(site.url + "/matches")
    expect(page.get_by_text(READY)).to_be_visible()


def test_a_newer_version_waits_for_the_coach_and_comes_to_all_tabs_at_once(phone, site):
    other, page = settle(phone, site, "/matches"), settle(phone, site)
    fetched: list[str] = []  # by what runs beside the pages; they themselves are served from the phone

    def note(request: Request) -> None:
        if request.service_worker:
            fetched.append(request.url.removeprefix(site.url))

    phone.on("request", note)
    site.deploy("second")
    assert page.evaluate(UPDATE) == "installed"
    assert [path for path in fetched if path != "/sw.js"] == ["/index.html"]  # the others were copied
    offer = "A newer version is here"
    expect(page.get_by_text(offer)).to_be_visible()
    page.reload()
    assert version(page) == "first"
    expect(page.get_by_text(offer)).to_be_visible()
    expect(other.get_by_text(offer)).to_be_visible()
    with other.expect_event("load"), page.expect_event("load"):
        page.get_by_role("button", name="Take it now").tap()
    assert [version(page), version(other)] == ["second", "second"]
    expect(page.get_by_text(READY)).to_be_visible()
    expect(page.get_by_text(offer)).to_be_hidden()
    assert kept_versions(page) == 1
    phone.set_offline(True)
    other.reload()
    assert version(other) == "second"


def test_a_newer_version_waits_even_when_the_app_was_closed_meanwhile(phone, site):
    page = settle(phone, site)
    site.deploy("second")
    assert page.evaluate(UPDATE) == "installed"
    page.close()
    again = settle(phone, site)
    again.wait_for_function("navigator.serviceWorker.controller?.state === 'activated'")
    assert version(again) == "first"
    site.deploy("third")
    assert again.evaluate(UPDATE) == "installed"
    again.reload()
    assert version(again) == "first"
    with again.expect_event("load"):
        again.get_by_role("button", name="Take it now").tap()
    assert version(again) == "third"
    assert kept_versions(again) == 1


def test_a_broken_newer_version_never_takes_the_place_of_one_that_works(phone, site):
    page = settle(phone, site)
    site.deploy("second")
    whole = (site.dist / "index.html").read_text()
    (site.dist / "index.html").write_text(whole + "<!-- put in on the way -->")
    assert page.evaluate(UPDATE) == "redundant"
    (site.dist / "index.html").unlink()
    assert page.evaluate(UPDATE) == "redundant"
    expect(page.get_by_text("A newer version is here")).to_be_hidden()
    phone.set_offline(True)
    page.reload()
    assert version(page) == "first"
    phone.set_offline(False)
    (site.dist / "index.html").write_text(whole)
    assert page.evaluate(UPDATE) == "installed"
    expect(page.get_by_text("A newer version is here")).to_be_visible()


def test_during_a_set_a_newer_version_is_neither_offered_nor_taken_from_another_tab(phone, site):
    live = settle(phone, site)
    live.goto(f"{site.url}/matches/new")
    live.locator("summary", has_text="Rules and level").tap()
    for rule in ("Points of a set", "Lead"):
        live.get_by_label(rule, exact=True).fill("1")
    live.get_by_role("button", name="Setter in 4,").tap()
    live.get_by_role("button", name="We serve first").tap()
    expect(live.locator(".live-call .odds")).to_be_visible()
    site.deploy("second")
    assert live.evaluate(UPDATE) == "installed"
    other = phone.new_page()
    other.goto(f"{site.url}/matches")
    other.get_by_role("button", name="Take it now").tap()
    expect(other.get_by_text("A set is in play in another tab")).to_be_visible()
    expect(live.get_by_text("newer version")).to_be_hidden()
    assert [version(live), version(other)] == ["first", "first"]
    live.get_by_role("button", name="We won", exact=True).tap()
    expect(live.get_by_text("A newer version is here")).to_be_visible()
    with live.expect_event("load"), other.expect_event("load"):
        other.get_by_role("button", name="Try again").tap()
    assert [version(live), version(other)] == ["second", "second"]
    expect(live.get_by_role("heading", name="We won set 1")).to_be_visible()


def test_a_first_start_that_breaks_off_says_so_and_goes_on(phone, site):
    icon = site.dist / "icon.svg"
    drawing = icon.read_bytes()
    icon.unlink()
    page = phone.new_page()
    page.goto(site.url)
    expect(page.get_by_text("Not ready without network yet")).to_be_visible()
    assert axe(page) == []
    icon.write_bytes(drawing)
    page.get_by_role("button", name="Try again").tap()
    expect(page.get_by_text(READY)).to_be_visible()


def test_a_browser_that_stores_nothing_is_told_before_a_match(profile, site, tmp_path):
    refuse = {"profile": {"default_content_setting_values": {"cookies": 2}}}  # all site data, in the settings
    preferences = tmp_path / "profile" / "Default" / "Preferences"
    preferences.parent.mkdir(parents=True)
    preferences.write_text(json.dumps(refuse))
    page = profile().new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    for path in ("/matches/new", "/matches"):
        page.goto(site.url + path)
        alert = page.get_by_role("alert")
        expect(alert).to_contain_text("This browser lets the app store nothing.")
        expect(alert).to_contain_text("Open Cornerwise in an ordinary window")
        assert axe(page) == []
        assert outside(page) == []
    expect(page.get_by_text("This browser does not keep the app")).to_be_visible()
    page.goto(f"{site.url}/match/01900000-0000-7000-8000-000000000001")  # an address from elsewhere
    expect(page.get_by_role("heading", name="The match cannot be opened here")).to_be_visible()
    assert faults == []


def test_little_room_is_told_before_a_match_and_not_during_it(phone, site):
    page = settle(phone, site)
    devtools = phone.new_cdp_session(page)
    used = devtools.send("Storage.getUsageAndQuota", {"origin": site.url})["usage"]
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": site.url, "quotaSize": used + 1_000_000})
    page.goto(f"{site.url}/matches/new")
    expect(page.get_by_role("alert")).to_contain_text("There is little room left on this device.")
    assert axe(page) == []
    page.get_by_role("button", name="We serve first").tap()
    expect(page.locator(".live")).to_be_visible()
    expect(page.get_by_text("little room")).to_be_hidden()
    page.goto(f"{site.url}/matches")
    expect(page.get_by_text("little room")).to_be_visible()
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": site.url})
    page.get_by_role("button", name="Look again").tap()
    expect(page.get_by_text("little room")).to_be_hidden()


def test_the_browser_finds_nothing_that_keeps_the_app_from_being_installed(profile, site):
    context = profile()
    page = settle(context, site)
    devtools = context.new_cdp_session(page)
    found = devtools.send("Page.getAppManifest")
    assert found["errors"] == []
    assert devtools.send("Page.getInstallabilityErrors")["installabilityErrors"] == []
    icons = json.loads(found["data"])["icons"]
    assert {icon["purpose"] for icon in icons} == {"any", "maskable"}
    for icon in icons:
        drawn = page.evaluate(
            "async (src) => { const i = new Image(); i.src = src; await i.decode(); return i.naturalWidth; }",
            icon["src"],
        )
        assert icon["sizes"] in ("any", f"{drawn}x{drawn}")
