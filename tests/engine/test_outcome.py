"""From a landing to the rally: a worked example, SciPy's logistic, and what the numbers say of themselves."""

from __future__ import annotations

import ast
import inspect
import json
import random
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from cornerwise import engine
from cornerwise.engine.court import Point
from cornerwise.engine.maths import PLAIN
from cornerwise.engine.names import LEVELS
from cornerwise.engine.outcome import (
    PARTS,
    OutcomeModel,
    Receivers,
    grade_probabilities,
    late_part,
    move_part,
    outcome_model,
    rally_won,
    speed_part,
    standing_part,
    terms,
    win_shares,
)
from cornerwise.engine.passing import Stand, duty, pass_angle_deg
from cornerwise.service.arrays import ARRAYS
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import expit
from scipy.stats import logistic

FIXTURES = Path(__file__).parents[2] / "fixtures" / "outcome"
EXAMPLE = json.loads((FIXTURES / "worked_example.json").read_text())
LEVEL_TABLE = json.loads((FIXTURES / "levels.json").read_text())
WRITTEN = EXAMPLE["tolerance"]["value"]

TARGET = Point(-1, 1)
THREE = (Stand(Point(2.9, 6.3)), Stand(Point(0, 6.7)), Stand(Point(-2.9, 6.3)))

difficulties = st.floats(-12, 12)
behinds = st.floats(0, 1)
models = st.sampled_from(LEVELS).map(outcome_model)
three_numbers = st.lists(st.floats(-4, 4), min_size=3, max_size=3)
ordered_cuts = three_numbers.map(lambda cuts: tuple(sorted(cuts, reverse=True)))


def example() -> tuple[OutcomeModel, Receivers, Point, Point]:
    told = EXAMPLE["situation"]
    stands = tuple(Stand(Point(*place)) for place in told["passers"])
    receivers = Receivers(stands, Point(*told["setter_start"]), Point(*told["pass_target"]))
    return outcome_model(told["level"]), receivers, Point(*told["contact"]), Point(*told["landing"])


def example_terms() -> dict[str, float]:
    """Return the example's parts by name, and `difficulty`, their sum with the level's offset."""
    model, receivers, contact, landing = example()
    told = EXAMPLE["situation"]
    t = terms(PLAIN, model, receivers, contact, landing.x_m, landing.y_m)
    parts = t._asdict() | {
        "move": move_part(model, t.move_m, told["flight_time_s"], PLAIN),
        "setter_late": late_part(model, receivers.setter_run_m, told["flight_time_s"], PLAIN),
        "serve_speed": speed_part(model, told["speed_m_s"]),
    }
    moving = parts["move"] + parts["setter_late"] + parts["serve_speed"]
    return parts | {"difficulty": standing_part(model, t) + moving}


def won(model: OutcomeModel, difficulty: float, behind: float) -> float:
    return rally_won(PLAIN, model, difficulty, *win_shares(model, behind))


def test_the_worked_examples_angles_and_lengths():
    _, receivers, contact, landing = example()
    hers = duty(PLAIN, landing.x_m, landing.y_m, receivers.stands, receivers.target)
    found = {
        "pass_angle_deg": pass_angle_deg(PLAIN, contact, landing.x_m, landing.y_m, receivers.target),
        "sight_angle_deg": pass_angle_deg(PLAIN, contact, landing.x_m, landing.y_m, receivers.setter_start),
        "pass_length_m": float(np.hypot(landing.x_m + 1, landing.y_m - 1)),
        "move_m": hers.move_m,
    }
    assert found == pytest.approx(EXAMPLE["geometry"], abs=EXAMPLE["geometry_tolerance"]["value"])


@pytest.mark.parametrize("term", EXAMPLE["terms"], ids=lambda t: t["part"])
def test_the_worked_examples_terms(term):
    assert example_terms()[term["part"]] == pytest.approx(term["logit"], abs=WRITTEN)


