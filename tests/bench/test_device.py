"""The engine on the device, in Chromium: what a first visit weighs, how fast it starts and answers. Printed.

Times are as measured on this machine, and times PHONE for a phone of the middle range.
"""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from playwright.sync_api import Page

from ..e2e.conftest import *  # noqa: F403  the server and the browser of the browser tests
from ..engine.review.scripts import script
from ..test_dist import shell

DIST = Path(__file__).resolve().parents[2] / "pwa" / "dist"
PHONE = (
    3.0  # estimate, from memory: single-core scores of a phone of the middle range are a third of a desktop's
)
ASK = """async ({ questions, first }) => {
  const began = performance.now();
  const worker = new Worker(first, { type: "module" });
  const said = () => new Promise((resolve) => (worker.onmessage = ({ data }) => resolve(data)));
  const awake = await said();
  const took = [performance.now() - began];
  for (const [id, { door, request }] of questions.entries()) {
    const asked = performance.now();
    const answer = said();
    worker.postMessage({ id, door, request });
    if (!("answer" in (await answer))) throw new Error(door);
    took.push(performance.now() - asked);
  }
  worker.terminate();
  return took;
}"""


def weight(files: list[Path]) -> int:
    return sum(len(gzip.compress(file.read_bytes(), 9)) for file in files)


def test_what_comes_over_the_wire():
    later = {*DIST.glob("assets/*"), DIST / "manifest.webmanifest", DIST / "sw.js"} - {*shell()}
    engine = [file for file in DIST.glob("py/*") if file.suffix != ".gz"]
    print(f"\nfirst visit, gz: shell {weight(shell()) / 1e3:.0f} kB, before anything else")
    print(f"then the other pages {weight([f for f in later if f.suffix != '.gz']) / 1e3:.0f} kB")
    own = weight([DIST / "py/cornerwise.zip"])
    print(f"and the engine {weight(engine) / 1e6:.2f} MB, of which our own {own / 1e3:.0f} kB")
    assert engine


@pytest.mark.parametrize(("level", "kind"), [("high_school", "standing_float"), ("college", "jump_float")])
def test_how_fast_the_device_starts_and_answers(
    page: Page, base_url: str, with_device: None, level: str, kind: str
):
    page.goto("/")
    worker = next(f"/assets/{file.name}" for file in DIST.glob("assets/worker-*.js"))
    log = script(1, sets=3, rallies=40)[:250]
    call = {"level": level, "server": {"kind": kind}, "policy": {"use_start_ceiling": True}}
    calls = [{**call, "opponent": {"setter_position": 1 + n % 6}} for n in range(9)]
    moved = [
        {**c, "opponent": {**c["opponent"], "pass_target": {"x_m": -0.5, "y_m": 1.1}}} for c in calls[:4]
    ]
    questions = [{"door": "call", "request": r} for r in (*calls, *moved)]
    questions += [{"door": "replay", "request": {"events": log}}] * 3
    page.evaluate(ASK, {"questions": [], "first": worker})  # the files are there, and compiled
    took = page.evaluate(ASK, {"questions": questions, "first": worker})
    start, first, *rest = took
    others, dragged, replays = sorted(rest[:8]), sorted(rest[8:12]), sorted(rest[12:])
    rows = {
        "worker starts": start,
        "first call of a server": first,
        "next call, not worked out ahead": others[len(others) // 2],
        "call while something is dragged": dragged[len(dragged) // 2],
        "replay of 250 events": replays[len(replays) // 2],
    }
    print(f"\n{level} {kind}, ms{'':28}here   phone (x {PHONE:g}, an estimate)")
    for name, ms in rows.items():
        print(f"{name:40} {ms:8.0f} {PHONE * ms:8.0f}")
    assert all(ms > 0 for ms in took)


def test_how_fast_a_tap_shows_a_call_worked_out_ahead(page: Page, with_device: None):
    page.goto("/")
    page.get_by_role("button", name="Setter in 4,").click()
    page.locator("[data-calls-from=device]").wait_for(state="attached", timeout=60_000)
    page.wait_for_timeout(15_000)  # all six are worked out
    ms = page.evaluate(
        """async () => {
          const button = document.querySelector('[aria-label^="Setter in 1,"]');
          const began = performance.now();
          button.click();
          const old = () => document.querySelector(".call .situation b")?.textContent !== "1";
          while (old() || document.querySelector(".stale")) await new Promise(requestAnimationFrame);
          return performance.now() - began;
        }"""
    )
    print(f"\ntap to the next call, worked out ahead: {ms:.0f} ms, phone (x {PHONE:g}) {PHONE * ms:.0f} ms")
