"""What each part is worth: Shapley values against textbook games and all orders, and reasons that add up."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from cornerwise.engine.call.recommend import explained
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.shares import PLAIN_LANDING, shapley, shares
from cornerwise.engine.call.situation import Option, Situation
from cornerwise.engine.call.situation import Stand as ServersStand
from cornerwise.engine.call.spread import spread
from cornerwise.engine.court import USUAL_PASS_TARGET, Point
from cornerwise.engine.maths import PLAIN
from cornerwise.engine.names import FormationName, Level
from cornerwise.engine.outcome import PARTS, Receivers, outcome_model, rally_won, speed_part, win_shares
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import (
    NET_HEIGHT_M,
    STOCK_SERVERS,
    Scatter,
    StockServer,
    server_of,
    stock_server,
)
from cornerwise.engine.reception import Position, stock_formation
from cornerwise.service.arrays import ARRAYS
from hypothesis import given
from hypothesis import strategies as st

WITHIN = (
    0.1  # points in 100 by which the parts of a best call may miss its gain before they are made to add up
)
WORTH_SAYING = (
    0.4  # points in 100: what is spread over the parts of any serve stays below what is worth saying
)

games = st.integers(1, 5).flatmap(
    lambda n: st.tuples(
        st.just(n), st.lists(st.floats(-10, 10), min_size=2**n, max_size=2**n).map(lambda w: [0.0, *w[1:]])
    )
)


def game(players: int, worth: Callable[[set[int]], float]) -> list[float]:
    """Return a game by bit mask from the worth of a set of players."""
    return [worth({i for i in range(players) if mask >> i & 1}) for mask in range(1 << players)]


def mean_over_all_orders(worth: Sequence[float], players: int) -> list[float]:
    """Return each player's mean contribution over every order of arrival: the definition, slowly."""
    total = [0.0] * players
    for order in permutations(range(players)):
        present = 0
        for i in order:
            total[i] += worth[present | 1 << i] - worth[present]
            present |= 1 << i
    return [t / math.factorial(players) for t in total]


@given(games)
def test_shapley_values_are_mean_contributions_over_all_orders(players_and_worth):
    players, worth = players_and_worth
    assert shapley(worth, players) == pytest.approx(mean_over_all_orders(worth, players), abs=1e-12)


def test_the_glove_game():
    # Two right gloves and one left: 1/6, 1/6, 2/3. L. S. Shapley and M. Shubik, "Pure competition,
    # coalitional power, and fair division", Int. Econ. Rev. 10, 1969 (game from memory).
    worth = game(3, lambda s: float(2 in s and bool(s & {0, 1})))
    assert shapley(worth, 3) == pytest.approx([1 / 6, 1 / 6, 2 / 3], abs=1e-15)


def test_the_airport_game():
    # Runways of length 1, 2 and 3: each piece is paid in equal parts by those who use it. S. C. Littlechild
    # and G. Owen, "A simple expression for the Shapley value in a special case", Manag. Sci. 20, 1973.
    worth = game(3, lambda s: float(max(s, default=-1) + 1))
    assert shapley(worth, 3) == pytest.approx([1 / 3, 1 / 3 + 1 / 2, 1 / 3 + 1 / 2 + 1], abs=1e-15)


def test_the_first_security_council():
    # Five members with a veto among eleven, seven votes to pass: the five together have 98.7 %. L. S. Shapley
    # and M. Shubik, "A method for evaluating the distribution of power in a committee system", Am. Polit.
    # Sci. Rev. 48, 1954: 76/385 each, and 1/462 for each of the six others (fractions from memory).
    veto = 0b11111
    worth = [float(mask & veto == veto and mask.bit_count() >= 7) for mask in range(1 << 11)]
    values = shapley(worth, 11)
    assert values == pytest.approx([76 / 385] * 5 + [1 / 462] * 6, abs=1e-12)
    assert sum(values[:5]) == pytest.approx(0.987, abs=5e-4)


