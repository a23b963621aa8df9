"""Photograph what the app says of itself on a device, at four sizes, light and dark, into build/device/.

    python pwa/scripts/photograph_device.py

It serves a copy of the built app by itself: a newer version is put up in it.
"""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.cookies import SimpleCookie
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Playwright, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "build" / "device"
SIZES = {360: 640, 412: 915, 820: 1180, 1280: 800}
IPHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 Mobile/15E148 Safari/604.1"
)
READY = "text=Ready without network"


def wait(page: Page, path: str, text: str) -> None:
    page.goto(path)
    page.locator(text).first.wait_for()


def ready(page: Page, dist: Path) -> None:
    wait(page, "/", READY)


def matches(page: Page, dist: Path) -> None:
    wait(page, "/matches", READY)


def settings(page: Page, dist: Path) -> None:
    wait(page, "/", READY)
    page.get_by_role("button", name="Setter in 1,").click()
    page.locator(".on-device").scroll_into_view_if_needed()
    page.wait_for_timeout(600)


def offline(page: Page, dist: Path) -> None:
    """A match begun without network waits in the list; the server is missed there only."""
    wait(page, "/matches", READY)
    wait(page, "/matches", "text=A match to try")
    page.context.set_offline(True)
    begin(page)
    tap(page, "We won")
    page.get_by_role("link", name="Matches").click()
    page.get_by_text("set 1: 1\u20130").first.wait_for()
    page.get_by_text("cannot be reached").wait_for()


def newer(page: Page, dist: Path, path: str = "/") -> None:
    wait(page, "/", READY)
    with (dist / "index.html").open("a") as shell:
        shell.write("\n")
    subprocess.run(["node", ROOT / "pwa/scripts/manifest.mjs", dist], check=True, stdout=subprocess.DEVNULL)
    page.evaluate("navigator.serviceWorker.getRegistration().then((r) => r.update())")
    page.get_by_text("A newer version is here").wait_for()
    wait(page, path, "text=A newer version is here")


def newer_at_the_call(page: Page, dist: Path) -> None:
    newer(page, dist)
    page.get_by_role("button", name="Setter in 1,").click()
    page.locator(".captions .angle").wait_for()


def newer_in_the_list(page: Page, dist: Path) -> None:
    newer(page, dist, "/matches")


def broken_off(page: Page, dist: Path) -> None:
    (dist / "icon.svg").rename(dist / "icon.gone")
    wait(page, "/", "text=Not ready without network yet")
    (dist / "icon.gone").rename(dist / "icon.svg")


def little_room(page: Page, dist: Path) -> None:
    wait(page, "/", READY)
    devtools = page.context.new_cdp_session(page)
    origin = {"origin": page.evaluate("origin")}
    used = devtools.send("Storage.getUsageAndQuota", origin)["usage"]
    devtools.send("Storage.overrideQuotaForOrigin", origin | {"quotaSize": used + 1_000_000})
    wait(page, "/matches/new", "text=There is little room")


def refused(page: Page, dist: Path) -> None:
    wait(page, "/matches", "text=lets the app store nothing")


def refused_before(page: Page, dist: Path) -> None:
    wait(page, "/matches/new", "text=lets the app store nothing")


def refused_match(page: Page, dist: Path) -> None:
    """A match is begun all the same, and then one is opened."""
    wait(page, "/matches/new", "text=lets the app store nothing")
    page.get_by_role("button", name="We serve first").click()
    page.get_by_text("The match was not begun").wait_for()


# a match, and what the network does to it


def begin(page: Page) -> None:
    page.goto("/matches/new")
    page.get_by_role("button", name="Setter in 4,").click()
    page.get_by_role("button", name="We serve first").click()
    page.locator(".live[data-fresh=true] .live-call .odds").wait_for()


def tap(page: Page, name: str) -> None:
    page.locator(".log-pad").get_by_role("button", name=name, exact=True).click()
    page.locator(".live[data-fresh=true] .live-call .odds").wait_for()


def asleep(page: Page) -> None:
    """From now on no engine answers: the server is away, and that of the device does not wake."""
    page.context.set_offline(True)
    page.add_init_script("globalThis.Worker = class { postMessage() {} terminate() {} }")


def waking(page: Page, dist: Path) -> None:
    """A cold start in mid-match: from last time, marked with its score; a tap is kept and counted later."""
    wait(page, "/", READY)
    begin(page)
    tap(page, "We won")
    page.wait_for_timeout(500)
    asleep(page)
    page.reload()
    page.locator(".live").wait_for()
    page.get_by_role("button", name="They won").click()
    page.get_by_text("Still counting").wait_for()


def waking_at_the_call(page: Page, dist: Path) -> None:
    wait(page, "/", READY)
    page.get_by_role("button", name="Setter in 4,").click()
    page.locator(".captions .angle").wait_for()
    page.wait_for_timeout(500)
    asleep(page)
    page.reload()
    page.locator(".captions .angle").wait_for()
    page.wait_for_timeout(1000)


def waiting(page: Page, dist: Path) -> None:
    wait(page, "/", READY)
    begin(page)
    page.context.set_offline(True)
    tap(page, "We won")
    page.get_by_text("saved here, 2 waiting").wait_for()


def waiting_sheet(page: Page, dist: Path) -> None:
    waiting(page, dist)
    page.locator(".sync").click()
    page.get_by_text("cannot be reached").wait_for()