def test_the_worked_examples_difficulty_grades_and_value():
    model = example()[0]
    found = example_terms()
    assert found["difficulty"] == pytest.approx(EXAMPLE["difficulty"], abs=WRITTEN)
    grades = grade_probabilities(PLAIN, model, found["difficulty"])
    assert grades == pytest.approx(EXAMPLE["grades"], abs=WRITTEN)
    assert won(model, found["difficulty"], found["behind"]) == pytest.approx(EXAMPLE["value"], abs=WRITTEN)


@given(difficulties, ordered_cuts)
def test_grades_are_differences_of_scipys_logistic(difficulty, cuts):
    model = replace(outcome_model("college"), cuts=cuts)
    below = expit(difficulty - np.array(cuts))
    expected = np.diff([0.0, *below, 1.0])
    assert grade_probabilities(PLAIN, model, difficulty) == pytest.approx(expected, abs=1e-12)


@given(difficulties, models)
def test_grades_are_a_latent_logistic_variable_cut_in_four(difficulty, model):
    """The textbook's ordered logit: grade <= k when a logistic variable falls below difficulty - cut_k."""
    ace, _, _, perfect = grade_probabilities(PLAIN, model, difficulty)
    assert ace == pytest.approx(logistic(loc=2.5).cdf(difficulty), abs=1e-12)
    assert perfect == pytest.approx(logistic(loc=-0.15).sf(difficulty), abs=1e-12)


@given(st.floats(-20, 20), models)
def test_grades_are_chances_that_sum_to_1(difficulty, model):
    grades = grade_probabilities(PLAIN, model, difficulty)
    assert sum(grades) == pytest.approx(1.0, abs=1e-15)
    assert all(0.0 <= chance <= 1.0 for chance in grades)


@given(difficulties, models, behinds)
def test_a_rally_is_worth_the_mean_of_the_shares_over_the_grades(difficulty, model, behind):
    grades = grade_probabilities(PLAIN, model, difficulty)
    shares = (1.0, *win_shares(model, behind))
    assert won(model, difficulty, behind) == pytest.approx(np.dot(grades, shares), abs=1e-12)


@given(difficulties, st.floats(0.001, 5), models, behinds)
def test_a_harder_ball_is_passed_worse_and_wins_more(difficulty, harder, model, behind):
    def expected_grade(d: float) -> float:
        return float(np.dot(grade_probabilities(PLAIN, model, d), [0, 1, 2, 3]))

    assert expected_grade(difficulty + harder) < expected_grade(difficulty)
    assert won(model, difficulty + harder, behind) > won(model, difficulty, behind)


@given(difficulties, st.lists(behinds, min_size=2, max_size=2, unique=True).map(sorted), models)
def test_a_pass_from_farther_behind_the_setter_wins_more(difficulty, two, model):
    less, more = two
    assert won(model, difficulty, less) <= won(model, difficulty, more) + 1e-15


@pytest.mark.parametrize(
    ("level", "behind", "shares"),
    [  # by hand: +.05; the whole gap to grade 1; .30 of the gap to grade 2; each times behind
        ("high_school", 0.0, (0.61, 0.50, 0.42)),
        ("high_school", 1.0, (0.66, 0.61, 0.444)),
        ("high_school", 0.5, (0.635, 0.555, 0.432)),
        ("elite_men", 1.0, (0.59, 0.54, 0.287)),
        ("college", 0.25, (0.6125, 0.4875, 0.376)),
    ],
)
def test_shares_after_a_pass_from_behind_are_as_worked_out_by_hand(level, behind, shares):
    assert win_shares(outcome_model(level), behind) == pytest.approx(shares, abs=1e-12)


