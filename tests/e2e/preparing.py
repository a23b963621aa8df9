"""What is entered before a match: players with their serves, and where an opponent's six stand."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect

from .screen import grip, middle


def opened(page: Page, number: int) -> Locator:
    """Open a player of the team on the screen; return her form."""
    page.locator(".player", has=page.locator(".shirt", has_text=re.compile(f"^{number}$"))).tap()
    return page.get_by_role("form", name=f"Player {number}")


def saved(page: Page, form: Locator) -> None:
    form.get_by_role("button", name="Save").tap()
    expect(form).to_have_count(0)


def drag(page: Page, position: int, across_px: float, along_px: float) -> None:
    """Drag one of their six by so many pixels, to the right and down."""
    x, y = middle(grip(page, str(position)).locator(".touch"))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across_px, y + along_px, steps=5)
    page.mouse.up()


def rotation(page: Page, position: int) -> None:
    page.locator(".rotations button").filter(has_text=re.compile(f"^{position}")).click()
    expect(grip(page, str(position))).to_have_attribute("aria-label", re.compile("^Their setter"))


def save_rotation(page: Page, position: int) -> None:
    page.get_by_role("button", name=f"Save for setter in {position}").click()
    expect(page.get_by_text("Saved for this rotation.")).to_be_visible()