def test_a_majority_of_weighted_votes():
    # Weights 4, 3, 2, 1, quota 6: 5/12, 1/4, 1/4, 1/12 by counting who is pivotal in the 24 orders.
    weights = (4, 3, 2, 1)
    worth = game(4, lambda s: float(sum(weights[i] for i in s) >= 6))
    assert shapley(worth, 4) == pytest.approx([5 / 12, 1 / 4, 1 / 4, 1 / 12], abs=1e-15)


@given(games)
def test_shapley_values_add_up_to_the_whole(players_and_worth):
    players, worth = players_and_worth
    assert sum(shapley(worth, players)) == pytest.approx(worth[-1] - worth[0], abs=1e-12)


@given(games)
def test_a_player_who_adds_nothing_gets_nothing(players_and_worth):
    players, worth = players_and_worth
    with_a_null_player = [*worth, *worth]  # bit `players` changes nothing
    values = shapley(with_a_null_player, players + 1)
    assert values[-1] == 0.0
    assert values[:-1] == pytest.approx(shapley(worth, players), abs=1e-12)


@given(games, st.floats(-3, 3))
def test_a_player_who_adds_the_same_to_everyone_gets_exactly_that(players_and_worth, bonus):
    players, worth = players_and_worth
    with_a_loner = [*worth, *(w + bonus for w in worth)]
    assert shapley(with_a_loner, players + 1)[-1] == pytest.approx(bonus, abs=1e-12)


def situation(
    stock: StockServer,
    setter: Position,
    level: Level,
    formation: FormationName = "three",
    shifts: Sequence[float] = (),
) -> Situation:
    players = stock_formation(setter, formation)
    places = [p.place for p in players if p.role == "passer"]
    rated = tuple(Stand(place, shift) for place, shift in zip(places, [*shifts, *[0.0] * 5], strict=False))
    start = next(p.place for p in players if p.role == "setter")
    return Situation(
        outcome_model(level),
        Receivers(rated, start, USUAL_PASS_TARGET),
        server_of(stock),
        stock.net_height_m,
    )


def keep_on_the_grid_of_offsets(of: Situation, option: Option) -> float:
    """Return what a call wins by the grid that the parts are shared out on, its own parts all in place."""
    laid = spread(ARRAYS, of, option)
    speed = option.stand.serve.speeds_m_s[option.pace]
    hard = of.model.offset + speed_part(of.model, speed) + sum(laid.parts[part] for part in laid.parts)
    return float(np.dot(laid.weights, rally_won(ARRAYS, of.model, hard, *win_shares(of.model, laid.behind))))


def missed_by(search: Search, option: Option) -> float:
    """Return by how much the parts, before they are made to add up, miss a call's gain. [points in 100]"""
    found = explained(search, option)
    gain = option.keep - found.plain.keep
    assert math.fsum(found.shares.values()) == pytest.approx(gain, abs=1e-12)
    call, plain = (keep_on_the_grid_of_offsets(search.situation, o) for o in (option, found.plain))
    return 100 * (call - plain - gain)


SHORT = [stock_server(level, "short_float", NET_HEIGHT_M[level]) for level in ("college", "elite_men")]


@pytest.mark.parametrize("setter", [1, 2, 3, 4, 5, 6])
@pytest.mark.parametrize(
    "stock",
    [STOCK_SERVERS[k] for k in (0, 1, 4, 9, 15, 18)] + [SHORT[1]],
    ids=lambda s: f"{s.level} {s.kind} {s.net_height_m}",
)
def test_reasons_add_up_to_what_the_call_is_worth_more_than_the_plain_serve(stock, setter):
    search = Search(ARRAYS, situation(stock, setter, stock.level))
    best = search.best(stands(search.situation), None)
    assert abs(missed_by(search, best)) <= WITHIN


@pytest.mark.parametrize(
    ("k", "stock"), [*enumerate([*STOCK_SERVERS, *SHORT])], ids=lambda v: getattr(v, "kind", v)
)
def test_reasons_add_up_for_every_stock_server_other_formations_and_her_safest_serve(k, stock):
    search = Search(ARRAYS, situation(stock, 1 + k % 6, stock.level, ("two", "four", "five")[k % 3]))
    among = stands(search.situation)
    for option in (search.best(among, None), search.fewest_errors(among)):
        assert abs(missed_by(search, option)) <= WORTH_SAYING


