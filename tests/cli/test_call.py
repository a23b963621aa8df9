"""`cornerwise call` in words and as JSON, over the real engine."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner, Result
from cornerwise.cli import main
from cornerwise.service import calls


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["call", *arguments])


def test_a_call_is_said_in_words_with_its_odds_and_its_reason():
    words = calls.recommend({"opponent": {"setter_position": 4}})["best"]["words"]
    result = run("--setter", "4")
    assert result.exit_code == 0
    lines = result.output.splitlines()
    assert lines[0] == words["call"]
    assert words["odds"] in result.output
    assert words["reason"] in result.output
    assert "assumed: " in lines[-1]


def test_a_call_as_json_is_the_whole_answer_of_the_same_question():
    result = run("--setter", "2", "--level", "college", "--kind", "jump_float", "--ceiling", "0.1",
                 "--formation", "four", "--faces", "right", "--system", "two_setters_front_sets",
                 "--spot", "left", "--spot", "middle", "--pace", "15", "--net", "2.24", "--drag", "A",
                 "--setter-at", "-2.5", "1.5", "--json")  # fmt: skip
    asked = {
        "level": "college",
        "net_height_m": 2.24,
        "drag_model": "A",
        "server": {"kind": "jump_float", "speeds_m_s": [15.0], "spots": ["left", "middle"]},
        "opponent": {
            "setter_position": 2,
            "setter_start": {"x_m": -2.5, "y_m": 1.5},
            "setter_faces": "right",
            "system": "two_setters_front_sets",
            "formation": "four",
        },
        "policy": {"error_ceiling": 0.1},
    }
    assert json.loads(result.output) == calls.recommend(asked)


def test_alternatives_and_what_to_stay_off_are_said():
    answer = calls.recommend({"opponent": {"setter_position": 1}})
    output = run("--setter", "1").output
    for other in answer["alternatives"]:
        assert f"or {other['words']['call']}" in output
    for serve in answer["stay_off"]:
        assert f"stay off: {serve['text']}" in output
    assert len(answer["alternatives"]) == 2
    assert answer["stay_off"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([], "expected --setter (1 to 6) or --setter-at"),
        (["--setter", "7"], "'--setter': 7 is not in the range 1<=x<=6"),
        (["--setter-at", "3", "12"], "Y of --setter-at: expected 0 to 9 m, inside the court, not 12"),
        (["--setter-at", "-5", "nan"], "X of --setter-at: expected -4.5 to 4.5 m, inside the court, not -5"),
        (["--setter", "4", "--setter-at", "-4", "8"], "--setter-at: expected places that some legal order"),
        (["--setter", "4", "--pace", "3"], "--pace: expected a pace that carries the ball over the net"),
        (["--setter", "4", "--pace", "nan"], "'--pace': nan is not a number from 3 to 40"),
        (["--setter", "4", "--pace", "fast"], "'--pace': fast is not a number from 3 to 40"),
        (["--setter", "4", "--net", "243"], "'--net': 243 is not a number from 1.5 to 2.6"),
        (["--setter", "4", "--ceiling", "12"], "12 is not a share from 0 to 1 (12 in 100 is 0.12)"),
        (["--setter", "4", "--ceiling", "nan"], "'--ceiling': nan is not a share from 0 to 1"),
        (["--setter", "4", "--kind", "smash"], "'smash' is not one of"),
    ],
)
def test_a_question_that_cannot_be_answered_says_why(arguments, said):
    result = run(*arguments)
    assert result.exit_code == 2
    assert said in result.output
    assert "opponent." not in result.output
    assert "server." not in result.output
