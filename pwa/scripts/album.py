"""What the photographing scripts share: a browser at named sizes, light and dark, one picture a state."""

from __future__ import annotations

import argparse
import os
import shutil
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, StorageState, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
SCHEMES = ("light", "dark")
SERVER_ONLY = "delete globalThis.Worker"  # no engine on the device
State = Callable[[Page], None]
"""Brings a page, open at its first address, into a state worth a picture."""


def parser(doc: str | None, states: Mapping[str, State], sizes: Mapping[int, int]) -> argparse.ArgumentParser:
    """Return the arguments: address, states, --width, --scheme."""
    made = argparse.ArgumentParser(description=doc, formatter_class=argparse.RawDescriptionHelpFormatter)
    made.add_argument("url", help="where the app is served")
    made.add_argument("states", nargs="*", help=f"some of: {', '.join(states)}")
    made.add_argument("--width", type=int, choices=list(sizes), action="append")
    made.add_argument("--scheme", choices=SCHEMES, action="append")
    return made


@contextmanager
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        path = os.environ.get("CHROMIUM") or shutil.which("chromium")
        opened = playwright.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        try:
            yield opened
        finally:
            opened.close()


def sign_in(opened: Browser, link: str) -> StorageState:
    """Return what a browser keeps of the coach who is signed in by a link, which works once."""
    page = opened.new_page()
    page.goto(link)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/matches")
    kept = page.context.storage_state()
    page.context.close()
    return kept


def photograph(
    opened: Browser,
    out: Path,
    wanted: argparse.Namespace,
    states: Mapping[str, State],
    sizes: Mapping[int, int],
    *,
    path: str = "/",
    whole_page: Collection[str] = (),
    signed_in: StorageState | None = None,
    server_only: bool = False,
) -> None:
    """Photograph the states that are wanted into a folder, WIDTH-SCHEME-STATE.png.

    sizes : heights by widths [px]      path : where every state begins      whole_page : states that scroll
    server_only : calls come from the server, and are missed when it is gone
    """
    out.mkdir(parents=True, exist_ok=True)
    for width in wanted.width or sizes:
        for scheme in wanted.scheme or SCHEMES:
            for name in wanted.states or states:
                page = opened.new_page(
                    viewport={"width": width, "height": sizes[width]},
                    device_scale_factor=2 if width == 360 else 1,
                    has_touch=width < 1000,
                    color_scheme=scheme,
                    storage_state=signed_in,
                    service_workers="block" if server_only else "allow",
                )
                if server_only:
                    page.add_init_script(SERVER_ONLY)
                page.goto(f"{wanted.url}{path}")
                states[name](page)
                page.wait_for_timeout(400)
                page.screenshot(path=out / f"{width}-{scheme}-{name}.png", full_page=name in whole_page)
                page.context.close()


def photograph_signed_in(
    doc: str | None,
    out: Path,
    states: Mapping[str, State],
    sizes: Mapping[int, int],
    whole_page: Collection[str],
) -> None:
    """Photograph what a coach sees from the list of matches on; --sign-in is her way in."""
    arguments = parser(doc, states, sizes)
    arguments.add_argument("--sign-in", required=True, help="the link that the server printed; it works once")
    wanted = arguments.parse_args()
    with browser() as opened:
        coach = sign_in(opened, wanted.sign_in)
        photograph(
            opened, out, wanted, states, sizes, path="/matches", whole_page=whole_page, signed_in=coach
        )
