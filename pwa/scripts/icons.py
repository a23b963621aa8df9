"""Make the PNG icons from the SVG one: python pwa/scripts/icons.py"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from playwright.sync_api import sync_playwright

PUBLIC = Path(__file__).resolve().parents[1] / "public"
SIZES = (192, 512)


def main() -> None:
    svg = (PUBLIC / "icon.svg").read_text()
    with sync_playwright() as playwright:
        path = os.environ.get("CHROMIUM") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        for size in SIZES:
            page = browser.new_page(viewport={"width": size, "height": size})
            page.set_content(f"<style>body{{margin:0}}svg{{display:block;width:100vw}}</style>{svg}")
            page.screenshot(path=PUBLIC / f"icon-{size}.png")
        browser.close()


if __name__ == "__main__":
    main()
