"""Signing in, letting devices in and out again, and what each of them sees."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from .devices import code_of, join, points
from .match import Bench, begin
from .screen import axe, outside, overlaps, words


def test_two_phones_log_one_match_until_one_is_revoked_and_what_it_logged_is_accepted(fresh, nobody):
    coach, phone = nobody(fresh.url), nobody(fresh.url)
    coach.goto(fresh.sign_in)
    expect(coach.get_by_text("the link that signs in once")).to_be_visible()
    assert "#" not in coach.url  # the secret is out of the address
    coach.get_by_role("button", name="Sign in").tap()
    expect(coach).to_have_url(f"{fresh.url}/matches")
    begin(coach, "us", 4)
    match_path = coach.url.removeprefix(fresh.url)
    coach.goto(f"{match_path}/share")
    coach.get_by_role("button", name="Let a phone in").tap()
    join(phone, code_of(coach))
    expect(phone).to_have_url(f"{fresh.url}{match_path}")

    coach.get_by_role("link", name="The match").tap()
    Bench(coach).press("We won")
    points(phone, 1, 0)
    Bench(phone).press("We won")
    points(coach, 2, 0)
    phone.context.set_offline(True)
    Bench(phone).press("They won")
    points(phone, 2, 1)

    coach.goto("/club")
    device = coach.locator(".device-list li", has_text="assistant").first
    device.get_by_role("button", name="Revoke").tap()
    expect(device).to_contain_text("held here for you to accept")
    device.get_by_role("button", name="Revoke", exact=True).tap()
    expect(device).to_contain_text("revoked")
    phone.context.set_offline(False)
    expect(phone.locator(".sync")).to_have_text("here only: revoked", timeout=20_000)
    points(phone, 2, 1)  # what it logged stays with it
    phone.goto("/matches")
    expect(phone.get_by_role("alert")).to_contain_text("The coach has revoked this device.")
    assert phone.request.get(f"/api/v1{match_path.replace('match', 'matches', 1)}").status == 401

    coach.get_by_role("button", name="Look again").tap()
    expect(device).to_contain_text("held")
    state = f"/api/v1{match_path.replace('match', 'matches', 1)}/state"
    assert coach.request.get(state).json()["state"]["points"] == {"us": 2, "them": 0}
    device.get_by_role("button", name="What is it?").tap()
    expect(device).to_contain_text("set 1, rally 3")
    device.get_by_role("button", name="Accept").tap()
    expect(coach.get_by_role("status").filter(has_text="accepted.")).to_be_visible()
    assert coach.request.get(state).json()["state"]["points"] == {"us": 2, "them": 1}


def test_a_server_view_sees_the_call_of_its_match_and_nothing_else(page: Page, server, nobody):
    bench = begin(page, "us", 4)
    call = words(page.locator(".live-call h1"))
    match_id = page.url.rsplit("/", 1)[1]
    made = server.ask("/api/v1/devices/codes", {"role": "server", "match": match_id})
    stand = nobody(server.url)
    join(stand, made["code"])
    stand.get_by_role("button", name="Read. The floor is clear").tap()
    expect(stand.locator("h1.huge")).to_have_attribute("aria-label", re.compile(f"^{call}, "))
    said = stand.locator(".bench > p").first
    expect(said).to_have_text("our server, set 1, 0\u20130 · just now")
    bench.press("We won")
    expect(said).to_contain_text("set 1, 1\u20130", timeout=20_000)
    for path in ("/matches", f"/match/{match_id}", "/club", "/"):
        stand.goto(path)
        expect(stand.locator("h1.huge")).to_be_visible()
        assert stand.get_by_role("link").all_inner_texts() == ["Another code"]
    closed = (f"matches/{match_id}", f"matches/{match_id}/events", "matches", "teams", "opponents", "devices")
    assert {stand.request.get(f"/api/v1/{path}").status for path in closed} == {403}


def test_what_nobody_signed_in_logs_stays_and_is_sent_after_signing_in(fresh, nobody):
    page = nobody(fresh.url)
    bench = begin(page, "us", 4)
    bench.press("We won")
    points(page, 1, 0)
    expect(page.locator(".sync")).to_have_text("here only: sign in")
    page.goto("/matches")
    expect(page.get_by_role("status").filter(has_text="Only on this device")).to_be_visible()
    expect(page.locator(".match .stand")).to_have_text("sets 0\u20130, set 1: 1\u20130")
    page.goto(fresh.sign_in)
    expect(page.get_by_text("1 match is on this device only.")).to_be_visible()
    page.get_by_label("What this device is called").fill("Bench tablet")
    page.get_by_role("button", name="Sign in").tap()
    expect(page.get_by_role("link", name="coach")).to_be_visible()
    page.locator(".match").first.tap()
    expect(page.locator(".sync")).to_have_text("saved and sent")
    stored = page.request.get(f"/api/v1/matches/{page.url.rsplit('/', 1)[1]}/state").json()
    assert stored["state"]["points"] == {"us": 1, "them": 0}

    page.goto("/club")
    expect(page.locator(".device-list b").first).to_have_text("Bench tablet")
    page.get_by_role("button", name="Sign out…").tap()
    page.get_by_role("button", name="Sign out", exact=True).tap()
    expect(page.get_by_text("Nobody is signed in on this device.")).to_be_visible()
    page.goto("/matches")
    expect(page.get_by_role("status").filter(has_text="Nobody is signed in")).to_be_visible()
    assert page.locator(".match").count() == 0  # the club's is gone from this device


def test_a_match_of_nobody_is_kept_from_the_club_that_signs_in_until_it_is_given(fresh, nobody):
    page = nobody(fresh.url)
    bench = begin(page, "us", 4)
    bench.press("We won")
    points(page, 1, 0)
    match = page.url.rsplit("/", 1)[1]
    page.goto(fresh.sign_in)
    page.get_by_label("Keep it on this device instead").check()
    assert (axe(page), outside(page)) == ([], [])
    page.get_by_role("button", name="Sign in").tap()
    item = page.locator(".matches > li", has=page.locator(f'.match[href="/match/{match}"]'))
    expect(item).to_contain_text("kept on this device only")
    item.locator(".match").tap()
    points(page, 1, 0)
    expect(page.locator(".sync")).to_have_text("here only: your choice")
    bench.press("They won")
    points(page, 1, 1)
    page.wait_for_timeout(1000)  # for what must not be sent
    state = f"/api/v1/matches/{match}/state"
    assert page.request.get(state).status == 404
    page.locator(".sync").tap()
    page.locator("dialog").get_by_role("button", name="Keep it with").tap()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=20_000)
    assert page.request.get(state).json()["state"]["points"] == {"us": 1, "them": 1}


SMALL = """all => all.filter(e => {
  const { width, height } = e.getBoundingClientRect();
  return Math.min(width, height) < 44;
}).map(e => e.outerHTML)"""

PAGES = [
    ("coach", "/club", "light"),
    ("coach", "/join#7K2M9XQP", "dark"),
    ("", "/sign-in", "dark"),
    ("", "/matches", "light"),
]


def test_the_pages_are_sound_for_everyone_on_a_small_phone(browser, server):
    for who, path, scheme in PAGES:
        page = browser.new_page(
            viewport={"width": 360, "height": 640},
            color_scheme=scheme,
            base_url=server.url,
            storage_state={"cookies": [server.cookie()] if who else [], "origins": []},
        )
        page.goto(path)
        expect(page.locator("h1")).to_be_visible()
        if path == "/club":
            page.get_by_role("button", name="Show a code").click()
            page.get_by_role("button", name="Revoke…").first.click()
            page.get_by_text("For scripts").click()
            expect(page.locator(".code")).to_be_visible()
        assert axe(page) == []
        assert outside(page) == []
        assert overlaps(page) == []
        small = page.locator("main button, main input, main a, main select, main summary").evaluate_all(SMALL)
        assert small == []
        page.context.close()
