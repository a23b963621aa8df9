"""The whole way of a new user: from the first address to a match on two phones, one of them let out again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from .conftest import Server
from .devices import code_of, points
from .match import Bench
from .preparing import drag, opened, rotation, save_rotation, saved
from .screen import grip, metres, until, words

TEAM, THEM = "Millrace", "Harrow Lane"
TABLE = """number,name,role,reach
4,Ottilie Brack,setter,2.2
11,Wenna Tarn,outside,24
7,Sunniva Hale,keeper,2.3
9,,middle,2.35
13,Petra Lindow,libero,
"""
MENDED = TABLE.replace(",24\n", ",2.4\n").replace("keeper", "opposite")
STARTERS = {1: 4, 2: 7, 6: 11}
SETTERS_TURNS = (4, 3)  # where their setter is while #4 serves, and after one side-out of each team
MOVED_M = 0.5  # a drag of 30 pixels on a phone's court, at least
WAKING_MS = 60_000


class Club:
    """What the API says, asked with the cookie of a phone."""

    def __init__(self, page: Page, server: Server) -> None:
        self._request, self._headers = page.context.request, {"Origin": server.url}

    def ask(self, path: str, body: Any = None) -> dict[str, Any]:
        address = f"/api/v1/{path}"
        if body is None:
            answer = self._request.get(address)
        else:
            answer = self._request.post(address, data=body, headers=self._headers)
        assert answer.ok, (path, answer.status)
        return answer.json()

    def points(self, match: str) -> tuple[int, int]:
        said = self.ask(f"matches/{match}/state")["state"]["points"]
        return said["us"], said["them"]

    def call(self, match: str) -> dict[str, Any]:
        return self.ask(f"matches/{match}/call", {})


def signed_in(page: Page, server: Server) -> None:
    page.goto(server.sign_in)
    page.get_by_role("button", name="Sign in").tap()
    expect(page).to_have_url(f"{server.url}/matches")


def team_pasted(page: Page) -> None:
    page.goto("/team")
    page.get_by_label("Its name").fill(TEAM)
    page.get_by_role("button", name="Add the team").tap()
    expect(page.get_by_role("heading", name=TEAM)).to_be_visible()
    box = page.locator(".import textarea")
    box.fill(TABLE)
    page.get_by_role("button", name="Look at it").tap()
    errors = page.locator(".cell-errors li")
    expect(errors).to_have_count(2)
    assert words(errors.nth(0)) == "Row 3, Reach, m: “24”; it needs a reach from 1.2 to 3 m, or in cm."
    assert words(errors.nth(1)).startswith("Row 4, Role: “keeper”; it needs one of")
    expect(page.get_by_role("button", name="Accept")).to_have_count(0)
    expect(page.locator(".player")).to_have_count(0)
    box.fill(MENDED)
    page.get_by_role("button", name="Look at it").tap()
    page.get_by_role("button", name="Accept 5 players").tap()
    expect(page.locator(".player .shirt")).to_have_text(["4", "7", "9", "11", "13"])


def serves_entered(page: Page, club: Club) -> None:
    """Three servers: a ceiling and a long way of her own, a measured scatter, a level of precision."""
    for number, kind, fields in (
        (4, "jump_topspin", {"Usual pace": "72", "May miss": "17"}),
        (7, "jump_float", {"Usual pace": "58", "May miss": "9"}),
        (11, "standing_float", {"Usual pace": "50"}),
    ):
        form = opened(page, number)
        form.get_by_role("button", name="Say how she serves").tap()
        form.get_by_label("Kind").select_option(kind)
        for label, value in fields.items():
            form.get_by_label(label).fill(value)
        saved(page, form)
    for position, number in STARTERS.items():
        page.get_by_label(f"Player in {position}").select_option(str(number))
    team = page.url.rsplit("/", 1)[1]
    until(
        page,
        "async (id) => `${(await (await fetch(`/api/v1/teams/${id}`)).json()).lineup}` === '4,7,,,,11'",
        team,
    )
    serves = {one["number"]: one["serves"] for one in club.ask(f"teams/{team}")["roster"] if one["serves"]}
    assert {number: (one["kind"], one["error_ceiling"]) for number, [one] in serves.items()} == {
        4: ("jump_topspin", 0.17), 7: ("jump_float", 0.09), 11: ("standing_float", None),
    }  # fmt: skip


def opponent_dragged(page: Page, club: Club) -> dict[int, set[tuple[float, float]]]:
    """Enter an opponent; return where their passers stand, by their setter's position. [m]"""
    page.goto("/opponents")
    page.get_by_label("New opponent").fill(THEM)
    page.get_by_role("button", name="Add").tap()
    expect(page.get_by_role("heading", name=THEM)).to_be_visible()
    expect(grip(page, "6")).to_be_visible(timeout=WAKING_MS)
    address = f"opponents/{page.url.rsplit('/', 1)[1]}/formations"
    stand = {}
    for setter in SETTERS_TURNS:
        rotation(page, setter)
        before = {one["position"]: one for one in club.ask(f"{address}/{setter}")["players"]}
        drag(page, 6, 0, -30)
        save_rotation(page, setter)
        kept = club.ask(f"{address}/{setter}")
        six = {one["position"]: one for one in kept["players"]}
        assert kept["entered"]
        assert six[6]["y_m"] > before[6]["y_m"] + MOVED_M  # up the screen is away from the net
        stand[setter] = {(one["x_m"], one["y_m"]) for one in kept["players"] if one["passes"]}
    return stand