@pytest.mark.parametrize(
    ("arrival", "landing", "behind"),
    [  # clip((bearing - 80)/40, 0, 1); landings on rays from the target at that bearing
        ("from in front", Point(4, 3), 0.0),
        ("at 80 deg", Point(-1 + np.cos(np.radians(80)) * 5, 1 + np.sin(np.radians(80)) * 5), 0.0),
        ("level, 90 deg", Point(-1, 7), 0.25),
        ("at 100 deg", Point(-1 + np.cos(np.radians(100)) * 5, 1 + np.sin(np.radians(100)) * 5), 0.5),
        ("at 120 deg", Point(-1 + np.cos(np.radians(120)) * 5, 1 + np.sin(np.radians(120)) * 5), 1.0),
        ("straight behind", Point(-4, 1), 1.0),
    ],
)
def test_a_pass_comes_from_behind_by_degrees(arrival, landing, behind):
    receivers = Receivers(THREE, Point(0, 1), TARGET)
    t = terms(PLAIN, outcome_model("college"), receivers, Point(0, -9.2), landing.x_m, landing.y_m)
    assert t.behind == pytest.approx(behind, abs=1e-6), arrival
    turned = replace(receivers, target=Point(1, 1), setter_start=Point(0, 1), faces=-1.0)
    mirrored = terms(PLAIN, outcome_model("college"), turned, Point(0, -9.2), -landing.x_m, landing.y_m)
    assert mirrored.behind == pytest.approx(behind, abs=1e-6), arrival


@pytest.mark.parametrize("level", LEVELS)
def test_a_levels_numbers_are_those_of_the_table(level):
    row, model = LEVEL_TABLE["levels"][level], outcome_model(level)
    close = {"abs": LEVEL_TABLE["tolerance"]}
    assert model.shares == pytest.approx(row["won_after_0_1_2_3"], **close)
    assert model.shares[:0:-1] == pytest.approx([1 - share for share in row["side_out_after_3_2_1"]], **close)
    assert model.offset == pytest.approx(-0.95 + row["shift"], **close)


@pytest.mark.parametrize("level", LEVELS)
def test_a_worse_pass_is_never_worth_less_to_the_serving_side(level):
    # The safe part of what is known: the order of the shares (see the table's source).
    assert all(worse > better for worse, better in pairwise(outcome_model(level).shares))
    assert all(worse >= better for worse, better in pairwise(win_shares(outcome_model(level), 1.0)))


@pytest.mark.parametrize(
    ("move_m", "time_s", "logit"),
    [
        (1.0, 1.0, 0.5 / 2.44**2),  # reachable = 0.75 + 2.6*0.65 = 2.44 m
        (2.44, 1.0, 0.5),  # a move to the end of her reach
        (0.0, 1.0, 0.0),
        (0.88, 0.35, 0.5),  # no time to run: 0.75 + 2.6*0.05 = 0.88 m
        (0.88, 0.0, 0.5),
        (1.76, 0.39, 2.0),  # twice her reach: four times as hard
    ],
)
def test_a_move_counts_by_the_square_of_its_share_of_her_reach(move_m, time_s, logit):
    assert move_part(outcome_model("college"), move_m, time_s, PLAIN) == pytest.approx(logit, abs=1e-12)


@pytest.mark.parametrize(
    ("run_m", "time_s", "logit"),
    [
        (8.0, 1.2, 0.55 * 0.5),  # 8/4 - (1.2 + 1.2) + 0.9 = 0.5 s
        (6.0, 1.2, 0.0),  # there exactly in time
        (2.0, 1.2, 0.0),  # waiting
        (8.0, 0.7, 0.55 * 1.0),
    ],
)
def test_a_setter_is_late_by_what_her_run_takes_longer_than_serve_and_pass(run_m, time_s, logit):
    assert late_part(outcome_model("college"), run_m, time_s, PLAIN) == pytest.approx(logit, abs=1e-12)


@pytest.mark.parametrize(("speed_m_s", "logit"), [(16.0, 0.0), (26.0, 0.6), (12.5, -0.21)])
def test_each_metre_per_second_over_16_adds_0_06(speed_m_s, logit):
    assert speed_part(outcome_model("college"), speed_m_s) == pytest.approx(logit, abs=1e-12)


def test_the_passers_rating_is_added_to_her_own_balls_only():
    model, contact = outcome_model("college"), Point(4.4, -9.2)
    weak_on_their_left = (replace(THREE[0], shift=0.7), *THREE[1:])

    def standing(stands: tuple[Stand, ...], x_m: float) -> float:
        receivers = Receivers(stands, Point(0, 1), TARGET)
        return standing_part(model, terms(PLAIN, model, receivers, contact, x_m, 7.0))

    assert standing(weak_on_their_left, 3.0) - standing(THREE, 3.0) == pytest.approx(0.7)
    assert standing(weak_on_their_left, -3.0) == standing(THREE, -3.0)


