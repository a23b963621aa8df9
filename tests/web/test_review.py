"""After a match, over HTTP: the review, the table of serves, the log."""

from __future__ import annotations

import csv
import io

import pytest

from ..engine.review.recount import recount
from ..engine.review.scripts import script

NAMES = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", " =1+1", "\uff1d1"]


@pytest.fixture
def match(bench):
    def begin(log: list[dict], **match: str) -> str:
        url = f"/api/v1/matches/{bench.post('/api/v1/matches', json=match).json['id']}"
        assert bench.post(f"{url}/events", json={"events": log}).json["refused"] == []
        return url

    return begin


@pytest.mark.parametrize("query", ["", "?side=them", "?set_number=2", "?side=them&set_number=1"])
def test_the_review_of_a_match_is_that_of_the_second_count(bench, match, query):
    log = script(7)
    said = bench.get(f"{match(log)}/review{query}").json
    assert said["position"] == len(log)
    side = "them" if "them" in query else "us"
    set_number = int(query[-1]) if "set_number" in query else None
    expected = recount(log, side, set_number)
    expected.pop("sets")  # its course is compared where the engine is
    assert {name: said[name] for name in expected} == expected


@pytest.mark.parametrize("query", ["side=both", "set_number=0", "set_number=10", "set=1"])
def test_a_question_that_is_none_is_refused(bench, match, query):
    assert bench.get(f"{match(script(0, sets=1, rallies=2))}/review?{query}").status_code == 422


def test_the_table_has_a_line_for_each_serve_with_its_numbers_as_numbers(bench, match):
    log = script(3)
    url = match(log, name="Cup")
    answer = bench.get(f"{url}/serves.csv")
    assert answer.mimetype == "text/csv"
    assert answer.headers["Content-Disposition"].startswith("attachment; filename=")
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    whole = bench.get(f"{url}/review").json["all"]
    assert len(rows) == whole["serves"]["count"]
    assert sum(int(row["won"]) for row in rows) == whole["won"]["count"]
    assert sum(row["ending"] == "ace" and row["won"] == "1" for row in rows) == whole["aces"]["count"]
    assert {row["match"] for row in rows} == {"Cup"}
    called = {e["spot"]["x_m"] for e in log if e["type"] == "call_shown"}
    assert {float(row["called_spot_x_m"]) for row in rows if row["called_spot_x_m"]} <= called


@pytest.mark.parametrize("name", NAMES)
def test_no_cell_of_the_table_is_taken_for_a_formula(bench, match, name):
    log = script(3, sets=1, rallies=6)
    log[0]["them"] = name
    text = bench.get(f"{match(log, name=name)}/serves.csv").text
    rows = list(csv.DictReader(io.StringIO(text)))
    assert rows
    for row in rows:
        assert (row["match"], row["them"]) == (f"'{name}", f"'{name}")
        assert row["us"] == "Quarry Lane"
        for column, cell in row.items():
            if not cell.startswith("'"):
                assert cell[:1] not in "=+@\t\r" or cell == ""
                assert not cell.startswith("-") or column.endswith("_m")
                assert not cell.startswith("-") or float(cell) < 0


def test_the_table_of_a_log_that_is_kept_elsewhere_has_the_same_bytes(bench, match):
    log = script(5)
    log[0]["them"] = "=1+1"
    there = bench.get(f"{match(log, name='+Cup')}/serves.csv")
    here = bench.post("/api/v1/serves", json={"events": log, "name": "+Cup"})
    assert here.json["text"].encode() == there.data
    assert b"'+Cup" in there.data


def test_a_match_without_serves_has_a_table_with_its_heading_only(bench, match):
    text = bench.get(f"{match(script(0, sets=1, rallies=0))}/serves.csv").text
    assert text.startswith("match,us,them,set_number,rally_number,")
    assert text.count("\n") == 1


def test_the_log_is_downloaded_whole_and_can_be_replayed(bench, match):
    log = script(5)
    answer = bench.get(f"{match(log, name='Cup')}/log")
    assert answer.headers["Content-Disposition"].startswith("attachment; filename=")
    assert (answer.json["match"]["name"], answer.json["events"]) == ("Cup", log)
    assert bench.post("/api/v1/replay", json={"events": answer.json["events"]}).status_code == 200


@pytest.mark.parametrize(
    "which", [{}, {"side": "them"}, {"set_number": 2}, {"side": "them", "set_number": None}]
)
def test_a_log_that_is_kept_elsewhere_is_reviewed_like_one_that_is_kept_here(bench, match, which):
    log = script(11)
    query = {name: value for name, value in which.items() if value is not None}
    here = bench.get(f"{match(log)}/review", query_string=query).json
    there = bench.post("/api/v1/review", json={"events": log, **which}).json
    assert here == {"position": len(log), **there}


@pytest.mark.parametrize(
    ("field", "value", "rule"),
    [("side", "both", "schema"), ("set_number", 10, "schema"), ("profile", "beach", "profile")],
)
def test_a_review_of_what_is_none_is_refused_by_its_field(bench, field, value, rule):
    answer = bench.post("/api/v1/review", json={"events": [], field: value})
    assert answer.status_code == 422
    (error,) = answer.json["errors"]
    assert (error["field"], error["value"], error["rule"]) == (field, value, rule)


def test_a_reviewed_log_may_weigh_8_megabytes_and_no_more(bench):
    body = b'{"events": []' + b" " * (8 * 1024 * 1024 - 14) + b"}"
    assert bench.post("/api/v1/review", data=body, content_type="application/json").status_code == 200
    assert bench.post("/api/v1/review", data=body + b" ", content_type="application/json").status_code == 413