def match_begun(page: Page) -> str:
    """Begin a match with what was entered; return its id."""
    page.goto("/matches/new")
    page.get_by_role("group", name="Our team").get_by_role("button", name=TEAM).tap()
    page.get_by_role("group", name="Prepared opponents").get_by_role("button", name=THEM).tap()
    page.get_by_role("button", name=f"Setter in {SETTERS_TURNS[0]},").tap()
    page.get_by_role("button", name="We serve first").tap()
    expect(page.locator(".live-call .odds")).to_be_visible(timeout=WAKING_MS)
    sent(page)
    return page.url.rsplit("/", 1)[1]


def sent(page: Page) -> None:
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=WAKING_MS)
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true", timeout=WAKING_MS)


def call_has(page: Page, club: Club, match: str, server: int, ceiling: float, passers: set) -> None:
    """What was entered is in the call on the screen, and the API gives the same."""
    said = club.call(match)
    assert said["made_for"]["server"]["number"] == server
    assert said["policy"]["error_ceiling"] == ceiling
    assert "passers" not in {one["name"] for one in said["assumed"]}
    assert {(p["x_m"], p["y_m"]) for p in said["situation"]["players"] if p["role"] == "passer"} == passers
    shown = page.locator(".live-call")
    expect(shown.locator(".who")).to_contain_text(f"#{server}")
    expect(shown.locator(".odds")).to_have_text(said["best"]["words"]["odds"], timeout=WAKING_MS)
    assert words(shown.locator("h1")) == said["best"]["words"]["call"]
    expect(page.locator(".ceiling p")).to_have_text(f"may miss {100 * ceiling:.0f} of 100")
    drawn = [metres(page, f".receiver.passer >> nth={nth} >> circle") for nth in range(len(passers))]
    assert sorted(drawn) == [pytest.approx(place, abs=0.05) for place in sorted(passers)]
    expect(page.locator(".live-picture p", has_text="Assumed:")).not_to_contain_text("passers stand")
    page.locator(".their-half").tap()
    expect(page.locator("dialog")).to_contain_text(f"As entered for {THEM}.")
    page.locator("dialog").get_by_role("button", name="Close").tap()


def let_in(coach: Page, phone: Page, server: Server, match: str) -> None:
    coach.goto(f"/match/{match}/share")
    coach.get_by_role("button", name="Let a phone in").tap()
    phone.goto("/join")
    phone.get_by_label("Code from the coach").fill(code_of(coach))
    phone.get_by_label("What this device is called").fill("Second phone")
    phone.get_by_role("button", name="Join", exact=True).tap()
    expect(phone).to_have_url(f"{server.url}/match/{match}")
    coach.get_by_role("link", name="The match").tap()


def revoked(coach: Page) -> Any:
    coach.goto("/club")
    device = coach.locator(".device-list li", has_text="Second phone")
    device.get_by_role("button", name="Revoke").tap()
    device.get_by_role("button", name="Revoke", exact=True).tap()
    expect(device).to_contain_text("revoked")
    return device


def test_a_new_user_goes_from_the_first_address_to_a_match_on_two_phones_one_of_them_let_out_again(
    fresh: Server, nobody: Callable[..., Page], with_device: None
):
    coach, phone = nobody(fresh.url, keeps=True), nobody(fresh.url, keeps=True)
    club = Club(coach, fresh)
    signed_in(coach, fresh)
    team_pasted(coach)
    serves_entered(coach, club)
    stand = opponent_dragged(coach, club)
    match = match_begun(coach)
    call_has(coach, club, match, 4, 0.17, stand[4])

    let_in(coach, phone, fresh, match)
    points(phone, 0, 0)
    Bench(coach).press("We won")
    points(phone, 1, 0)
    Bench(phone).press("They won")
    points(coach, 1, 1)
    assert club.points(match) == (1, 1)
    sent(coach)
    for page in (coach, phone):  # each side has rotated once by then
        call_has(page, club, match, 7, 0.09, stand[3])

    phone.context.set_offline(True)
    Bench(phone).press("We won")
    points(phone, 2, 1)
    device = revoked(coach)
    assert club.points(match) == (1, 1)
    phone.context.set_offline(False)
    expect(phone.locator(".sync")).to_have_text("here only: revoked", timeout=WAKING_MS)
    points(phone, 2, 1)  # what it logged stays with it
    phone.goto("/matches")
    expect(phone.get_by_role("alert")).to_contain_text("The coach has revoked this device.")

    coach.get_by_role("button", name="Look again").tap()
    expect(device).to_contain_text("held")
    assert club.points(match) == (1, 1)  # not before it is accepted
    device.get_by_role("button", name="What is it?").tap()
    expect(device).to_contain_text("set 1, rally 3")
    device.get_by_role("button", name="Accept").tap()
    expect(coach.get_by_role("status").filter(has_text="accepted.")).to_be_visible()
    assert club.points(match) == (2, 1)
    coach.goto(f"/match/{match}")
    points(coach, 2, 1)
