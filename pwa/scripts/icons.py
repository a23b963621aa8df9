"""Make the PNG icons from the SVG one: python pwa/scripts/icons.py"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

PUBLIC = Path(__file__).resolve().parents[1] / "public"
GROUND = "#f7f6f2"
# Name, side in pixels, share of the side that the drawing takes. A phone may cut off of a maskable icon what
# lies outside a circle of radius 0.4 (W3C Web App Manifest, "icon masks"): the farthest ink, at 0.48 from the
# middle, comes to lie at 0.37.
ICONS = (
    ("icon-192", 192, 1.0),
    ("icon-512", 512, 1.0),
    ("icon-maskable-192", 192, 0.76),
    ("icon-maskable-512", 512, 0.76),
    ("apple-touch-icon", 180, 0.9),
)


def main() -> None:
    svg = (PUBLIC / "icon.svg").read_text()
    with sync_playwright() as playwright:
        path = os.environ.get("CHROMIUM") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        for name, side, share in ICONS:
            page = browser.new_page(viewport={"width": side, "height": side})
            place = f"margin:{(1 - share) / 2:%};width:{share:%}"
            page.set_content(
                f"<style>body{{margin:0;background:{GROUND}}}svg{{display:block;{place}}}</style>{svg}"
            )
            page.screenshot(path=PUBLIC / f"{name}.png")
        browser.close()


if __name__ == "__main__":
    main()
