"""A team of our own: from a spreadsheet, serve by serve, into a match, without a network, and out again."""

from __future__ import annotations

import json
import re

from playwright.sync_api import BrowserContext, Page, Route, expect

from .conftest import Server
from .preparing import opened, saved
from .screen import axe, outside, overlaps, until, words

TABLE = """number;name;role;reach
4;Ottilie Brack;setter;2.2
11;Wenna Tarn;outside;24
7;Sunniva Hale;keeper;2.3
13;Petra Lindow;libero;
"""
LIST = re.compile(r"/api/v1/teams$")
STARTERS = {1: 4, 6: 11, 5: 7}
KEPT = """async () => {
  const asked = indexedDB.open("cornerwise");
  await new Promise((ok) => (asked.onsuccess = ok));
  const db = asked.result;
  const all = db.transaction("kept").objectStore("kept").getAll();
  await new Promise((ok) => (all.onsuccess = ok));
  db.close();
  return JSON.stringify(all.result);
}"""


def team_from_a_table(page: Page) -> None:
    page.goto("/")
    page.locator(".fold summary").tap()
    page.get_by_role("link", name="Team").tap()
    page.get_by_label("Its name").fill("Millrace")
    page.get_by_label("Level").select_option("college")
    page.get_by_role("button", name="Add the team").tap()
    expect(page.get_by_role("heading", name="Millrace")).to_be_visible()
    page.locator(".import textarea").fill(TABLE)
    page.get_by_role("button", name="Look at it").tap()


def mended_and_accepted(page: Page) -> None:
    errors = page.locator(".cell-errors li")
    expect(errors).to_have_count(2)
    assert words(errors.nth(0)) == "Row 3, Reach, m: “24”; it needs a reach from 1.2 to 3 m, or in cm."
    assert words(errors.nth(1)).startswith("Row 4, Role: “keeper”; it needs one of")
    expect(page.get_by_role("button", name="Accept")).to_have_count(0)
    expect(page.locator(".player")).to_have_count(0)
    assert axe(page) == []
    page.locator(".import textarea").fill(TABLE.replace(";24\n", ";2.4\n").replace("keeper", "middle"))
    page.get_by_role("button", name="Look at it").tap()
    page.get_by_role("button", name="Accept 4 players").tap()
    expect(page.locator(".player .shirt")).to_have_text(["4", "7", "11", "13"])


def serves_entered(page: Page) -> None:
    form = opened(page, 4)
    form.get_by_role("button", name="Say how she serves").tap()
    form.get_by_label("Kind").select_option("jump_topspin")
    form.get_by_label("Usual pace").fill("72")
    form.get_by_label("May miss").fill("17")
    form.get_by_label("Then defends").select_option("1")
    for spot in ("Right", "Right corner", "Middle"):
        form.get_by_role("button", name=spot, exact=True).tap()
    assert axe(page) == []
    saved(page, form)
    for number, precision in ((7, "elite_women"), (11, "measured")):
        form = opened(page, number)
        form.get_by_role("button", name="Say how she serves").tap()
        form.get_by_label("As precise as").select_option(precision)
        saved(page, form)
    said = page.locator(".player", has_text="Ottilie Brack")
    expect(said).to_contain_text("Jump topspin 72 km/h, from left corner, left, may miss 17 of 100")
    for position, number in STARTERS.items():
        page.get_by_label(f"Player in {position}").select_option(str(number))
    until(
        page,
        "async (id) => `${(await (await fetch(`/api/v1/teams/${id}`)).json()).lineup}` === '4,,,,7,11'",
        page.url.rsplit("/", 1)[1],
    )


def test_a_team_from_a_table_serves_its_own_serves_in_a_match_and_stays_on_the_device_until_deleted(
    phone: BrowserContext, server: Server
):
    page = phone.new_page()
    team_from_a_table(page)
    mended_and_accepted(page)
    serves_entered(page)
    team = page.url

    page.get_by_role("link", name="New match").tap()
    page.get_by_role("button", name="Millrace").tap()
    expect(page.get_by_label("Our name")).to_have_value("Millrace")
    page.get_by_role("button", name="Setter in 4,").tap()
    page.get_by_role("button", name="We serve first").tap()
    call = page.locator(".live-call")
    expect(call.locator(".who")).to_contain_text("#4 Ottilie Brack serves")
    expect(call.locator(".odds")).to_be_visible(timeout=20_000)
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true")
    match = page.url.rsplit("/", 1)[1]
    said = api_call(page, server, match)
    assert said["situation"]["server"]["kind"] == "jump_topspin"
    assert said["policy"]["error_ceiling"] == 0.17
    assert said["best"]["spot"]["name"] in ("left_corner", "left")
    assert words(call.locator("h1")) == said["best"]["words"]["call"]
    assert words(call.locator(".odds")) == said["best"]["words"]["odds"]
    assert said["best"]["next_job"]["long"] is True
    expect(call.locator(".next-job")).to_have_text(f"{said['best']['next_job']['text']}.")

    phone.set_offline(True)
    page.goto(team)
    expect(page.get_by_text("The server cannot be reached.")).to_be_visible()
    expect(page.locator(".player", has_text="Ottilie Brack")).to_contain_text("Jump topspin 72 km/h")
    opened(page, 4).get_by_role("button", name="Save").tap()
    expect(page.get_by_role("alert")).to_contain_text("Nothing was changed.")
    phone.set_offline(False)

    page.reload()
    assert "Ottilie Brack" in page.evaluate(KEPT)
    form = opened(page, 4)
    form.get_by_role("button", name="Delete this player").tap()
    expect(form.get_by_role("alert")).to_contain_text("Her number stays in the logs of matches.")
    form.get_by_role("button", name="Delete for good").tap()
    expect(page.locator(".player .shirt")).to_have_text(["7", "11", "13"])
    until(page, f"async () => !(await ({KEPT})()).includes('Ottilie Brack')")
    kept = json.loads(page.evaluate(KEPT))
    assert "Wenna Tarn" in json.dumps(kept)