STANDING_OR_MOVING = "pass_angle sight_angle pass_length move away back seam setter_late passer"


@pytest.mark.parametrize("part", STANDING_OR_MOVING.split())
def test_a_part_with_no_weight_adds_nothing(part):
    model = replace(outcome_model("high_school"), **{part: 0.0})
    receivers = Receivers((Stand(Point(2.9, 6.3), 0.5),), Point(-3.2, 8.5), TARGET)
    t = terms(PLAIN, model, receivers, Point(4.4, -9.2), 4.2, 8.0)
    parts = t._asdict() | {
        "move": move_part(model, t.move_m, 0.8, PLAIN),
        "setter_late": late_part(model, receivers.setter_run_m, 0.8, PLAIN),
    }
    assert parts.pop(part) == 0.0
    del parts["behind"], parts["move_m"]
    assert all(abs(logit) > 0.01 for logit in parts.values())  # the example puts every other part to use


def test_numbers_and_arrays_give_the_same_outcome():
    rng = random.Random(7)
    x_m = [rng.uniform(-4.55, 4.55) for _ in range(400)]
    y_m = [rng.uniform(0, 9.05) for _ in range(400)]
    model = outcome_model("elite_women")
    receivers = Receivers(
        (Stand(Point(2, 6), 0.3), Stand(Point(-2, 7), -0.2)), Point(3, 3.2), Point(-0.5, 1), -1.0
    )

    def worth(m, x, y):
        t = terms(m, model, receivers, Point(-4.4, -8.7), x, y)
        hard = standing_part(model, t) + move_part(model, t.move_m, 1.1, m)
        return rally_won(m, model, hard, *win_shares(model, t.behind))

    whole = worth(ARRAYS, ARRAYS.column(x_m), ARRAYS.column(y_m))
    each = [worth(PLAIN, x, y) for x, y in zip(x_m, y_m, strict=True)]
    np.testing.assert_allclose(whole, each, rtol=1e-12)


def test_every_part_has_a_name_once():
    known = (
        "pass_angle sight_angle pass_length move away back seam setter_late serve_speed passer behind errors"
    )
    assert list(PARTS) == known.split()


ENGINE = Path(engine.__file__).parent
# published (a year, a rule, or the word), tuned, chosen, from memory, or common practice
SAYS_WHERE_FROM = re.compile(r"FIVB|(18|19|20)\d\d|tuned|chosen|from memory|common practice")


def has_a_number(value: ast.expr) -> bool:
    return any(isinstance(n, ast.Constant) and type(n.value) in (int, float) for n in ast.walk(value))


def numbers_without_a_word(file: Path) -> list[str]:
    """Return the module-level constants with numbers in them whose comment names no origin."""
    lines = file.read_text().splitlines()
    silent = []
    for node in ast.parse(file.read_text()).body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        name = ast.unparse(node.targets[0] if isinstance(node, ast.Assign) else node.target)
        first = node.lineno - 1
        while lines[first - 1].startswith("#"):
            first -= 1
        said = " ".join(line.partition("#")[2] for line in lines[first : node.end_lineno])
        if name.isupper() and has_a_number(node.value) and not SAYS_WHERE_FROM.search(said):
            silent.append(name)
    return silent


@pytest.mark.parametrize("module", ["court.py", "players.py", "outcome/model.py"])
def test_every_number_says_whether_it_is_published_tuned_or_chosen(module):
    assert numbers_without_a_word(ENGINE / module) == []


def test_a_number_without_a_word_is_found(tmp_path):
    file = tmp_path / "some.py"
    file.write_text("A = 1.0  # chosen: round\n# tuned\nB: float = 2.0\n\nC = (3, 4)\nNAME = 'x'\n")
    assert numbers_without_a_word(file) == ["C"]


def test_the_model_says_that_its_weights_are_tuned_and_what_that_is_worth():
    module = inspect.getmodule(OutcomeModel)
    assert module is not None
    assert "tuned" in (module.__doc__ or "")
    assert "not a validation" in (module.__doc__ or "")
    assert "tuned" in (OutcomeModel.__doc__ or "")
