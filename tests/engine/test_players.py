"""Servers and passers: the stock rows, float wobble, ratings, and who stands in for whom."""

from __future__ import annotations

import math
from itertools import product

import pytest
from cornerwise.engine.court import Point, service_spots
from cornerwise.engine.flight import FLOATS, KINDS, TOPSPIN
from cornerwise.engine.names import LEVELS
from cornerwise.engine.players import (
    NET_HEIGHT_M,
    START_CEILING,
    STOCK_SERVERS,
    TOPSPIN_CEILING,
    USUAL_KIND,
    Scatter,
    paces,
    rating_shift,
    serve_of,
    server_of,
    stock_server,
    with_wobble,
)
from hypothesis import given
from hypothesis import strategies as st

# Chosen, no published table: level, net m, kind, usual pace m/s, contact m, spin rev/s, inside m,
# sd across and along m (floats before wobble), service line m.
STOCK_ROWS = [
    ("under_14", 2.13, "underhand", 13.5, 1.0, 0, 0.0, 1.1, 1.4, 7.0),  # contact 2 m nearer: the line is
    ("under_14", 2.13, "plain_overhand", 13.5, 2.1, 2, 0.0, 1.0, 1.5, 9.0),
    ("under_14", 2.13, "standing_float", 14.0, 2.1, 0, 0.0, 1.0, 1.5, 9.0),
    ("high_school", 2.24, "plain_overhand", 14.5, 2.3, 2, 0.0, 1.0, 1.5, 9.0),
    ("high_school", 2.24, "standing_float", 15.0, 2.4, 0, 0.0, 1.0, 1.5, 9.0),
    ("high_school", 2.24, "jump_float", 15.5, 2.6, 0, 0.5, 1.0, 1.5, 9.0),
    ("high_school", 2.24, "standing_topspin", 17.0, 2.4, 5, 0.0, 1.0, 1.5, 9.0),
    ("high_school", 2.43, "standing_float", 16.0, 2.6, 0, 0.0, 1.0, 1.5, 9.0),
    ("high_school", 2.43, "jump_float", 16.5, 2.8, 0, 0.5, 1.0, 1.5, 9.0),
    ("high_school", 2.43, "jump_topspin", 21.0, 2.9, 6, 0.7, 1.0, 1.5, 9.0),
    ("college", 2.24, "standing_float", 15.5, 2.4, 0, 0.0, 0.8, 1.2, 9.0),
    ("college", 2.24, "jump_float", 16.0, 2.7, 0, 0.5, 0.8, 1.2, 9.0),
    ("college", 2.24, "jump_topspin", 21.0, 2.8, 6, 0.9, 0.9, 1.3, 9.0),
    ("college", 2.43, "jump_float", 18.0, 3.0, 0, 0.5, 0.8, 1.2, 9.0),
    ("college", 2.43, "jump_topspin", 24.0, 3.2, 7, 0.9, 0.9, 1.3, 9.0),
    ("elite_women", 2.24, "jump_float", 16.5, 2.75, 0, 0.5, 0.6, 0.9, 9.0),
    ("elite_women", 2.24, "jump_topspin", 21.5, 2.85, 6, 0.9, 0.8, 1.2, 9.0),
    ("elite_men", 2.43, "jump_float", 18.0, 3.0, 0, 0.5, 0.6, 0.9, 9.0),
    ("elite_men", 2.43, "jump_topspin", 25.0, 3.3, 7, 0.9, 0.75, 1.1, 9.0),
]

sds = st.floats(0.05, 5)
kinds = st.sampled_from(KINDS)
levels = st.sampled_from(LEVELS)
nets = st.floats(1.8, 2.6)


def test_the_stock_servers_are_those_of_the_table():
    rows = [
        (
            s.level,
            s.net_height_m,
            s.kind,
            s.speed_m_s,
            s.contact_height_m,
            s.spin_rev_s,
            s.contact_inside_m,
            s.scatter.across_m,
            s.scatter.along_m,
            s.service_line_m,
        )
        for s in STOCK_SERVERS
    ]
    assert rows == STOCK_ROWS


