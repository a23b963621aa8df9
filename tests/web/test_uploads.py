"""Tables that are no tables: too large, malformed, made to hurt. Refused in plain words; nothing is kept."""

from __future__ import annotations

import gzip
import tracemalloc
from io import RawIOBase
from typing import Any

import pytest

from .test_player_table import URL, roster, sent

MEGABYTE = 1024 * 1024
MILLION_COLUMNS = b"number" + b",x" * 500_000
GOOD = "number,name\n4,Ilse\n"


@pytest.fixture
def team(bench) -> str:
    return bench.post(URL, json={"name": "First team"}).json["id"]


@pytest.mark.parametrize("query", ["", "?dry_run=0"])
@pytest.mark.parametrize(
    ("body", "status", "words"),
    [
        (b"number,name\n4,Il\0se\n", 422, "U+0000"),
        (b"\0" * 1000, 422, "U+0000"),
        (GOOD.encode("utf-16-le"), 422, "U+0000"),  # without its mark it looks like text with zeros
        (GOOD.encode("utf-16-be"), 422, "U+0000"),
        ("number,name\n4,\u00c9lise\n".encode("utf-16-le"), 400, "UTF-8"),
        (b"\xff\xfe\x00", 400, "UTF-8"),  # a mark, and half a character
        (b"\xff\xfe\x00\xd8a\x00", 400, "UTF-8"),  # half a pair
        (GOOD.encode("utf-32"), 422, "U+0000"),
        (MILLION_COLUMNS, 422, "characters"),
        (b"number" + b",x" * 60, 422, "at most 60 columns"),
        (b"number\n" + b"4\n" * 450_000, 422, "characters"),
        (b"number\n" + b"4\n" * 501, 422, "at most 500 rows"),
        (b"number,name\n4," + b"x" * 200_000, 422, "a table: rows of cells"),
        (b"number,name\n4," + b"x" * 500_000, 422, "characters"),
        (b"number,name\n4," + b"x" * 501, 422, "cells of at most 500 characters"),
        (b"number,name\n4," + b"x" * 10 * MEGABYTE, 413, "1024 KB"),
        (b'number,name\n4,"' + b"\n" * 200_000, 422, "a table: rows of cells"),
        (b'number,name\n4,"' + b'""' * 120_000, 422, "cells of at most 500 characters"),
        (b"\r" * 200_000, 422, "a first row"),
        (b"PK\x03\x04" + b"\0" * 200, 422, "U+0000"),  # the beginning of a spreadsheet's own file
    ],
    ids=lambda value: value[:12].hex() if isinstance(value, bytes) else None,
)
def test_what_is_no_table_is_refused_in_words_and_keeps_nothing(bench, team, body, status, words, query):
    answer = sent(bench, team, body, query)
    assert answer.status_code == status
    assert words in answer.text
    assert len(answer.data) < 4096  # what was sent is not sent back
    assert roster(bench, team) == []


def test_a_body_that_unpacks_to_a_thousand_times_its_size_is_not_unpacked(bench, team):
    packed = gzip.compress(b"4,Ilse\n" * (32 * MEGABYTE // 7))
    assert len(packed) < MEGABYTE
    tracemalloc.start()
    for kind in ("text/csv", "application/json"):
        answer = bench.post(
            f"{URL}/{team}/players/import?dry_run=0", data=packed, content_type=kind,
            headers={"Content-Encoding": "gzip"},
        )  # fmt: skip
        assert answer.status_code == 400
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 8 * MEGABYTE
    assert roster(bench, team) == []


@pytest.mark.parametrize("size", [2 * MEGABYTE, 64 * MEGABYTE])
def test_a_body_without_a_length_is_read_up_to_its_limit_and_no_further(bench, team, size):
    class Endless(RawIOBase):
        given = 0

        def readable(self) -> bool:
            return True

        def readinto(self, buffer: Any) -> int:
            part = min(size - self.given, len(buffer))
            buffer[:part] = b"4" * part
            self.given += part
            return part

    stream: Any = Endless()
    answer = bench.post(
        f"{URL}/{team}/players/import", content_type="text/csv",
        environ_overrides={"wsgi.input": stream, "wsgi.input_terminated": True, "CONTENT_LENGTH": ""},
    )  # fmt: skip
    assert answer.status_code == 413
    assert stream.given <= MEGABYTE + 65536


def test_a_name_of_many_columns_is_as_long_as_a_name_may_be(bench, team):
    header, cells = ",".join(["number", *["name"] * 3]), ",".join(["4", *["x" * 60] * 3])
    columns = "?columns=number,name,name,name"
    preview = sent(bench, team, f"{header}\n{cells}\n", columns)
    assert [(one["row"], one["column"]) for one in preview.json["errors"]] == [(2, "name")] * 2
    assert sent(bench, team, f"{header}\n{cells}\n", f"{columns}&dry_run=0").status_code == 422
    assert roster(bench, team) == []


@pytest.mark.parametrize("columns", ["number," * 500, "nonsense", "number,,,name,\u00e9", "", "%00"])
def test_a_question_with_columns_that_are_none_is_refused_or_read(bench, team, columns):
    assert sent(bench, team, GOOD, f"?columns={columns}").status_code in (200, 422)


@pytest.mark.parametrize(
    "path", ["calls", "replay", "review", "serves", "session", "join", "formations", "prepared"]
)
def test_no_kind_of_body_brings_an_open_question_down(bench, path):
    """Whoever is nobody may send anything: it is answered, and never by a fault of the server."""
    bodies = [b"", b"\0", b"[]", b'"x"', b"{}", b'{"events": null}', b'{"events": [null, 1, {}]}',
              b"\xff" * 9, b'{"events": [' + b"{}," * 5000 + b"{}]}", gzip.compress(b"{}"),
              b"1" * 5000]  # fmt: skip
    for body in bodies:
        for kind in ("application/json", "text/plain", "multipart/form-data; boundary=x"):
            answer = bench.post(f"/api/v1/{path}", data=body, content_type=kind)
            assert answer.status_code < 500, (body[:20], kind)


def test_the_fullest_team_there_can_be_is_written_and_read_again(bench, team):
    """60 players with all seven kinds of serve, and numbers as long as measuring makes them."""
    third = 1 / 3
    kinds = ("underhand", "plain_overhand", "standing_float", "short_float", "jump_float", "standing_topspin",
             "jump_topspin")  # fmt: skip
    serves = [
        {"kind": kind, "speeds_m_s": [10 + third, 11 + third, 12 + third, 13 + third], "level": "high_school",
         "spots": ["left_corner", "left", "middle", "right", "right_corner"], "error_ceiling": third / 2,
         "next_job": 5, "scatter": {"across_m": third, "along_m": 1 + third, "serves": 999}}
        for kind in kinds
    ]  # fmt: skip
    for number in range(60):
        player = {
            "number": number,
            "name": "N" * 100,
            "reach_m": 2 + third,
            "serves": serves,
            "role": "defender",
        }
        assert bench.post(f"{URL}/{team}/players", json=player).status_code == 201
    text = bench.get(f"{URL}/{team}/players.csv").get_data(as_text=True)
    other = bench.post(URL, json={"name": "Second team"}).json["id"]
    assert sent(bench, other, text, "?dry_run=0").json["imported"] == 60
    assert roster(bench, other) == roster(bench, team)
