"""Players, pass target and spot moved in the picture, by pointer and by keyboard."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, Request, expect

from .screen import answer, asked, grip, metres, middle, pick, pixels_per_m, start, words


def drag(page: Page, key: str, dx: float, dy: float, steps: int = 10) -> None:
    grip(page, key).scroll_into_view_if_needed()
    x, y = middle(grip(page, key))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx, y + dy, steps=steps)


def passers_of(said: dict) -> list[dict]:
    return [
        {"x_m": p["x_m"], "y_m": p["y_m"], "position": p["position"]}
        for p in said["situation"]["players"]
        if p["role"] == "passer"
    ]


def test_a_dragged_passer_moves_as_far_as_the_finger_and_the_call_follows(page: Page, server):
    start(page)
    pick(page, 1)
    page.evaluate("scrollTo(0, 200)")
    before = {p["position"]: p for p in passers_of(answer(server, asked(1)))}
    scale = pixels_per_m(page)
    with page.expect_request(lambda r: "passers" in (r.post_data or "")):
        drag(page, "passer-6", -20, -12)
    page.mouse.up()
    expect(page.locator(".move-pad")).to_contain_text("Passer 6")
    page.wait_for_timeout(400)
    sent = asked(1, opponent={"passers": [*before.values()]})
    six = next(p for p in sent["opponent"]["passers"] if p["position"] == 6)
    six["x_m"], six["y_m"] = before[6]["x_m"] - 20 / scale, before[6]["y_m"] + 12 / scale
    del sent["opponent"]["formation"]
    best = answer(server, sent)["best"]
    assert words(page.locator(".odds")) == best["words"]["odds"]
    assert words(page.locator(".call h1")) == best["words"]["call"]
    follows = page.locator(".move-pad .follows")  # the call at the thumb, while the picture fills the screen
    assert words(follows) == f"{best['words']['call']} {best['words']['odds']}"


@pytest.mark.parametrize("turned", [False, True], ids=["from our side", "turned round"])
@pytest.mark.parametrize("key", ["setter", "passer-5", "target", "server"])
def test_each_thing_is_dragged_as_far_as_the_finger_and_the_call_follows(
    page: Page, server, key: str, turned: bool
):
    start(page)
    pick(page, 1)
    if turned:
        page.get_by_role("button", name="Turn round").click()
    way, by_x_m, by_y_m = -1 if turned else 1, -0.6, -0.3
    right, up = metres(page, f"[data-grip='{key}'] .touch")
    to = {"x_m": way * right + by_x_m, "y_m": way * up + by_y_m}
    scale = way * pixels_per_m(page)
    drag(page, key, scale * by_x_m, -scale * by_y_m)
    page.mouse.up()
    passers = passers_of(answer(server, asked(1)))
    sent = {
        "setter": asked(1, opponent={"setter_start": to}),
        "passer-5": asked(1, opponent={"passers": [p | to if p["position"] == 5 else p for p in passers]}),
        "target": asked(1, opponent={"pass_target": to}),
        "server": asked(1, server={"kind": "standing_float", "spots": [to]}),
    }[key]
    if key == "passer-5":
        del sent["opponent"]["formation"]
    best = answer(server, sent)["best"]
    expect(page.locator(".odds")).to_have_text(best["words"]["odds"])
    expect(page.locator(".aim")).to_contain_text(best["words"]["place"])
    assert words(page.locator(".call h1")) == best["words"]["call"]
    now_at = metres(page, f"[data-grip='{key}'] .touch")
    assert now_at == pytest.approx((way * to["x_m"], way * to["y_m"]), abs=0.01)


def test_at_most_one_request_is_on_its_way_and_the_last_one_counts(page: Page, server):
    start(page)
    pick(page, 4)
    page.evaluate("scrollTo(0, 200)")
    waiting: set[Request] = set()
    most, sent = 0, []

    def leaves(request: Request) -> None:
        nonlocal most
        if request.url.endswith("/calls"):
            waiting.add(request)
            sent.append(json.loads(request.post_data or "{}"))
            most = max(most, len(waiting))

    page.on("request", leaves)
    page.on("requestfinished", lambda request: waiting.discard(request))
    drag(page, "target", 60, -10, steps=60)
    page.mouse.up()
    page.wait_for_timeout(600)
    assert most == 1
    assert 1 < len(sent) < 60
    assert words(page.locator(".odds")) == answer(server, sent[-1])["best"]["words"]["odds"]


def test_a_drag_stops_where_overlap_says_and_names_who_holds_the_player(page: Page, server):
    start(page)
    pick(page, 4)
    page.evaluate("scrollTo(0, 200)")
    limits = next(p for p in answer(server, asked(4))["situation"]["players"] if p["position"] == 6)["limits"]
    drag(page, "passer-6", 300, 0)
    expect(page.locator(".limits .reached")).to_have_count(1)
    expect(page.locator(".move-pad")).to_contain_text(f"{limits['x_max_m']:.1f} m to our right")
    expect(page.locator(".move-pad")).to_contain_text(f"Held by {limits['by']['x_max_m']}")
    edge = page.locator(".limits .reached").bounding_box()
    for word in page.locator(".captions text").all():  # no word on the line that she has reached
        box = word.bounding_box()
        beside = box["x"] > edge["x"] + edge["width"] or box["x"] + box["width"] < edge["x"]
        assert beside or box["y"] > edge["y"] + edge["height"] or box["y"] + box["height"] < edge["y"]
    page.mouse.up()
    expect(page.get_by_role("alert")).to_have_count(0)


def test_everything_goes_back_to_the_stock_places(page: Page):
    start(page)
    pick(page, 1)
    stock = words(page.locator(".odds"))
    place = grip(page, "server").get_attribute("aria-label")
    grip(page, "server").focus()
    for _ in range(12):
        page.keyboard.press("ArrowLeft")
    expect(page.locator(".odds")).not_to_have_text(stock)
    expect(page.locator(".remark")).to_contain_text("The right corner would win")  # what the fixed spot costs
    page.locator(".under").get_by_role("button", name="Back to stock places").click()
    expect(page.locator(".odds")).to_have_text(stock)
    expect(grip(page, "server")).to_have_attribute("aria-label", place)


@pytest.mark.parametrize(
    ("key", "name"),
    [("setter", "Their setter"), ("passer-5", "Passer 5"), ("target", "Pass target"), ("server", "Server")],
)
def test_each_thing_moves_by_arrow_keys_a_quarter_metre_a_press(page: Page, key: str, name: str):
    start(page)
    pick(page, 1)
    thing = grip(page, key)
    assert thing.get_attribute("aria-label").startswith(f"{name}: ")
    thing.focus()
    x_m, y_m = metres(page, f"[data-grip='{key}'] .touch")
    page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(300)
    assert metres(page, f"[data-grip='{key}'] .touch") == pytest.approx((x_m - 0.25, y_m), abs=0.01)


def test_arrow_keys_follow_the_picture_when_it_is_turned(page: Page):
    start(page)
    pick(page, 1)
    page.get_by_role("button", name="Turn round").click()
    thing = grip(page, "target")
    x, _ = middle(thing)
    thing.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".move-pad")).to_contain_text("1.3 m to our left")  # it stood at 1.0
    assert middle(thing)[0] > x


def test_everything_can_be_reached_and_moved_without_a_pointer(page: Page):
    start(page)

    def tab_to(selector: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            if page.evaluate("(s) => document.activeElement?.matches(s)", selector):
                return
        raise AssertionError(f"no way to {selector} by Tab")

    tab_to(".place[aria-label^='Setter in 4']")
    page.keyboard.press("Enter")
    expect(page.locator(".call h1")).to_contain_text("zone")
    expect(page.locator("[role=status]").last).to_contain_text("zone")  # said aloud
    tab_to("[data-grip='setter']")
    outline = page.locator("[data-grip='setter'] .focus").evaluate("(e) => getComputedStyle(e).stroke")
    assert outline != "none"
    page.keyboard.press("ArrowUp")
    expect(page.locator(".move-pad")).to_be_visible()
    tab_to(".move-pad .ways button")
    page.keyboard.press("Enter")
    tab_to(".move-pad .strong")
    page.keyboard.press("Enter")
    expect(grip(page, "setter")).to_be_focused()
    tab_to(".why > summary")
    page.keyboard.press("Enter")
    expect(page.locator(".bars")).to_be_visible()


def test_single_taps_move_what_is_held(page: Page):
    start(page)
    pick(page, 1)
    grip(page, "setter").scroll_into_view_if_needed()
    x_m, y_m = metres(page, "[data-grip='setter'] .touch")
    page.touchscreen.tap(*middle(grip(page, "setter")))
    page.locator(".move-pad").get_by_role("button", name="Right").tap()
    page.wait_for_timeout(300)
    assert metres(page, "[data-grip='setter'] .touch") == pytest.approx((x_m + 0.25, y_m), abs=0.01)