def test_stock_paces_lie_among_the_published_ones():
    # Published speeds, read in abstracts: top-league men 11.7 to 30.3 m/s, float serves 15 to 18 m/s;
    # the paces below that are the youngest players'.
    for stock in STOCK_SERVERS:
        assert all(11.7 <= speed <= 30.3 for speed in paces(stock.speed_m_s))
        if stock.kind in FLOATS and stock.level != "under_14":
            assert 15.0 <= stock.speed_m_s <= 18.0


def test_older_servers_serve_no_slower_over_the_same_net_with_the_same_kind():
    for a, b in product(STOCK_SERVERS, repeat=2):
        same = (a.kind, a.net_height_m) == (b.kind, b.net_height_m)
        if same and LEVELS.index(a.level) < LEVELS.index(b.level):
            assert a.speed_m_s <= b.speed_m_s
            assert a.scatter.across_m >= b.scatter.across_m
            assert a.scatter.along_m >= b.scatter.along_m


def test_nets_are_as_high_as_the_levels_play_with():
    # FIVB Official Volleyball Rules 2025-2028, 2.1.1: 2.43 m men, 2.24 m women. Under 14: chosen.
    assert NET_HEIGHT_M == {
        "under_14": 2.13,
        "high_school": 2.24,
        "college": 2.24,
        "elite_women": 2.24,
        "elite_men": 2.43,
    }


def test_start_ceilings_and_usual_kinds_are_those_of_common_practice():  # no source
    assert START_CEILING == {
        "under_14": 0.20,
        "high_school": 0.12,
        "college": 0.10,
        "elite_women": 0.10,
        "elite_men": 0.10,
    }
    assert TOPSPIN_CEILING == 0.06
    assert {level: kind for level, kind in USUAL_KIND.items() if kind == "jump_float"}.keys() == {
        "college",
        "elite_women",
        "elite_men",
    }


@given(sds, sds)
def test_wobble_is_added_to_floats_in_quadrature(across_m, along_m):
    # Independent errors add as the sides of a right triangle: 0.20 m across, 0.30 m along.
    wobbling = with_wobble("jump_float", Scatter(across_m, along_m))
    assert wobbling.across_m == pytest.approx(math.hypot(across_m, 0.20), rel=1e-12)
    assert wobbling.along_m == pytest.approx(math.hypot(along_m, 0.30), rel=1e-12)


def test_wobble_by_hand():
    assert with_wobble("standing_float", Scatter(0.15, 0.40)) == Scatter(0.25, 0.50)  # 3-4-5 triangles


@pytest.mark.parametrize("kind", KINDS)
def test_only_floats_wobble(kind):
    given_scatter = Scatter(1.0, 1.5)
    floats = {"standing_float", "short_float", "jump_float"}
    assert (with_wobble(kind, given_scatter) != given_scatter) == (kind in floats)
    assert floats == FLOATS
    assert {"standing_topspin", "jump_topspin"} == TOPSPIN


def test_a_stock_float_carries_its_wobble_once():
    serve = serve_of(stock_server("high_school", "standing_float", 2.24))
    assert (serve.scatter.across_m, serve.scatter.along_m) == pytest.approx(
        (math.sqrt(1.04), math.sqrt(2.34)), abs=1e-12
    )
    topspin = serve_of(stock_server("college", "jump_topspin", 2.43))
    assert topspin.scatter == Scatter(0.9, 1.3)


def test_a_scatter_across_is_told_for_a_serve_of_fifteen_metres():
    assert Scatter(1.5, 1.0).bearing_sd_rad == pytest.approx(0.1, abs=1e-15)


@pytest.mark.parametrize("sd", [(0.0, 1.0), (1.0, 0.0), (-1.0, 1.0), (math.nan, 1.0)])
def test_a_scatter_without_spread_is_refused(sd):
    with pytest.raises(ValueError, match="scatter: expected sds above 0 m"):
        Scatter(*sd)


@pytest.mark.parametrize(
    ("pass_grade", "passes", "logit"),
    [  # 0.9 * (2.0 - grade) * n/(n + 20)
        (1.0, 20, 0.45),
        (3.0, 20, -0.45),
        (2.0, 500, 0.0),
        (1.0, 5, 0.18),
        (1.0, 180, 0.81),
        (0.0, 0, 0.0),
        (1.0, None, 0.45),  # rests on 20 passes when nobody says
        (None, None, 0.0),
        (None, 50, 0.0),
        (2.5, 60, -0.3375),
    ],
)
def test_a_rating_shifts_the_difficulty_as_worked_out_by_hand(pass_grade, passes, logit):
    assert rating_shift(pass_grade, passes) == pytest.approx(logit, abs=1e-12)


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0.5, 1e5))
def test_a_weaker_passers_balls_are_harder(a, b, passes):
    assert rating_shift(min(a, b), passes) >= rating_shift(max(a, b), passes)


