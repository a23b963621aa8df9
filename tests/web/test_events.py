"""A match's log over HTTP: batches in, pages out."""

from __future__ import annotations

from typing import Any

import pytest
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened, RallyWon, SetStarted
from cornerwise.engine.match.logbook import entry_id, logged
from cornerwise.service import live

EVENTS = (MatchOpened(us="Quarry Lane"), SetStarted("us"), *[RallyWon("us")] * 8)
LOG = [format_entry(entry) for entry in logged(*EVENTS)]


@pytest.fixture
def url(bench) -> str:
    return f"/api/v1/matches/{bench.post('/api/v1/matches', json={}).json['id']}/events"


def posted(bench, url: str, events: list[Any]) -> dict[str, Any]:
    response = bench.post(url, json={"events": events})
    assert response.status_code == 200
    return response.json


def placed(events: list[dict], first: int) -> list[dict[str, Any]]:
    return [{"id": event["id"], "position": first + i} for i, event in enumerate(events)]


def test_events_are_taken_with_their_positions_and_read_back_as_they_were(bench, url):
    answer = posted(bench, url, LOG)
    assert answer == {"accepted": placed(LOG, 1), "known": [], "refused": [], "position": len(LOG)}
    page = bench.get(url).json
    assert [item["event"] for item in page["items"]] == LOG
    assert [item["position"] for item in page["items"]] == [*range(1, len(LOG) + 1)]
    assert page["more"] is False


def test_events_that_are_there_already_are_known_by_their_first_position(bench, url):
    posted(bench, url, LOG[:4])
    answer = posted(bench, url, [LOG[5], LOG[1], LOG[4], LOG[1], LOG[5]])
    assert answer["accepted"] == [{"id": LOG[5]["id"], "position": 5}, {"id": LOG[4]["id"], "position": 6}]
    assert answer["known"] == [{"id": LOG[1]["id"], "position": 2}]
    assert answer["position"] == 6


def test_a_page_says_which_event_is_where_the_reader_goes_on(bench, url):
    posted(bench, url, LOG)
    for after in (1, 4, len(LOG)):
        assert bench.get(f"{url}?after={after}").json["after_id"] == LOG[after - 1]["id"]
    for after in (0, len(LOG) + 1, 5000):
        assert bench.get(f"{url}?after={after}").json["after_id"] is None


def test_a_batch_for_another_log_is_refused_whole_and_nothing_of_it_is_kept(bench, url):
    """As of a server that was restored from a backup after the sender had read on."""
    posted(bench, url, LOG[:3])
    good = {"position": 3, "id": LOG[2]["id"]}
    for known in ({**good, "position": 2}, {**good, "id": LOG[5]["id"]}, {"position": 7, "id": LOG[6]["id"]}):
        refused = bench.post(url, json={"events": LOG[3:], "known": known})
        assert (refused.status_code, refused.json["type"]) == (409, "/problems/another_log")
        assert len(bench.get(url).json["items"]) == 3
    taken = bench.post(url, json={"events": LOG[3:], "known": good}).json
    assert taken["accepted"] == placed(LOG[3:], 4)


@pytest.mark.parametrize(
    "known", [{}, {"position": 1}, {"position": 0, "id": LOG[0]["id"]}, None, 3, {"id": "x"}]
)
def test_a_known_event_that_is_none_is_refused_by_its_field(bench, url, known):
    refused = bench.post(url, json={"events": LOG[:1], "known": known})
    assert refused.status_code == 422
    assert refused.json["errors"][0]["field"].startswith("known")


def test_a_bad_event_is_refused_by_its_field_and_the_good_ones_land(bench, url):
    bad = [
        {**LOG[2], "id": entry_id(50), "winner": "nobody"},
        {**LOG[3], "id": "7"},
        "not an event",
        {**LOG[4], "id": entry_id(51), "mood": "good"},
        {name: value for name, value in LOG[5].items() if name != "rally_number"},
    ]
    mixed = [bad[0], LOG[0], bad[1], bad[2], LOG[1], bad[3], bad[4], LOG[2]]
    answer = posted(bench, url, mixed)
    assert answer["accepted"] == placed(LOG[:3], 1)
    said = [(r["index"], r["id"], r["error"]["field"], r["error"]["rule"]) for r in answer["refused"]]
    assert said == [
        (0, entry_id(50), "events.0.winner", "one_of"),
        (2, "7", "events.2.id", "event_id"),
        (3, None, "events.3", "event_shape"),
        (5, entry_id(51), "events.5.mood", "event_shape"),
        (6, LOG[5]["id"], "events.6.rally_number", "event_shape"),
    ]
    assert answer["refused"][0]["error"]["value"] == "nobody"
    assert answer["refused"][0]["error"]["expected"] == "one of us, them"
    assert [item["event"]["id"] for item in bench.get(url).json["items"]] == [e["id"] for e in LOG[:3]]


