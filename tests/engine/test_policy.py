"""The coach's error ceiling: what it costs, what a step would bring, when boldness breaks even."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from cornerwise.engine.call.policy import break_even_error, neighbours, start_ceiling
from cornerwise.engine.call.search import stands
from cornerwise.engine.call.situation import Option, Situation
from cornerwise.engine.court import USUAL_PASS_TARGET, Point
from cornerwise.engine.outcome import Receivers, outcome_model
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import server_of, stock_server
from hypothesis import given
from hypothesis import strategies as st

from .asking import ask

SERVERS = [  # level, kind, net m: floats and topspin, the least and the most precise
    ("under_14", "underhand", 2.13),
    ("high_school", "standing_float", 2.24),
    ("high_school", "jump_topspin", 2.43),
    ("elite_men", "jump_float", 2.43),
]
CEILINGS = (0.0, 0.04, 0.08, 0.10, 0.12, 0.14, 0.18, 0.24, 0.40, 1.0)
SAME = 1e-9  # two answers about the same call

shares_of_all = st.floats(0.01, 1.0)


def called(level: str, kind: str, net_m: float, setter: int, ceiling: float | None) -> dict[str, Any]:
    policy = {} if ceiling is None else {"error_ceiling": ceiling}
    request = {
        "level": level,
        "net_height_m": net_m,
        "server": {"kind": kind},
        "opponent": {"setter_position": setter},
        "policy": policy,
    }
    return ask(request)


@cache
def some_stand() -> Any:
    receivers = Receivers((Stand(Point(0, 6)),), Point(0, 1), USUAL_PASS_TARGET)
    server = server_of(stock_server("college", "jump_float", 2.24))
    return stands(Situation(outcome_model("college"), receivers, server, 2.24))[0]


def worth(keep: float, p_in: float) -> Option:
    return Option(some_stand(), 0, Point(0, 7), keep, p_in)


def test_break_even_errors_by_hand():
    # The bolder serve wins .50 with .80 in: .625 of those in. At 1 - .46/.625 = .264 errors it wins .46 too.
    assert break_even_error(worth(0.46, 0.92), worth(0.50, 0.80)) == pytest.approx(0.264, abs=1e-12)
    assert break_even_error(worth(0.40, 0.95), worth(0.40, 0.80)) == pytest.approx(0.20, abs=1e-12)


@given(shares_of_all, shares_of_all, shares_of_all)
def test_at_its_break_even_errors_the_bolder_serve_wins_as_often_as_the_safer(safe_keep, win_if_in, p_in):
    bold = worth(win_if_in * p_in, p_in)
    errors = break_even_error(worth(safe_keep, 1.0), bold)
    if errors is None:
        assert bold.keep / p_in <= safe_keep
    else:
        assert (1 - errors) * win_if_in == pytest.approx(safe_keep, abs=1e-12)
        assert 0.0 <= errors < 1.0


def test_a_serve_that_is_worth_less_even_without_errors_breaks_even_nowhere():
    assert break_even_error(worth(0.50, 0.95), worth(0.36, 0.80)) is None
    assert break_even_error(worth(0.50, 0.95), worth(0.0, 0.0)) is None


@pytest.mark.parametrize(
    ("ceiling", "least", "steps"),
    [
        (0.12, 0.08, [0.10, 0.14, None]),
        (0.12, 0.10, [0.10, 0.14, None]),
        (0.12, 0.101, [0.14, None]),  # one step safer cannot be kept to
        (0.40, 0.08, [0.38, None]),  # above .40 a ceiling says nothing more
        (0.39, 0.08, [0.37, None]),
        (0.0, 0.05, [0.02, None]),
        (None, 0.05, []),
    ],
)
def test_one_tap_is_two_errors_in_a_hundred(ceiling, least, steps):
    assert neighbours(ceiling, least) == pytest.approx(steps)


@pytest.mark.parametrize(
    ("level", "kind", "least", "ceiling"),
    [
        ("under_14", "standing_float", 0.11, 0.20),
        ("high_school", "standing_float", 0.08, 0.12),
        ("college", "jump_float", 0.03, 0.10),
        ("elite_women", "jump_float", 0.0, 0.10),
        ("elite_men", "jump_float", 0.01, 0.10),
        ("college", "jump_topspin", 0.06, 0.16),  # topspin kinds .06 more
        ("high_school", "jump_topspin", 0.12, 0.18),
        ("high_school", "standing_float", 0.09, 0.12),  # exactly the least possible and .03
        ("high_school", "standing_float", 0.0901, 0.13),  # raised in whole hundredths
        ("under_14", "underhand", 0.21, 0.24),
        ("college", "jump_topspin", 0.40, 0.43),
    ],
)
def test_a_starting_ceiling_is_the_levels_unless_the_server_needs_more(level, kind, least, ceiling):
    # Levels' ceilings: common practice, no source; .06 and .03 are chosen.
    server = server_of(stock_server(level, kind, 2.24))
    assert start_ceiling(level, server, least) == pytest.approx(ceiling, abs=1e-12)


def test_one_topspin_serve_among_a_servers_serves_raises_her_ceiling():
    float_only = server_of(stock_server("college", "jump_float", 2.24))
    topspin = server_of(stock_server("college", "jump_topspin", 2.24))
    both = replace(float_only, serves=(*float_only.serves, *topspin.serves))
    assert start_ceiling("college", both, 0.02) == pytest.approx(0.16, abs=1e-12)


every_server = pytest.mark.parametrize("server", SERVERS, ids=lambda s: f"{s[0]} {s[1]} {s[2]}")
setters_1_and_3 = pytest.mark.parametrize("setter", [1, 3])


@every_server
@setters_1_and_3
def test_a_higher_ceiling_never_lowers_keep(server, setter):
    keeps = [called(*server, setter, ceiling)["best"]["keep"] for ceiling in (*CEILINGS, None)]
    assert all(low <= high + SAME for low, high in pairwise(keeps))
    assert keeps[-1] > keeps[0]  # and for every one of these servers some ceiling binds


@every_server
@setters_1_and_3
def test_a_call_keeps_to_its_ceiling_or_says_that_none_does_and_misses_least(server, setter):
    for ceiling in CEILINGS:
        answer = called(*server, setter, ceiling)
        policy, best = answer["policy"], answer["best"]
        assert policy["error_ceiling"] == ceiling
        assert policy["met"] == (policy["least_error"] <= ceiling)
        if policy["met"]:
            assert best["p_error"] <= ceiling + SAME
        else:
            assert best["p_error"] == pytest.approx(policy["least_error"], abs=SAME)
            assert policy["text"].startswith(f"No serve keeps to {round(100 * ceiling)} misses in 100")
            assert f"misses least, {100 * best['p_error']:.1f}." in policy["text"]


@every_server
@setters_1_and_3
def test_the_least_possible_error_does_not_depend_on_the_ceiling(server, setter):
    least = {called(*server, setter, ceiling)["policy"]["least_error"] for ceiling in (*CEILINGS, None)}
    assert len(least) == 1
    assert called(*server, setter, None)["best"]["p_error"] >= least.pop() - SAME


@every_server
@setters_1_and_3
def test_a_ceiling_costs_what_the_freest_call_wins_more(server, setter):
    free = called(*server, setter, None)
    assert free["ceiling_cost_per_100"] == 0.0
    assert free["policy"]["met"]
    assert free["policy"]["text"] == "No limit on misses."
    for ceiling in CEILINGS:
        answer = called(*server, setter, ceiling)
        cost = 100 * (free["best"]["keep"] - answer["best"]["keep"])
        assert answer["ceiling_cost_per_100"] == pytest.approx(cost, abs=1e-7)
        text = answer["policy"]["text"]
        if answer["policy"]["met"] and cost >= 0.05:
            assert text == f"At most {100 * ceiling:.0f} misses in 100: costs {cost:.1f} in 100."
        elif answer["policy"]["met"]:
            assert text == f"At most {100 * ceiling:.0f} misses in 100: costs nothing here."


@every_server
@setters_1_and_3
def test_a_step_says_what_the_next_call_then_brings(server, setter):
    answer = called(*server, setter, 0.14)
    for step in answer["policy"]["steps"]:
        then = called(*server, setter, step["error_ceiling"])
        gain = 100 * (then["best"]["keep"] - answer["best"]["keep"])
        assert step["points_per_100"] == pytest.approx(gain, abs=1e-7)
        assert step["p_error"] == pytest.approx(then["best"]["p_error"], abs=SAME)
        assert step["met"] == then["policy"]["met"]


@every_server
@setters_1_and_3
def test_steps_run_from_the_safest_to_no_ceiling_at_all(server, setter):
    steps = called(*server, setter, 0.14)["policy"]["steps"]
    ceilings = [step["error_ceiling"] for step in steps]
    assert ceilings[-1] is None
    assert ceilings[:-1] == sorted(ceilings[:-1])
    assert {0.14, 0.16, None} <= set(ceilings) <= {0.12, 0.14, 0.16, None}
    present = next(step for step in steps if step["error_ceiling"] == 0.14)
    assert present["points_per_100"] == 0.0


@every_server
@setters_1_and_3
def test_break_even_errors_are_those_of_the_two_calls(server, setter):
    free = called(*server, setter, None)["best"]
    for ceiling in CEILINGS:
        answer = called(*server, setter, ceiling)
        safe = answer["best"]["keep"]
        if free["keep"] > safe + SAME:
            expected = 1 - safe * free["p_in"] / free["keep"]
            assert answer["policy"]["break_even_error"] == pytest.approx(expected, abs=1e-9)
            # a call that wins more can afford more errors than it makes
            assert answer["policy"]["break_even_error"] > free["p_error"]


@every_server
def test_the_app_starts_from_the_levels_ceiling_when_asked_to(server):
    level, kind, net_m = server
    request = {
        "level": level,
        "net_height_m": net_m,
        "server": {"kind": kind},
        "opponent": {"setter_position": 4},
        "policy": {"use_start_ceiling": True},
    }
    policy = ask(request)["policy"]
    assert policy["error_ceiling"] == policy["start_error_ceiling"]
    assert policy["met"]  # a starting ceiling can always be kept to
    chosen = ask(request | {"policy": {"use_start_ceiling": True, "error_ceiling": 0.3}})
    assert chosen["policy"]["error_ceiling"] == 0.3  # the coach's own goes before it