def test_a_team_that_is_added_while_the_list_is_on_its_way_stays(page: Page):
    held: list[Route] = []
    released: list[Route] = []

    def hold(route: Route) -> None:
        if route.request.method == "GET" and not released:
            held.append(route)
        else:
            route.fallback()

    page.route(LIST, hold)
    page.goto("/team")
    page.get_by_label("Its name").fill("Late Arrivals")
    expect(page.get_by_text("Looking…")).to_be_visible()
    before = [route.fetch() for route in held]
    page.get_by_role("button", name="Add the team").tap()
    expect(page.get_by_role("heading", name="Late Arrivals")).to_be_visible()
    released += held
    for route, answer in zip(held, before, strict=True):
        route.fulfill(response=answer)
    page.wait_for_timeout(500)  # for what must not come
    expect(page.get_by_role("heading", name="Late Arrivals")).to_be_visible()
    page.get_by_role("link", name="Teams").tap()
    expect(page.get_by_role("link", name="Late Arrivals")).to_be_visible()


def test_of_two_serves_the_better_is_called_and_named_and_one_chosen_by_hand_goes_first(
    page: Page, server: Server
):
    team = server.ask("/api/v1/teams", {"name": "Two Ways", "level": "high_school"})["id"]
    serves = [{"kind": "underhand", "spots": ["middle"]}, {"kind": "jump_float", "speeds_m_s": [16.0]}]
    server.ask(f"/api/v1/teams/{team}/players", {"number": 4, "serves": serves})
    server.ask(f"/api/v1/teams/{team}", {"lineup": [4, None, None, None, None, None]}, "PATCH")
    page.goto("/matches/new")
    page.get_by_role("group", name="Our team").get_by_role("button", name="Two Ways").tap()
    page.get_by_role("button", name="Setter in 4,").tap()
    page.get_by_role("button", name="We serve first").tap()
    which = page.locator(".live-call .which-serve")
    expect(which).to_have_text("Jump float, best of her 2 · ", timeout=20_000)
    match = page.url.rsplit("/", 1)[1]
    said = api_call(page, server, match)
    assert said["best"]["kind"] == "jump_float"
    expect(page.locator(".live-call .odds")).to_have_text(said["best"]["words"]["odds"])
    expect(page.locator(".live-options")).to_contain_text("underhand")
    assert (axe(page), outside(page), overlaps(page)) == ([], [], [])

    page.locator(".badge.us").tap()
    page.get_by_label("How #4 of ours serves").select_option("underhand")
    page.locator("dialog").get_by_role("button", name="Close").tap()
    expect(page.locator(".made-for")).to_contain_text("underhand", timeout=20_000)
    expect(which).to_have_count(0)
    chosen = server.ask(f"/api/v1/matches/{match}/call", {"server": {"kind": "underhand"}})
    expect(page.locator(".live-call .odds")).to_have_text(chosen["best"]["words"]["odds"])
    page.locator(".badge.us").tap()
    page.get_by_label("How #4 of ours serves").select_option("")
    page.locator("dialog").get_by_role("button", name="Close").tap()
    expect(which).to_have_text("Jump float, best of her 2 · ")
    with page.expect_response("**/api/v1/chosen"):  # asked for at once, not with the next tap
        page.locator(".ceiling").get_by_role("button", name="Bolder").tap()
    expect(page.locator(".live-call .odds")).to_be_visible()


def api_call(page: Page, server: Server, match: str) -> dict:
    """Return the API's own call for the match, once it has the log."""
    until(
        page, "async (id) => (await (await fetch(`/api/v1/matches/${id}/state`)).json()).position >= 2", match
    )
    return server.ask(f"/api/v1/matches/{match}/call", {})