SAY = """async ([match, counter, event]) => {
  const id = `01900000-0000-7000-8000-0000000000${String(counter).padStart(2, "0")}`;
  const place = { set_number: 1, rally_number: 1 };
  const said = { id, device: "another phone", counter, seen: 0, ...place, ...event };
  const headers = { "Content-Type": "application/json" };
  const body = JSON.stringify({ events: [said] });
  await fetch(`/api/v1/matches/${match}/events`, { method: "POST", body, headers });
}"""


def elsewhere(page: Page, counter: int, **event: object) -> None:
    """Another phone logs something in the match on the screen."""
    page.evaluate(SAY, [page.url.split("/match/")[1], counter, event])


def conflict(page: Page, dist: Path) -> None:
    """The same rally, told differently by another phone before this one could send it."""
    wait(page, "/", READY)
    begin(page)
    page.get_by_text("saved and sent").wait_for()
    page.evaluate(
        "() => { globalThis.reachable = fetch; globalThis.fetch = () => Promise.reject(new TypeError()); }"
    )
    tap(page, "We won")
    page.evaluate("() => { globalThis.fetch = globalThis.reachable; }")
    elsewhere(page, 1, type="rally_won", winner="them")
    page.locator(".prompt.conflict").wait_for()


def stale(page: Page, dist: Path) -> None:
    page.clock.install()
    wait(page, "/", READY)
    begin(page)
    elsewhere(page, 1, type="rally_won", winner="us")
    page.clock.fast_forward(6_000)
    page.locator(".score .ours", has_text="1").wait_for()
    page.context.set_offline(True)
    page.clock.fast_forward(150_000)
    page.get_by_text("must have moved on").wait_for()


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


def refused_event(page: Page, dist: Path) -> None:
    wait(page, "/", READY)
    begin(page)
    page.evaluate(MALFORMED)
    tap(page, "We won")
    page.get_by_text("1 refused").wait_for()


def refused_event_sheet(page: Page, dist: Path) -> None:
    refused_event(page, dist)
    page.locator(".sync").click()
    page.locator(".turned-down").wait_for()


STATES: dict[str, Callable[[Page, Path], None]] = {
    "ready": ready,
    "matches": matches,
    "settings": settings,
    "iphone": settings,
    "offline": offline,
    "newer": newer,
    "newer-at-the-call": newer_at_the_call,
    "newer-in-the-list": newer_in_the_list,
    "broken-off": broken_off,
    "little-room": little_room,
    "refused": refused,
    "refused-before-a-match": refused_before,
    "refused-match": refused_match,
    "waking": waking,
    "waking-at-the-call": waking_at_the_call,
    "waiting": waiting,
    "waiting-sheet": waiting_sheet,
    "conflict": conflict,
    "stale": stale,
    "event-refused": refused_event,
    "event-refused-sheet": refused_event_sheet,
}


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, str]]:
    """A server with a copy of the built app in folder/dist, and the cookie of its coach."""
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = probe.getsockname()[1]
    environ = os.environ | {
        "CORNERWISE_DIST": str(folder / "dist"),
        "CORNERWISE_DATA": str(folder / "data"),
    }
    command = [sys.executable, "-m", "cornerwise", "serve", f"--port={port}"]
    process = subprocess.Popen(command, env=environ, stdout=subprocess.PIPE, text=True)
    try:
        once = next(line for line in process.stdout or () if "once=" in line).rsplit("once=", 1)[1].strip()
        while process.poll() is None:
            with socket.socket() as line:
                if line.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.1)
        url = f"http://127.0.0.1:{port}"
        yield url, signed_in(url, once)
    finally:
        process.terminate()
        process.wait(10)


def signed_in(url: str, once: str) -> str:
    """Return the cookie of the coach who came by a link."""
    said = {"Content-Type": "application/json", "Origin": url}
    body = json.dumps({"once": once, "label": "photographs"}).encode()
    with urllib.request.urlopen(urllib.request.Request(f"{url}/api/v1/session", body, said)) as response:
        return SimpleCookie(response.headers["Set-Cookie"])["cornerwise"].value


def open_phone(
    playwright: Playwright, url: str, cookie: str, name: str, width: int, scheme: str
) -> BrowserContext:
    """A new browser with the coach signed in; for some states one that refuses all site data."""
    profile = Path(tempfile.mkdtemp())
    if name.startswith("refused"):
        (profile / "Default").mkdir()
        refuse = {"profile": {"default_content_setting_values": {"cookies": 2}}}
        (profile / "Default" / "Preferences").write_text(json.dumps(refuse))
    phone = playwright.chromium.launch_persistent_context(
        profile,
        executable_path=os.environ.get("CHROMIUM") or shutil.which("chromium"),
        args=["--no-sandbox", "--disable-gpu"],
        base_url=url,
        viewport={"width": width, "height": SIZES[width]},
        color_scheme=scheme,
        user_agent=IPHONE if name == "iphone" else None,
    )
    phone.add_cookies([{"name": "cornerwise", "value": cookie, "url": url}])
    return phone


def main() -> None:
    OUT.mkdir(parents=True, exist_ok=True)
    wanted = sys.argv[1:] or list(STATES)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        dist = Path(folder) / "dist"
        shutil.copytree(ROOT / "pwa" / "dist", dist)
        with served(Path(folder)) as (url, cookie):
            for width in SIZES:
                for scheme in ("light", "dark"):
                    for name in wanted:
                        phone = open_phone(playwright, url, cookie, name, width, scheme)
                        page = phone.new_page()
                        STATES[name](page, dist)
                        page.screenshot(path=OUT / f"{width}-{scheme}-{name}.png")
                        phone.close()


if __name__ == "__main__":
    main()