@pytest.mark.parametrize("text", ["\0", "Quarry\0Lane", "\ud800", "half \udfff"])
def test_text_that_no_database_holds_is_refused_event_by_event(bench, url, text):
    bad = [{**LOG[0], "us": text}, {**LOG[1], "device": text}, {text: 7}, text]
    answer = posted(bench, url, [*bad, LOG[2]])
    assert answer["accepted"] == placed([LOG[2]], 1)
    said = [(r["error"]["field"], r["error"]["rule"]) for r in answer["refused"][:2]]
    assert said == [("events.0.us", "text"), ("events.1.device", "text")]


def test_a_batch_of_nothing_but_bad_events_changes_nothing(bench, url):
    answer = posted(bench, url, [None, 7, {}])
    assert (answer["accepted"], answer["position"], len(answer["refused"])) == ([], 0, 3)


def test_a_reader_goes_on_from_her_last_position_page_by_page(bench, url):
    posted(bench, url, LOG)
    seen, after = [], 0
    while True:
        page = bench.get(f"{url}?after={after}&limit=4").json
        seen += [item["event"] for item in page["items"]]
        if not page["more"]:
            break
        after = page["items"][-1]["position"]
    assert seen == LOG
    assert bench.get(f"{url}?after={len(LOG)}").json == {
        "items": [], "more": False, "after_id": LOG[-1]["id"],
    }  # fmt: skip


@pytest.mark.parametrize("count", [0, 501])
def test_a_batch_holds_1_to_500_events(bench, url, count):
    response = bench.post(url, json={"events": [{}] * count})
    assert response.status_code == 422
    assert response.json["errors"][0]["expected"] == "a list of 1 to 500 items"


def test_a_batch_of_500_events_is_taken(bench, url):
    batch = [{**LOG[0], "id": entry_id(n)} for n in range(500)]
    assert posted(bench, url, batch)["position"] == 500


def test_a_batch_may_weigh_a_megabyte_and_no_more(bench, url):
    body = b'{"events": [7' + b" " * (1024 * 1024 - 15)
    full = bench.post(url, data=body + b"]}", content_type="application/json")
    assert len(body) + 2 == 1024 * 1024
    assert full.status_code == 200
    assert bench.post(url, data=body + b" ]}", content_type="application/json").status_code == 413


def test_a_full_match_refuses_further_events_by_name(bench, url, monkeypatch):
    monkeypatch.setattr(live, "LONGEST_LOG", 6)
    answer = posted(bench, url, LOG[:4])
    answer = posted(bench, url, LOG[:8])
    assert (len(answer["known"]), len(answer["accepted"]), answer["position"]) == (4, 2, 6)
    refused = [(r["index"], r["error"]["rule"]) for r in answer["refused"]]
    assert refused == [(6, "log_length"), (7, "log_length")]


def test_the_bound_of_a_match_is_20000_events():
    assert live.LONGEST_LOG == 20_000


@pytest.mark.parametrize(
    "query",
    ["after=-1", "after=20001", "after=x", "limit=0", "limit=501", "since=3", "after=", "after=1&x=1"],
)
def test_a_question_that_is_none_is_refused(bench, url, query):
    assert bench.get(f"{url}?{query}").status_code == 422


TOO_DEEP = b'{"events": [%s7%s]}' % (b"[" * 19, b"]" * 19)


@pytest.mark.parametrize("body", [b"", b"[]", b"{}", b'{"events": NaN}', b'{"events": {}}', TOO_DEEP])
def test_a_body_that_is_no_batch_is_refused(bench, url, body):
    assert bench.post(url, data=body, content_type="application/json").status_code in (400, 422)
    assert bench.get(url).json["items"] == []
