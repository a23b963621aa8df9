"""Our serves as a table: nothing in it that a spreadsheet runs."""

from __future__ import annotations

import csv
import io

import pytest
from cornerwise.engine import bridge
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.review.table import cell
from hypothesis import given
from hypothesis import strategies as st

from .scripts import script


def test_a_whole_number_is_written_alike_however_a_log_has_it():
    assert [cell(value) for value in (2.0, 2, -0.5, None)] == [2, 2, -0.5, None]
    assert isinstance(cell(2.0), int)


@given(
    st.sampled_from([*"=+-@\t\r", "\uff1d", "\uff0b", "\uff0d", "\uff20", " =", "\n="]), st.text(max_size=5)
)
def test_no_text_begins_as_a_formula_does(start, rest):
    """OWASP, "CSV Injection": = + - @, tab and carriage return, and their full-width forms."""
    made = cell(start + rest)
    assert made == f"'{start}{rest}"
    assert cell(-1.5) == -1.5


def test_the_door_writes_the_matchs_name_and_teams_into_each_line():
    log = script(3, sets=1, rallies=6)
    log[0]["them"] = "=HYPERLINK(1)"
    rows = list(csv.DictReader(io.StringIO(bridge.serves({"events": log, "name": "+Cup"})["text"])))
    assert len(rows) == bridge.review({"events": log})["all"]["serves"]["count"] > 0
    assert {(row["match"], row["us"], row["them"]) for row in rows} == {
        ("'+Cup", "Quarry Lane", "'=HYPERLINK(1)")
    }  # fmt: skip


def test_a_match_without_a_name_or_serves_has_a_heading():
    assert bridge.serves({"events": [], "name": None})["text"].startswith("match,us,them,set_number,")


@pytest.mark.parametrize(("field", "value"), [("name", ""), ("name", "x" * 101), ("name", 7), ("side", "us")])
def test_what_the_door_does_not_know_is_refused_by_its_field(field, value):
    with pytest.raises(RuleBroken) as refused:
        bridge.serves({"events": [], field: value})
    assert refused.value.field == field