@given(st.floats(0, 3), st.floats(0, 1e5), st.floats(0, 1e5))
def test_a_rating_on_more_passes_counts_more(pass_grade, n, more):
    assert abs(rating_shift(pass_grade, n + more)) >= abs(rating_shift(pass_grade, n)) - 1e-12
    assert abs(rating_shift(pass_grade, n)) < 0.9 * 2.0


@pytest.mark.parametrize(
    ("level", "kind", "net_m", "found"),
    [
        ("high_school", "standing_float", 2.24, ("high_school", 2.24, 15.0)),
        ("high_school", "standing_float", 2.43, ("high_school", 2.43, 16.0)),
        ("college", "jump_float", 2.30, ("college", 2.24, 16.0)),  # 6 cm from 2.24, 13 cm from 2.43
        ("college", "jump_float", 2.40, ("college", 2.43, 18.0)),
        ("college", "standing_float", 2.43, ("college", 2.24, 15.5)),  # her own level before the net
        ("elite_men", "standing_float", 2.43, ("college", 2.24, 15.5)),  # two levels down
        ("elite_women", "standing_topspin", 2.24, ("high_school", 2.24, 17.0)),
        ("under_14", "jump_topspin", 2.13, ("high_school", 2.43, 21.0)),
        ("elite_men", "underhand", 2.43, ("under_14", 2.13, 13.5)),
        ("college", "plain_overhand", 2.24, ("high_school", 2.24, 14.5)),
    ],
)
def test_a_kind_that_a_level_has_no_server_for_comes_from_the_nearest_level_that_has(
    level, kind, net_m, found
):
    stock = stock_server(level, kind, net_m)
    assert (stock.level, stock.net_height_m, stock.speed_m_s) == found
    assert stock.kind == kind


@given(levels, kinds, nets)
def test_every_level_has_some_server_for_every_kind(level, kind, net_m):
    stock = stock_server(level, kind, net_m)
    assert stock.kind == kind
    wanted = "standing_float" if kind == "short_float" else kind
    levels_with_one = [s.level for s in STOCK_SERVERS if s.kind == wanted]
    rank = LEVELS.index(level)
    assert abs(LEVELS.index(stock.level) - rank) == min(abs(LEVELS.index(x) - rank) for x in levels_with_one)


@pytest.mark.parametrize(
    ("level", "contact_m"), [("under_14", 2.1), ("high_school", 2.4), ("college", 2.4), ("elite_men", 2.4)]
)
def test_a_short_float_is_the_levels_standing_float_at_one_slow_pace(level, contact_m):
    serve = serve_of(stock_server(level, "short_float", NET_HEIGHT_M[level]))
    assert serve.speeds_m_s == (12.5,)
    assert (serve.contact_height_m, serve.spin_rev_s) == (contact_m, 0)
    standing = serve_of(stock_server(level, "standing_float", NET_HEIGHT_M[level]))
    assert serve.scatter == standing.scatter


def test_a_short_float_is_slower_than_every_stock_pace_of_a_float():
    slowest = min(min(paces(s.speed_m_s)) for s in STOCK_SERVERS if s.kind in FLOATS)
    assert slowest > 12.5


@pytest.mark.parametrize("stock", STOCK_SERVERS, ids=lambda s: f"{s.level} {s.kind} {s.net_height_m}")
def test_a_stock_server_has_two_paces_and_all_nine_spots(stock):
    server = server_of(stock)
    (serve,) = server.serves
    assert serve.speeds_m_s == pytest.approx((0.9 * stock.speed_m_s, stock.speed_m_s), abs=1e-12)
    assert server.spots == service_spots(stock.service_line_m)
    assert {spot.y_m for spot in server.spots} == {-(stock.service_line_m + 0.2)}
    assert Point(0.0, -(stock.service_line_m + 0.2)) in server.spots