@pytest.mark.parametrize("seed", range(6))
def test_reasons_add_up_for_aims_anywhere(seed):
    rng = random.Random(seed)
    search = Search(ARRAYS, situation(STOCK_SERVERS[11 + seed % 2], rng.randint(1, 6), "college"))
    for _ in range(5):
        stand = rng.choice(stands(search.situation))
        field = search.field(stand, rng.randrange(2), "coarse")
        option = field.option(rng.randrange(len(field.landings)))
        assert abs(missed_by(search, option)) <= WORTH_SAYING


def search_spots(search: Search) -> list[ServersStand]:
    """Return the stands in the two corners and the middle, which is enough where the grids are fine."""
    return [stand for stand in stands(search.situation) if stand.spot.x_m in (-4.4, 0.0, 4.4)]


def test_reasons_add_up_for_a_very_precise_and_a_very_wild_server():
    for scatter in (Scatter(0.25, 0.35), Scatter(3.0, 4.0)):
        plain = situation(STOCK_SERVERS[11], 4, "college")
        serve = replace(plain.server.serves[0], scatter=scatter)
        search = Search(ARRAYS, replace(plain, server=replace(plain.server, serves=(serve,))))
        best = search.best(search_spots(search), None)
        assert abs(missed_by(search, best)) <= WORTH_SAYING


def best_shares(of: Situation) -> dict[str, float]:
    search = Search(ARRAYS, of)
    return explained(search, search.best(stands(of), None)).shares


def test_numbers_and_arrays_give_the_same_reasons():
    of = situation(STOCK_SERVERS[15], 3, "elite_women")
    best = Search(ARRAYS, of).best(stands(of), None)
    numbers, arrays = (shares(m, of, best, 0.02) for m in (PLAIN, ARRAYS))
    assert numbers == pytest.approx(arrays, abs=1e-12)


def test_a_part_without_weight_is_worth_nothing():
    of = situation(STOCK_SERVERS[4], 1, "high_school")
    with_all = best_shares(of)
    without = best_shares(replace(of, model=replace(of.model, sight_angle=0.0)))
    assert abs(with_all["sight_angle"]) > 0.01
    assert without.get("sight_angle", 0.0) == 0.0


def test_equal_passers_are_no_reason_and_unequal_ones_are():
    equal = best_shares(situation(STOCK_SERVERS[4], 1, "high_school"))
    assert equal.get("passer", 0.0) == 0.0
    weak = best_shares(situation(STOCK_SERVERS[4], 1, "high_school", shifts=(0.0, 0.0, 0.9)))
    strong = best_shares(situation(STOCK_SERVERS[4], 1, "high_school", shifts=(-0.9, -0.9, -0.9)))
    assert "passer" not in strong  # all alike: no reason for any place
    assert abs(weak["passer"]) > 1e-3


def test_the_speed_of_the_serve_is_no_reason_since_the_plain_serve_has_the_same():
    assert "serve_speed" not in best_shares(situation(STOCK_SERVERS[14], 2, "college"))


def test_the_plain_serve_has_no_reasons():
    of = situation(STOCK_SERVERS[4], 6, "high_school")
    search = Search(ARRAYS, of)
    middle = next(stand for stand in stands(of) if stand.spot.x_m == 0.0)
    option = replace(search.field(middle, 1, "coarse").option(0), landing=PLAIN_LANDING)
    assert Point(0, 7) == PLAIN_LANDING
    assert shares(ARRAYS, of, option, 0.0) == pytest.approx({"behind": 0.0, "errors": 0.0}, abs=1e-12)


def test_every_reason_is_one_of_the_parts():
    assert set(best_shares(situation(STOCK_SERVERS[9], 5, "high_school", shifts=(0.1, 0.2, 0.3)))) <= set(
        PARTS
    )
