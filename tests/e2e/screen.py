"""What the browser tests do again and again: tap, read, ask the API the same, look for trouble."""

from __future__ import annotations

import json
import re
import urllib.request
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, Page, Route, expect

AXE = (Path(__file__).resolve().parents[2] / "pwa/node_modules/axe-core/axe.min.js").read_text()
COURT_M = (9.0, 18.0)  # FIVB Official Volleyball Rules 2025-2028, 1.1

LONGEST = {
    "call": "Right corner → zone 5 middle, on the line",
    "spot": "Right corner",
    "target": "zone 5 middle, on the line",
    "place": "1.1 m to the right of and 1.2 m in front of the passer in 6",
    "kind": "standing topspin",
}

TEXT_BOXES = """() => {
  // Every visible run of text, with the box of its ink: from the font's own measures, not its line box.
  const pen = document.createElement("canvas").getContext("2d");
  const boxes = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode, parent = node.parentElement, text = node.textContent.trim();
    if (!text || parent.closest(".unseen, script, noscript, title") || !parent.checkVisibility()) continue;
    const style = getComputedStyle(parent);
    pen.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const ink = pen.measureText(text);
    const range = document.createRange();
    range.selectNodeContents(node);
    const drawn = parent instanceof SVGElement;
    const rects = drawn ? [parent.getBoundingClientRect()] : [...range.getClientRects()];
    for (const r of rects) {
      if (r.width === 0) continue;
      const middle = r.top + r.height / 2;
      const font = ink.fontBoundingBoxAscent + ink.fontBoundingBoxDescent;
      const baseline = middle - font / 2 + ink.fontBoundingBoxAscent;
      boxes.push({ text, layer: parent.closest(".dock, .thumb") ? "dock" : "page",
        size: parseFloat(style.fontSize), left: r.left, right: r.right,
        top: baseline - ink.actualBoundingBoxAscent, bottom: baseline + ink.actualBoundingBoxDescent });
    }
  }
  return boxes;
}"""


def until(page: Page, so: str, arg: Any = None) -> None:
    """Wait until a function of the page says so. It may be an async one: those the page's own waiting takes
    for true at once, because a promise is something."""
    for _ in range(300):
        if page.evaluate(so, arg):
            return
        page.wait_for_timeout(100)
    raise TimeoutError(so)


def start(page: Page) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", name="Where is their setter?")).to_be_visible()


def pick(page: Page, position: int) -> None:
    """Tap where their setter is, and wait until the call for it is there."""
    page.get_by_role("button", name=f"Setter in {position},").click()
    expect(page.locator(".call .situation b")).to_have_text(str(position))
    expect(page.locator(".captions .angle")).to_be_visible()


def grip(page: Page, key: str) -> Locator:
    return page.locator(f'[data-grip="{key}"]')


def middle(place: Locator) -> tuple[float, float]:
    box = place.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drawn(page: Page, selector: str) -> dict[str, float]:
    """Return the box of a shape in the picture, without its stroke. [px]"""
    return page.locator(f".court-picture {selector}").evaluate(
        "e => { const {x, y, width, height} = e.getBBox(); return {x, y, width, height}; }"
    )


def pixels_per_m(page: Page) -> float:
    """Return the scale of the picture, from the court's sidelines and end lines."""
    court = drawn(page, ".lines .court")
    across, along = court["width"] / COURT_M[0], court["height"] / COURT_M[1]
    assert abs(across - along) < 0.01 * along  # to scale
    return along


def metres(page: Page, selector: str) -> tuple[float, float]:
    """Return the middle of a shape in the picture, in metres from the middle of the court. [m]"""
    court, box, scale = drawn(page, ".lines .court"), drawn(page, selector), pixels_per_m(page)
    right = box["x"] + box["width"] / 2 - court["x"] - court["width"] / 2
    down = box["y"] + box["height"] / 2 - court["y"] - court["height"] / 2
    return right / scale, -down / scale


def ends(page: Page, selector: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return where a line of the picture begins and ends, in metres from the middle of the court. [m]"""
    court, scale = drawn(page, ".lines .court"), pixels_per_m(page)
    places = page.locator(f".court-picture {selector}").evaluate(
        "e => [0, e.getTotalLength()].map((s) => { const {x, y} = e.getPointAtLength(s); return [x, y]; })"
    )
    left, top = court["x"] + court["width"] / 2, court["y"] + court["height"] / 2
    begin, end = (((x - left) / scale, (top - y) / scale) for x, y in places)
    return begin, end


def asked(position: int, **changes: Any) -> dict[str, Any]:
    """Return the request that the first screen should make, in the test's own words."""
    return {
        "level": "high_school",
        "net_height_m": 2.24,
        "server": {"kind": "standing_float"},
        "opponent": {"setter_position": position, "formation": "three"} | changes.pop("opponent", {}),
        "policy": {"use_start_ceiling": True},
    } | changes


def answer(server: Any, request: dict[str, Any], door: str = "calls") -> dict[str, Any]:
    """Return what the API says to a request, without the browser."""
    sent = urllib.request.Request(
        f"{server.url}/api/v1/{door}", json.dumps(request).encode(), {"Content-Type": "application/json"}
    )
    with urllib.request.urlopen(sent, timeout=20) as response:
        return json.load(response)


def with_longest_words(route: Route) -> None:
    """Let the real answer through, with the longest wording that a call can have."""
    response = route.fetch()
    answer = response.json()
    best = answer["best"]
    best["words"] |= LONGEST
    best["target"] |= {"zone": 5, "depth": "middle", "on_the_line": True}
    route.fulfill(response=response, json=answer)


def words(place: Locator) -> str:
    """Return the text of something as it reads, blanks made single."""
    return re.sub(r"\s+", " ", place.evaluate("e => e.innerText ?? e.textContent")).strip()


def signed(points: float) -> str:
    """Return points as the screen writes them, with a true minus sign."""
    text = f"{abs(points):.1f}"
    return text if text == "0.0" else ("+" if points > 0 else "\u2212") + text


def overlaps(page: Page) -> list[tuple[str, str]]:
    """Return the pairs of visible texts whose ink overlaps by more than a pixel."""
    boxes = page.evaluate(TEXT_BOXES)
    assert len(boxes) > 5

    def meet(a: dict, b: dict) -> bool:
        across = min(a["right"], b["right"]) - max(a["left"], b["left"])
        along = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"])
        return a["layer"] == b["layer"] and across > 1 and along > 1

    return [(a["text"], b["text"]) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if meet(a, b)]


def outside(page: Page) -> list[str]:
    """Return the texts that reach beyond the sides of the window, and whether the page scrolls sideways."""
    width = page.evaluate("innerWidth")
    out = [b["text"] for b in page.evaluate(TEXT_BOXES) if b["left"] < -0.5 or b["right"] > width + 0.5]
    if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
        out.append("the page scrolls sideways")
    return out


def axe(page: Page) -> list[tuple[str, str]]:
    """Return what axe-core finds against the page: rule and element. All its rules are run."""
    if page.evaluate("typeof axe") == "undefined":
        page.evaluate(AXE)
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")  # of the others a node each
    assert len(found["passes"]) > 10
    return [(v["id"], node["html"][:120]) for v in found["violations"] for node in v["nodes"]]
