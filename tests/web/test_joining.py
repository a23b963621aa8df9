"""A short code that opens a match on a second phone."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from cornerwise.service import joining

NOON = datetime(2026, 11, 25, 12, 20, tzinfo=UTC)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch):
    """Set what time it is."""

    def at(moment: datetime) -> None:
        monkeypatch.setattr(joining, "now", lambda: moment)

    at(NOON)
    return at


@pytest.fixture
def match_id(bench, clock) -> str:
    bench.post("/api/v1/matches", json={"name": "Another"})
    return bench.post("/api/v1/matches", json={"name": "Cup"}).json["id"]


def code(bench, match_id: str) -> str:
    return bench.get(f"/api/v1/matches/{match_id}/code").json["code"]


def join(bench, typed: str):
    return bench.post("/api/v1/join", json={"code": typed})


def test_a_code_has_six_signs_none_of_which_is_taken_for_another(bench, match_id):
    answer = bench.get(f"/api/v1/matches/{match_id}/code").json
    assert len(answer["code"]) == 6
    assert set(answer["code"]) <= set("0123456789ABCDEFGHJKMNPQRSTVWXYZ")  # Crockford: no I, L, O, U
    assert answer["expires_at"] == "2026-11-25T14:00:00+00:00"


def test_a_code_opens_its_match(bench, match_id):
    typed = code(bench, match_id)
    assert join(bench, typed).json == {"id": match_id, "name": "Cup"}
    assert join(bench, typed.lower()).json["id"] == match_id


def test_what_looks_alike_is_read_as_meant(bench, match_id, clock):
    for hour in range(500):  # until the code of some hour has a 0 and a 1
        clock(NOON + timedelta(hours=hour))
        typed = code(bench, match_id)
        if {"0", "1"} <= set(typed):
            break
    alike = typed.replace("0", "o").replace("1", "l")
    assert alike != typed
    assert join(bench, alike).json["id"] == match_id
    assert join(bench, alike.replace("l", "I")).json["id"] == match_id


def test_a_code_ends_after_the_time_it_said(bench, match_id, clock):
    typed = code(bench, match_id)
    clock(datetime(2026, 11, 25, 13, 59, 59, tzinfo=UTC))
    assert join(bench, typed).status_code == 200
    assert code(bench, match_id) != typed
    clock(datetime(2026, 11, 25, 14, 0, tzinfo=UTC))
    answer = join(bench, typed)
    assert answer.status_code == 404
    assert "no match has this code now" in answer.json["detail"]


def test_a_deleted_match_has_no_code(bench, match_id):
    typed = code(bench, match_id)
    bench.delete(f"/api/v1/matches/{match_id}")
    assert join(bench, typed).status_code == 404
    assert bench.get(f"/api/v1/matches/{match_id}/code").status_code == 410


@pytest.mark.parametrize("typed", ["", "12345", "1234567", None, 123456])
def test_what_is_no_code_is_refused_by_its_field(bench, typed):
    answer = join(bench, typed)
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json["errors"]] == ["code"]
