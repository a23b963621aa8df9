"""Several devices around one match: letting one in, and what each of them shows."""

from __future__ import annotations

from playwright.sync_api import Page, expect


def join(page: Page, code: str) -> None:
    page.goto(f"/join#{code}")
    page.get_by_role("button", name="Join", exact=True).tap()


def code_of(page: Page) -> str:
    code = page.locator(".code").get_attribute("data-code")
    assert code is not None
    return code


def points(page: Page, ours: int, theirs: int) -> None:
    expect(page.locator(".score .ours")).to_have_text(str(ours), timeout=20_000)
    expect(page.locator(".score .theirs")).to_have_text(str(theirs), timeout=20_000)
