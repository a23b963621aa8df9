"""The match screen in a real browser, one behaviour at a time."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Page, expect

from .match import begin
from .screen import answer, axe, outside, overlaps, words

WAKING_MS = 60_000  # chosen: Python starts within a second; a busy machine may take much longer


def test_four_taps_at_most_lead_from_the_list_to_the_first_call(page: Page, server):
    bench = begin(page, "us", 4)
    assert bench.taps <= 4
    said = answer(
        server,
        {
            "level": "high_school",
            "server": {"kind": "standing_float"},
            "opponent": {"setter_position": 4, "system": "one_setter"},
            "policy": {"use_start_ceiling": True},
        },
    )["best"]["words"]
    assert words(page.locator(".live-call h1")) == said["call"]
    assert words(page.locator(".live-call .odds")) == said["odds"]
    expect(page.locator(".made-for")).to_contain_text("for 0\u20130, setter in 4")


def test_the_call_is_at_least_28_px_high_and_every_button_48(page: Page):
    begin(page, "us", 4)
    size = page.locator(".live-call h1").evaluate("e => parseFloat(getComputedStyle(e).fontSize)")
    assert size >= 28
    for button in page.locator(".log-pad button, .badge, .their-half").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 48


def test_a_grade_and_a_result_are_two_taps_and_the_grade_may_be_put_right(page: Page):
    bench = begin(page, "us", 4)
    first = bench.graded(1)
    bench.agrees()
    expect(page.locator(".grade[aria-pressed=true]")).to_have_text("Pass 1: one choice")
    page.locator(".grade").nth(2).tap()
    bench.means("retracted", event_id=first)
    bench.means("serve_noted", grade=3)
    expect(page.locator(".grade[aria-pressed=true]")).to_have_text("Pass 3: all choices")
    bench.won("them")
    bench.agrees()
    assert bench.state["last_rallies"][-1]["grade"] == 3
    expect(page.locator(".prompt.last")).to_contain_text("pass 3, they won")


def test_while_they_serve_the_next_call_is_for_the_score_after_a_side_out(page: Page):
    bench = begin(page, "them", 2)
    expect(page.locator(".who")).to_contain_text("If we win this one")
    expect(page.locator(".made-for")).to_contain_text("for 1\u20130, setter in 2")
    ahead = words(page.locator(".live-call h1"))
    bench.won("us")
    bench.agrees()
    expect(page.locator(".made-for")).to_contain_text("for 1\u20130, setter in 2")
    assert words(page.locator(".live-call h1")) == ahead


def test_the_kind_of_a_miss_is_an_optional_second_tap(page: Page, server):
    bench = begin(page, "us", 4)
    bench.missed()
    bench.agrees()
    page.locator(".prompt").get_by_role("button", name="wide").tap()
    bench.means("serve_noted", at=(1, 1), error="wide")
    bench.agrees()
    expect(page.locator(".prompt.last")).to_contain_text("we missed, wide")


def test_their_setter_is_put_where_she_is_at_any_moment(page: Page):
    bench = begin(page, "us", 4)
    bench.tap(page.locator(".their-half"))
    bench.tap(page.locator("dialog").get_by_role("button", name="Setter in 6,"))
    bench.means("lineup_corrected", side="them", setter_position=6)
    bench.agrees()
    expect(page.locator(".made-for")).to_contain_text("setter in 6")


def test_the_formation_they_receive_in_is_seen_with_one_tap_and_the_next_call_goes_by_it(page: Page, server):
    bench = begin(page, "us", 4)
    page.locator(".their-half").tap()
    page.locator("dialog").get_by_role("button", name="four", exact=True).tap()
    bench.means("reception_formation_seen", side="them", formation="four")
    expect(page.locator(".made-for")).to_contain_text("setter in 4, four pass")
    expect(page.locator("dialog .grip")).to_have_count(4)
    assert axe(page) == []
    grip = page.locator("dialog .grip").first
    grip.focus()
    grip.press("Shift+ArrowDown")
    page.get_by_role("button", name="They stand like this").tap()
    expect(page.get_by_text("As seen in this rotation.")).to_be_visible()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    bench.means("reception_formation_seen", side="them", formation="four")
    bench.agrees()
    expect(page.locator(".sync")).to_have_text("saved and sent")
    match_id = page.url.rsplit("/", 1)[-1]
    coming = server.ask(f"/api/v1/matches/{match_id}/state")["coming"]
    passers = coming[0]["request"]["opponent"]["passers"]
    assert len(passers) == 4
    assert "formation" not in coming[1]["request"]["opponent"]  # their setter is elsewhere by then
    said = answer(
        server,
        {
            "level": "high_school",
            "server": {"kind": "standing_float"},
            "opponent": {"setter_position": 4, "system": "one_setter", "passers": passers},
            "policy": {"use_start_ceiling": True},
        },
    )["best"]["words"]
    expect(page.locator(".live-call .odds")).to_have_text(said["odds"])
    assert words(page.locator(".live-call h1")) == said["call"]


def test_undo_goes_back_tap_by_tap_to_the_start(page: Page):
    bench = begin(page, "us", 4)
    won = []
    for winner in ("us", "them", "them"):
        won.append(bench.won(winner))
        bench.agrees()
    for event_id in reversed(won):
        bench.undone(event_id)
        bench.agrees()
    assert bench.state["points"] == {"us": 0, "them": 0}


def test_a_contradiction_is_said_once_in_plain_words(page: Page):
    bench = begin(page, "them", 4)
    for seen in (8, 9):
        bench.tap(page.locator(".badge.them"))
        sheet = page.locator("dialog")
        expect(sheet).to_be_visible()
        if sheet.get_by_role("button", name="other").count():
            bench.tap(sheet.get_by_role("button", name="other"))
        bench.tap(sheet.locator(".digits").get_by_role("button", name=str(seen), exact=True))
        bench.tap(sheet.get_by_role("button", name="Take"))
        bench.means("server_seen", side="them", number=seen)
        bench.agrees()
    expected = bench.said["contradictions"][0]
    assert expected["code"] == "other_server_expected"
    expect(page.locator(".prompt.note")).to_contain_text("should be serving #8")
    page.get_by_role("button", name="Seen").tap()
    expect(page.locator(".prompt.note")).to_have_count(0)
    page.reload()
    expect(page.locator(".live")).to_have_attribute("data-fresh", "true")
    expect(page.locator(".prompt.note")).to_have_count(0)


def test_last_times_line_up_of_an_opponent_is_one_tap_away(page: Page):
    page.goto("/matches/new")
    page.get_by_role("button", name="Harbour Street").tap()
    expect(page.get_by_label("Their name")).to_have_value("Harbour Street")
    expect(page.locator("summary", has_text="Their line-up")).to_contain_text("3 8 12 5 17 10")


def test_a_match_is_renamed_and_deleted_with_its_consequence_stated(page: Page, server):
    bench = begin(page, "us", 4)
    bench.won("us")
    bench.agrees()
    expect(page.locator(".sync")).to_have_text("saved and sent")
    address = page.url.removeprefix(server.url)
    page.get_by_role("link", name="Matches").tap()
    item = page.locator(".matches > li", has=page.locator(f'.match[href="{address}"]'))
    item.locator("summary").tap()
    item.get_by_label("Name").fill("Friendly, to be deleted")
    item.get_by_role("button", name="Rename").tap()
    expect(item.locator(".match")).to_contain_text("Friendly, to be deleted")
    item.get_by_role("button", name="Delete…").tap()
    expect(item.get_by_role("alert")).to_contain_text("removed for good")
    item.get_by_role("button", name="Delete for good").tap()
    expect(page.get_by_text("Friendly, to be deleted")).to_have_count(0)


def test_a_pose_of_the_hand_can_be_changed_in_a_match(page: Page):
    bench = begin(page, "us", 4)
    expect(page.locator(".sync")).to_have_text("saved and sent")
    depth = page.locator(".live-call .signal .pose").last
    expect(depth).to_contain_text("deep: index, middle, ring, little finger")
    bench.more("Hand signals")
    page.locator("dialog").get_by_role("button", name="Deep").tap()
    page.locator("dialog").get_by_role("button", name="thumb", exact=True).tap()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    expect(depth).to_contain_text("deep: open hand")
    page.locator("main").get_by_role("button", name="More").tap()
    page.locator("dialog").get_by_role("button", name="Hand signals").tap()
    page.locator("dialog").get_by_role("button", name="Deep").tap()
    page.locator("dialog").get_by_role("button", name="thumb", exact=True).tap()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    expect(depth).to_contain_text("deep: index, middle, ring, little finger")


def test_what_was_called_and_what_was_served_are_both_kept(page: Page, server):
    bench = begin(page, "us", 4)
    bench.graded(2)
    bench.agrees()
    page.locator(".prompt").get_by_role("button", name="where it landed").tap()
    page.locator("dialog").get_by_role("button", name="Middle", exact=True).tap()
    page.locator("dialog").get_by_role("button", name="zone 6").tap()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    bench.button("They won").tap()
    expect(page.locator(".score .theirs")).to_have_text("1")
    expect(page.locator(".sync")).to_have_text("saved and sent")
    match_id = page.url.rsplit("/", 1)[-1]
    record = server.ask(f"/api/v1/matches/{match_id}/state")["state"]["last_rallies"][-1]
    assert record["called"]["spot"]["x_m"] < -4  # the left corner was called
    assert record["spot"]["x_m"] == pytest.approx(0, abs=0.1)
    assert record["landing"] == {"x_m": 0, "y_m": 6.5}


def test_the_left_handed_screen_mirrors_its_columns(page: Page):
    bench = begin(page, "us", 4)
    undo, more = bench.button("Undo", exact=False), bench.button("More")
    before = undo.bounding_box(), more.bounding_box()
    assert before[0]["x"] < before[1]["x"]
    bench.more("This screen")
    page.get_by_label("For the left hand").check()
    page.locator("dialog").get_by_role("button", name="Close").tap()
    assert undo.bounding_box()["x"] > more.bounding_box()["x"]


def test_nothing_is_lost_when_the_server_dies_and_comes_back(page: Page, server, with_device: None):
    bench = begin(page, "us", 4)
    bench.won("us")
    bench.agrees()
    expect(page.locator(".sync")).to_have_text("saved and sent")
    server.stop()
    try:
        bench.graded(2)
        expect(page.locator(".live")).to_have_attribute("data-fresh", "true", timeout=WAKING_MS)
        for winner in ("them", "us", "us"):
            bench.won(winner)
            bench.agrees()  # counted on the device
        expect(page.locator(".sync")).to_contain_text("waiting")
        expect(page.locator(".live")).to_have_class("live")  # nothing else says that a server is missing
        assert axe(page) == []
    finally:
        server.start()
    expect(page.locator(".sync")).to_have_text("saved and sent", timeout=30_000)  # ever more rarely
    bench.agrees()
    page.reload()
    bench.agrees()


def test_a_reload_right_after_a_tap_loses_nothing(page: Page):
    bench = begin(page, "us", 4)
    for winner in ("us", "us", "them"):
        bench.button("We won" if winner == "us" else "They won").tap()
        page.wait_for_timeout(60)
        page.reload()
        bench.means("rally_won", winner=winner)
        bench.agrees()


def test_a_cold_start_paints_the_last_state_before_anybody_answers(page: Page):
    bench = begin(page, "us", 4)
    bench.won("us")
    bench.agrees()
    expect(page.locator(".sync")).to_have_text("saved and sent")
    call = words(page.locator(".live-call h1"))
    for place in ("**/api/v1/**", "**/py/**"):  # neither the server nor this device
        page.route(place, lambda route: route.abort())
    page.reload()
    expect(page.locator(".score .ours")).to_have_text("1")
    assert words(page.locator(".live-call h1")) == call
    expect(page.locator(".made-for")).to_contain_text("for 1\u20130")
    expect(page.locator(".live")).to_have_class(re.compile("stale"))


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_nothing_overlaps_or_reaches_out_of_the_window(page: Page, width: int):
    page.set_viewport_size({"width": width, "height": 800})
    bench = begin(page, "us", 4)
    assert (outside(page), overlaps(page)) == ([], [])
    assert axe(page) == []
    bench.graded(2)
    bench.agrees()
    assert (outside(page), overlaps(page)) == ([], [])
    bench.won("them")
    bench.agrees()
    assert (outside(page), overlaps(page)) == ([], [])
    assert axe(page) == []


@pytest.mark.parametrize(
    "name",
    [
        "Last rallies",
        "Penalty",
        "Wrong server",
        "Put right by hand",
        "Served elsewhere",
        "Hand signals",
        "Notes",
        "This screen",
    ],
)
def test_every_sheet_is_clean_and_closes_by_escape(page: Page, name: str):
    bench = begin(page, "us", 4)
    expect(page.locator(".sync")).to_have_text("saved and sent")
    bench.more(name)
    expect(page.locator("dialog h2")).to_be_visible()
    assert axe(page) == []
    page.keyboard.press("Escape")
    expect(page.locator("dialog")).to_have_count(0)


def test_every_page_around_the_play_is_clean(page: Page):
    """List, new match, players, time-out, end of a set and of the match."""
    page.goto("/matches")
    expect(page.locator(".match").first).to_be_visible()
    assert axe(page) == []
    page.get_by_role("link", name="New match").tap()
    expect(page.get_by_role("heading", name="Where is their setter?")).to_be_visible()
    assert axe(page) == []
    bench = begin(page, "us", 4)
    bench.press("Players")
    expect(page.locator("dialog h2")).to_be_visible()
    assert axe(page) == []
    page.keyboard.press("Escape")
    bench.more("Our time-out")
    expect(page.locator(".next-calls b", has_text="zone")).to_have_count(3)
    assert axe(page) == []
    page.keyboard.press("Escape")
    bench.won("us")
    for end, said in (("The set is over", "We won set 1"), ("The match is over", "We won the match")):
        if end == "The match is over":
            page.get_by_role("button", name="They serve first").tap()
        bench.press("More")
        page.locator("dialog summary").tap()
        page.locator("dialog").get_by_role("button", name=end).tap()
        expect(page.get_by_role("heading", name=said)).to_be_visible()
        assert axe(page) == []


def test_the_review_adds_up_and_is_clean(page: Page, server):
    page.goto("/matches")
    page.locator(".matches > li", has_text="A match to try").locator("summary").tap()
    page.locator(".matches > li", has_text="A match to try").get_by_role("link", name="Review").tap()
    expect(page.locator(".review-table").first).to_be_visible()
    by_server = page.locator(".review-table").first.locator("tbody tr td:nth-child(2)")
    counts = [int(words(cell).split()[0]) for cell in by_server.all()]
    total = int(words(page.locator(".headline .of").first).split()[-1])
    assert sum(counts) == total > 0
    assert axe(page) == []
    with page.expect_download() as download:
        page.get_by_role("button", name="Serves as CSV").click()
    lines = download.value.path().read_text().splitlines()
    assert len(lines) == total + 1
    with page.expect_download() as download:
        page.get_by_role("button", name="Log as JSON").click()
    assert json.loads(download.value.path().read_text())["match"]["demo"] is True


def test_two_matches_on_one_device_stay_apart(page: Page):
    first = begin(page, "us", 4)
    first.won("us")
    first.agrees()
    second = begin(page, "them", 1)
    second.agrees()
    page.get_by_role("link", name="Matches").tap()
    page.locator(".match", has_text="1\u20130").first.tap()
    first.agrees()
