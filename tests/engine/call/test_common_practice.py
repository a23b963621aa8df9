"""What every call must agree with: common practice on the bench, no source.

The weights of the model were tuned until the stock servers' calls against three and four passers agreed
with it. For those this file is a check of consistency, not a validation. What the tuning has not seen is
the test: two and five passers, passers who stand elsewhere, servers who serve otherwise; nine in ten of
those must agree.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from cornerwise.engine.call.aims import aim_reachable, aims
from cornerwise.engine.call.detail import worth_at
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.situation import Option, Situation
from cornerwise.engine.court import Point, depth
from cornerwise.engine.maths import PLAIN
from cornerwise.engine.outcome import Behind
from cornerwise.engine.passing import Stand, crosses_setter_lane, pass_angle_deg
from cornerwise.engine.players import STOCK_SERVERS, Scatter, StockServer, rating_shift
from cornerwise.service.arrays import ARRAYS

from .situations import (
    BY_NAME,
    POSITIONS,
    best_call,
    landing_worth,
    mirrored,
    random_situation,
    stock_situation,
    with_scatter,
    with_stands,
)

CLEARLY = 0.003  # three tenths of a point in 100
A_POINT = 0.01
TARGET_X_M = -1.0  # the usual pass target; a pass from farther right of the receivers comes from behind
CORNER_M = 3.5
NO_CEILING = None


@pytest.fixture(scope="module", params=BY_NAME)
def name(request) -> str:
    """One stock server after the other, since what depends on a server only is kept while she is in turn."""
    return request.param


# --- 1. The six rotations


@dataclass(frozen=True)
class Options:
    """Every spot, pace and fine aim of one situation: arrays of one length."""

    spot_x: np.ndarray
    x: np.ndarray
    y: np.ndarray
    keep: np.ndarray
    p_in: np.ndarray


@cache
def places(stance, pace) -> np.ndarray:
    """Return x and y of every fine aim; they depend on the server only."""
    return np.array([(p.x_m, p.y_m) for p in aims(ARRAYS, stance, pace, "fine").landings]).reshape(-1, 2).T


def options(situation: Situation) -> Options:
    search = Search(ARRAYS, situation)
    columns = []
    for stand in stands(situation):
        for pace in range(len(stand.serve.speeds_m_s)):
            field = search.field(stand, pace, "fine")
            x, y = places(stand.stance, pace)
            columns.append(np.stack([np.full(x.shape, stand.spot.x_m), x, y, field.keep, field.p_in]))
    return Options(*np.concatenate(columns, axis=1))


def agrees(position, spot_x, x):
    """Setter in 1 or 2: right corner, zones 5 and 4. In 4 or 5: left corner, zones 1 and 2. In 3 or 6: left
    corner, and the pass comes from behind her."""
    if position in (1, 2):
        return (spot_x >= CORNER_M) & (x > 1.5)
    return (spot_x <= -CORNER_M) & (x < (-1.5 if position in (4, 5) else TARGET_X_M))


def another_call(position, spot_x, x):
    """Another corner, or the other half of the court: a call that contradicts, not a neighbour across a line
    between two zones."""
    if position in (1, 2):
        return (spot_x < CORNER_M) | (x <= 0.0)
    return (spot_x > -CORNER_M) | (x >= (0.0 if position in (4, 5) else TARGET_X_M))


@dataclass(frozen=True)
class Margins:
    """By how much what agrees is worth more than anything that does not, and than another call; and by how
    much the best corner is worth more than the middle."""

    over_all: float
    over_another_call: float
    corner_over_middle: float

    @property
    def right(self) -> bool:
        return self.over_all > 0.0


def margins(position, every: Options, ceiling: float | None = NO_CEILING) -> Margins:
    met = every.p_in >= (-1.0 if ceiling is None else 1.0 - ceiling)
    right = agrees(position, every.spot_x, every.x)
    contrary = another_call(position, every.spot_x, every.x)

    def best(among: np.ndarray) -> float:
        return every.keep[among & met].max(initial=0.0)

    corners, middle = np.abs(every.spot_x) >= CORNER_M, np.abs(every.spot_x) < 1.0
    return Margins(best(right) - best(~right), best(right) - best(contrary), best(corners) - best(middle))


ABOVE_LEAST = (0.05, 0.08, 0.12)  # ceilings above the server's least possible errors


TUNED = ("three", "four")
CASES = [(formation, position) for formation in TUNED for position in POSITIONS]
DRAWS = 3
WITHOUT = {
    "sight": {"sight_angle": 0.0},
    "behind": {"behind": Behind(0.0, 0.0, 0.0)},
    "pass angle": {"pass_angle": 0.0},
}


@dataclass(frozen=True)
class Found:
    """What one stock server is told, by formation and setter position.

    calls, shifted : the best call; the passers where they usually stand, or each up to half a metre off,
        then by draw, too.
    without        : by part of the model: the best call without it.
    margins        : by how far the ceiling is above the server's least errors; None without a ceiling.
    """

    calls: dict[tuple, Option]
    shifted: dict[tuple, Option]
    without: dict[str, dict[tuple, Option]]
    margins: dict[tuple, dict[float | None, Margins]]


@cache
def found(name) -> Found:
    stock, rng = BY_NAME[name], random.Random(name)
    every = [(f, p) for f in ("two", "three", "four", "five") for p in POSITIONS]
    situations = {case: stock_situation(stock, case[1], case[0]) for case in every}
    return Found(
        {case: best_call(ARRAYS, situations[case]) for case in every},
        {
            (*case, draw): best_call(ARRAYS, shifted(situations[case], rng, 0.5))
            for case in CASES
            for draw in range(DRAWS)
        },
        {
            part: {case: best_call(ARRAYS, changed(situations[case], weights)) for case in CASES}
            for part, weights in WITHOUT.items()
        },
        {case: stock_margins(case[1], situations[case]) for case in CASES},
    )


def changed(situation: Situation, weights: dict) -> Situation:
    return replace(situation, model=replace(situation.model, **weights))


def stock_margins(position, situation: Situation) -> dict[float | None, Margins]:
    every = options(situation)
    least = 1.0 - every.p_in.max()
    ceilings = {above: least + above for above in ABOVE_LEAST} | {NO_CEILING: NO_CEILING}
    return {above: margins(position, every, ceiling) for above, ceiling in ceilings.items()}


def call_agrees(position, call: Option) -> bool:
    return bool(agrees(position, call.stand.spot.x_m, call.landing.x_m))


@pytest.mark.parametrize(("formation", "position"), CASES)
def test_each_rotation_has_its_corner_and_its_side(name, formation, position):
    assert call_agrees(position, found(name).calls[formation, position])
    assert found(name).margins[formation, position][NO_CEILING].right


# A hard topspin serve errs least from near the middle: the sidelines are far on both sides. From a corner
# it errs some 5 points in 100 more. So a ceiling of exactly 5 points above her least leaves these three
# servers nothing from a corner, or only its safest and least rewarding aims.
EXEMPT_AT_5_ABOVE_LEAST = (
    {("college-jump_topspin-243", position) for position in POSITIONS}
    | {("elite_men-jump_topspin-243", position) for position in POSITIONS}
    | {("high_school-jump_topspin-243", position) for position in (3, 6)}
)


@pytest.mark.parametrize(("formation", "position"), CASES)
def test_a_ceiling_changes_neither_corner_nor_side(name, formation, position):
    under = found(name).margins[formation, position]
    wrong = {above for above in ABOVE_LEAST if not under[above].right}
    assert wrong == ({0.05} if (name, position) in EXEMPT_AT_5_ABOVE_LEAST else set())


def test_nineteen_of_twenty_rotations_are_clear():
    """By three tenths of a point over any other corner or half of the court.

    Measured: 225 of 228. Counted against aims just across the line between two zones too, which are the
    same serve by another name, 215.
    """
    every = [found(name).margins[case][NO_CEILING].over_another_call for name in BY_NAME for case in CASES]
    assert len(every) == 228
    assert sum(margin >= CLEARLY for margin in every) >= 0.95 * len(every)


# --- 1, the hold-out: what the weights were not tuned on


def shifted(situation: Situation, rng: random.Random, most_m: float) -> Situation:
    """Every passer moved on her own, up to so much along each axis."""
    moved = (
        Stand(Point(s.place.x_m + rng.uniform(-most_m, most_m), s.place.y_m + rng.uniform(-most_m, most_m)))
        for s in situation.receivers.stands
    )
    return with_stands(situation, *moved)


def another_server(stock: StockServer, rng: random.Random) -> StockServer:
    """A server like a stock one, with another pace, contact, spin and scatter."""
    across, along = rng.uniform(0.75, 1.2), rng.uniform(0.75, 1.2)
    return replace(
        stock,
        speed_m_s=stock.speed_m_s * rng.uniform(0.93, 1.07),
        contact_height_m=stock.contact_height_m + rng.uniform(-0.15, 0.15),
        spin_rev_s=stock.spin_rev_s * rng.uniform(0.8, 1.2),
        contact_inside_m=max(stock.contact_inside_m + rng.uniform(-0.2, 0.2), 0.0),
        scatter=Scatter(stock.scatter.across_m * across, stock.scatter.along_m * along),
    )


def right_by_position(formation) -> dict[int, int]:
    """Return how many of the nineteen stock servers' calls agree, by setter position."""
    return {
        position: sum(call_agrees(position, found(name).calls[formation, position]) for name in BY_NAME)
        for position in POSITIONS
    }


def test_two_passers_agree_in_nine_of_ten():
    """Measured: 111 of 114; the setter in 6 fails, by 0.3 points at most."""
    right = right_by_position("two")
    assert sum(right.values()) >= 0.9 * 114
    assert all(right[position] == 19 for position in (1, 2, 4, 5))


def test_five_passers_agree_but_for_the_setter_in_6():
    """Measured: 99 of 114; all with the setter in 1 to 5, and 4 of 19 with her in 6.

    With five passers her front-row partner passes too, so that she starts 4.6 m deep, level with the
    passers: one in zone 5 has to look farther round for her than one in zone 1, and the call goes there
    from the right corner. Two and five passers together: 210 of 228.
    """
    right = right_by_position("five")
    assert all(right[position] == 19 for position in (1, 2, 3, 4, 5))
    assert sum(right.values()) + sum(right_by_position("two").values()) >= 0.9 * 228


def test_passers_who_stand_elsewhere_agree_in_nine_of_ten():
    """Up to half a metre elsewhere, each on her own; a metre would be another formation.

    Measured: 624 of 684; three passers 302 of 342 (40 of 57 with the setter in 6), four 322 of 342.
    """
    right = [
        call_agrees(position, found(name).shifted[formation, position, draw])
        for name in BY_NAME
        for formation, position in CASES
        for draw in range(DRAWS)
    ]
    assert len(right) == 684
    assert sum(right) >= 0.9 * len(right)


def test_other_servers_agree_in_nine_of_ten():
    """Ten servers who are not the stock ones, against two to five passers.

    Measured: 230 of 240; two to four passers 179 of 180, five 51 of 60 (the setter in 6, as above).
    """
    rng = random.Random(3)
    right = [
        call_agrees(position, best_call(ARRAYS, stock_situation(server, position, formation)))
        for server in (another_server(stock, rng) for stock in STOCK_SERVERS[::2])
        for formation in ("two", "three", "four", "five")
        for position in POSITIONS
    ]
    assert len(right) == 240
    assert sum(right) >= 0.9 * len(right)


# --- 1, mirrored


def assert_mirrored(call: Option, image: Option) -> None:
    assert image.stand.spot.x_m == pytest.approx(-call.stand.spot.x_m, abs=1e-12)
    assert image.landing.x_m == pytest.approx(-call.landing.x_m, abs=1e-9)
    assert image.landing.y_m == pytest.approx(call.landing.y_m, abs=1e-9)
    assert image.pace == call.pace
    assert image.keep == pytest.approx(call.keep, abs=1e-12)
    assert image.p_in == pytest.approx(call.p_in, abs=1e-12)


def test_mirroring_everything_mirrors_the_call(name):
    for position in POSITIONS:
        for formation in ("two", "three", "four", "five"):
            image = mirrored(stock_situation(BY_NAME[name], position, formation))
            assert_mirrored(found(name).calls[formation, position], best_call(ARRAYS, image))


@pytest.mark.parametrize("seed", range(200, 212))
def test_mirroring_a_random_situation_mirrors_the_call(seed):
    _, situation = random_situation(seed)
    call, image = (best_call(ARRAYS, s, 0.25) for s in (situation, mirrored(situation)))
    if call is None:
        assert image is None
    else:
        assert_mirrored(call, image)


def test_mirroring_mirrors_the_call_of_the_plain_numbers_too():
    situation = stock_situation(BY_NAME["college-jump_float-224"], 2)
    assert_mirrored(best_call(PLAIN, situation), best_call(PLAIN, mirrored(situation)))


@pytest.mark.parametrize("faces", [1.0, -1.0])
def test_a_tie_between_left_and_right_breaks_by_the_way_the_setter_faces(faces):
    """Setter and target in the middle, passers alike on both sides, no gain from behind: a tie."""
    for name in ("high_school-standing_float-224", "college-jump_topspin-243"):
        situation = stock_situation(BY_NAME[name], 3, "four")
        receivers = replace(
            situation.receivers, setter_start=Point(0.0, 1.0), target=Point(0.0, 1.0), faces=faces
        )
        model = replace(situation.model, behind=Behind(0.0, 0.0, 0.0))
        situation = replace(situation, receivers=receivers, model=model)
        call, image = best_call(ARRAYS, situation), best_call(ARRAYS, mirrored(situation))
        assert_mirrored(call, image)
        assert call.stand.spot.x_m * faces > 0.0


# --- 2. The middle


def test_the_middle_is_a_point_behind_the_best_corner(name):
    for case in CASES:
        assert found(name).margins[case][NO_CEILING].corner_over_middle >= A_POINT


@pytest.mark.parametrize("y_m", [4.0, 5.0, 6.0, 7.0, 8.0, 9.0])
def test_the_corner_on_the_targets_side_has_the_larger_pass_angle_on_the_lines(y_m):
    target = Point(TARGET_X_M, 1.0)

    def angle_deg(spot_x_m: float, x_m: float) -> float:
        return pass_angle_deg(PLAIN, Point(spot_x_m, -9.2), x_m, y_m, target)

    assert angle_deg(4.4, 4.5) > angle_deg(0.0, 4.5) > angle_deg(-4.4, 4.5)
    assert angle_deg(-4.4, -4.5) > angle_deg(0.0, -4.5) > angle_deg(4.4, -4.5)


def test_the_pass_angle_on_the_line_is_27_degrees_from_the_middle_and_42_from_the_corner():
    """By hand: way back to (0, -9.2) and (4.4, -9.2), way to the target (-1, 1), from (4.5, 7)."""
    for spot_x_m, by_hand in ((0.0, 42.51 - 15.52), (4.4, 42.51 - 0.35)):
        angle = pass_angle_deg(PLAIN, Point(spot_x_m, -9.2), 4.5, 7.0, Point(TARGET_X_M, 1.0))
        assert angle == pytest.approx(by_hand, abs=0.02)


# --- 3. Outside and behind the outside passer


def outside_passer(situation: Situation, position) -> tuple[float, Point, int]:
    """Return the side of the call, the passer who stands outside there, and the corner's number."""
    side = 1.0 if position in (1, 2) else -1.0
    place = max((s.place for s in situation.receivers.stands), key=lambda p: side * p.x_m)
    return side, place, 8 if side > 0 else 0


def test_outside_the_outside_passer_and_behind_her_is_worth_more_than_at_her(name):
    """One landing each, at equal pace: a metre outside her, and two metres behind her."""
    for position in POSITIONS:
        situation = stock_situation(BY_NAME[name], position)
        side, her, corner = outside_passer(situation, position)
        stand = stands(situation)[corner]
        for pace in (0, 1):
            at_her, outside, behind = landing_worth(
                situation, stand, pace, [her.x_m, her.x_m + side, her.x_m], [her.y_m, her.y_m, her.y_m + 2.0]
            )
            assert outside > at_her
            assert behind > at_her


def aims_gain(situation: Situation, position, out_m: float, back_m: float) -> list[float]:
    """Return by how much an aim outside or behind the outside passer is worth more than one at her."""
    side, her, corner = outside_passer(situation, position)
    stand, search = stands(situation)[corner], Search(ARRAYS, situation)
    other = Point(her.x_m + side * out_m, her.y_m + back_m)
    return [
        worth_at(search, Option(stand, pace, other, 0.0, 0.0)).keep
        - worth_at(search, Option(stand, pace, her, 0.0, 0.0)).keep
        for pace in (0, 1)
        if all(aim_reachable(stand.stance, pace, place) for place in (her, other))
    ]


def precise(stock: StockServer, position, across_m: float) -> Situation:
    return with_scatter(stock_situation(stock, position), across_m, 1.5 * across_m)


def gains(across_m: float, out_m: float, back_m: float) -> np.ndarray:
    return np.array(
        [
            gain
            for stock in STOCK_SERVERS
            for position in POSITIONS
            for gain in aims_gain(
                with_scatter(stock_situation(stock, position), across_m, 1.5 * across_m),
                position,
                out_m,
                back_m,
            )
        ]
    )


def test_an_aim_outside_her_is_for_servers_precise_enough():
    """Half a metre outside pays for every server with 0.5 m of scatter across and for none with 1.0 m; at
    0.6 m a quarter of a metre pays, in nineteen of twenty cases."""
    assert (gains(0.5, 0.5, 0.0) > 0.0).all()
    assert (gains(0.6, 0.25, 0.0) > 0.0).mean() >= 0.95
    assert (gains(1.0, 0.5, 0.0) < 0.0).all()


def test_an_aim_behind_her_pays_for_servers_precise_enough():
    assert (gains(0.6, 0.0, 1.0) > 0.0).all()


def test_shorter_on_the_same_line_from_its_own_corner_raises_the_angle():
    target = Point(TARGET_X_M, 1.0)
    for side in (1.0, -1.0):
        contact = Point(4.4 * side, -9.2)
        angles = [
            pass_angle_deg(PLAIN, contact, 4.2 * side, y, target) for y in (9.0, 8.0, 7.0, 6.0, 5.0, 4.0)
        ]
        assert angles == sorted(angles)
        assert angles[-1] > angles[0] + 15.0


# --- 4. Serves to stay off

STAY_OFF = {  # spot 0 to 8, which of the three stock passers, from the receivers' left
    "from the right end over the setter to the far passer": (8, 2),
    "straight back from the middle": (4, 1),
    "from the left end across to the receivers' left-side passer": (0, 0),
}


@pytest.mark.parametrize("serve", STAY_OFF.values(), ids=STAY_OFF)
def test_a_serve_to_stay_off_is_a_point_behind_the_best_call(name, serve):
    spot, passer = serve
    for position in POSITIONS:
        situation = stock_situation(BY_NAME[name], position)
        search, among = Search(ARRAYS, situation), stands(situation)
        stand, place = among[spot], situation.receivers.stands[passer].place
        best = found(name).calls["three", position]
        for pace in (0, 1):
            if aim_reachable(stand.stance, pace, place):
                keep = worth_at(search, Option(stand, pace, place, 0.0, 0.0)).keep
                assert keep <= best.keep - A_POINT


def test_serves_to_stay_off_are_in_reach_of_most_servers():
    """So that the test above is about something."""
    situations = [stock_situation(stock, 1) for stock in STOCK_SERVERS]
    for spot, passer in STAY_OFF.values():
        reached = [
            aim_reachable(stands(s)[spot].stance, 1, s.receivers.stands[passer].place) for s in situations
        ]
        assert sum(reached) >= 14


def test_the_worst_landing_lies_in_the_setters_lane_in_three_of_four_cases():
    """Of all landings of a spot's usual pace, at each depth: the serve's track passes within 1.2 m of the
    pass target or of the setter's place. Measured: 80 in 100."""
    crossed = []
    for stock in STOCK_SERVERS[::2]:
        for formation in ("three", "four"):
            for position in POSITIONS:
                crossed += worst_landings_cross(stock_situation(stock, position, formation))
    assert len(crossed) > 2000
    assert np.mean(crossed) >= 0.75


def worst_landings_cross(situation: Situation) -> list[bool]:
    search, receivers = Search(ARRAYS, situation), situation.receivers
    crossed = []
    for stand in stands(situation):
        landings = search.field(stand, 1, "coarse").landings
        worth = landing_worth(situation, stand, 1, [p.x_m for p in landings], [p.y_m for p in landings])
        depths = [depth(p) for p in landings]
        for wanted in set(depths):
            worst = min((w, i) for i, (w, d) in enumerate(zip(worth, depths, strict=True)) if d == wanted)[1]
            crossed.append(
                crosses_setter_lane(
                    stand.stance.contact, landings[worst], receivers.setter_start, receivers.target
                )
            )
    return crossed


# --- 5. Scatter and ceilings


@pytest.mark.parametrize("position", [1, 3, 4, 6])
@pytest.mark.parametrize("name", list(BY_NAME)[1::4])
def test_more_scatter_never_brings_the_target_closer_to_a_sideline(name, position):
    """From stock scatter up, at fixed spot, kind, pace and depth: closer is never worth 0.02 points more."""
    stock = BY_NAME[name]
    situation = stock_situation(stock, position)
    scatter = situation.server.serves[0].scatter
    for corner in (0, 8):
        for y_m in (4.5, 6.0, 7.5):
            nearest_m = 0.0
            for factor in (1.0, 1.3, 1.6, 2.0):
                wider = with_scatter(situation, factor * scatter.across_m, factor * scatter.along_m)
                inside_m, keep = along_depth(wider, corner, y_m)
                if not inside_m.size:
                    continue
                assert keep[inside_m >= nearest_m - 1e-9].max() >= keep.max() - 0.0002
                nearest_m = inside_m[keep.argmax()]


def along_depth(situation: Situation, corner: int, y_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Return, for aims all at one depth, the distance to the nearer sideline and the worth."""
    stand, search = stands(situation)[corner], Search(ARRAYS, situation)
    places = (Point(0.2 * k, y_m) for k in range(-22, 23))
    found = [
        (4.5 - abs(place.x_m), worth_at(search, Option(stand, 1, place, 0.0, 0.0)).keep)
        for place in places
        if aim_reachable(stand.stance, 1, place)
    ]
    return np.array([inside for inside, _ in found]), np.array([keep for _, keep in found])


def test_a_higher_ceiling_never_lowers_keep(name):
    """To 0.03 points in 100, which is where the search stops looking beside a ceiling."""
    for position in (1, 6):
        situation = stock_situation(BY_NAME[name], position)
        search, among = Search(ARRAYS, situation), stands(situation)
        least = search.fewest_errors(among).p_error
        kept = [search.best(among, least + above / 100).keep for above in (1, 2, 3, 4, 6, 8, 12, 20)]
        kept.append(search.best(among, None).keep)
        assert all(higher >= lower - 0.0003 for lower, higher in pairwise(kept))


# --- 6. A weaker passer


def rated(situation: Situation, passer: int, grade: float, passes: int) -> Situation:
    stands = list(situation.receivers.stands)
    stands[passer] = replace(stands[passer], shift=rating_shift(grade, passes))
    return with_stands(situation, *stands)


def away_m(call: Option, place: Point) -> float:
    return math.hypot(call.landing.x_m - place.x_m, call.landing.y_m - place.y_m)


def whose(call: Option, situation: Situation) -> int:
    places = [s.place for s in situation.receivers.stands]
    return min(range(len(places)), key=lambda i: away_m(call, places[i]))


FLAT_M = 0.05  # chosen: the top is flat, and the best of it may lie this much elsewhere


@pytest.mark.parametrize("position", [1, 4, 6])
def test_a_weaker_passer_never_moves_the_target_away_from_her(name, position):
    """A ball that was hers stays hers; one that was another's comes no farther from her."""
    situation = stock_situation(BY_NAME[name], position)
    before = found(name).calls["three", position]
    for passer, stand in enumerate(situation.receivers.stands):
        for grade, passes in ((1.6, 20), (1.2, 20), (1.2, 200)):
            after = best_call(ARRAYS, rated(situation, passer, grade, passes))
            if whose(before, situation) == passer:
                assert whose(after, situation) == passer
            else:
                assert away_m(after, stand.place) <= away_m(before, stand.place) + FLAT_M


def test_how_far_the_target_moves_depends_on_how_sure_her_rating_is():
    """The same grade of 1.2, over 5, 20 and 200 passes: on average nearer to her each time."""
    distances = []
    for stock in STOCK_SERVERS[::2]:
        for position in (1, 4):
            situation = stock_situation(stock, position)
            passer = 2 if position == 1 else 0  # the one on the far side
            place = situation.receivers.stands[passer].place
            distances.append(
                [away_m(best_call(ARRAYS, rated(situation, passer, 1.2, n)), place) for n in (5, 20, 200)]
            )
    few, some, many = np.array(distances).T
    assert (some <= few + FLAT_M).all()
    assert (many <= some + FLAT_M).all()
    assert few.mean() - some.mean() > 0.1
    assert some.mean() - many.mean() > 0.1


# --- Parts that must each matter


def failing(part: str, position) -> list[Option]:
    """Return the calls that no longer agree, by spot or by target, of the 38 without a part."""
    calls = [found(name).without[part][formation, position] for name in BY_NAME for formation in TUNED]
    assert len(calls) == 38
    return [call for call in calls if not call_agrees(position, call)]


@pytest.mark.parametrize("position", [1, 2])
def test_without_the_sight_part_the_right_corner_calls_fail(position):
    """Measured: all 38."""
    assert len(failing("sight", position)) >= 36


@pytest.mark.parametrize("position", [3, 6])
def test_without_the_behind_part_the_calls_against_a_setter_in_3_or_6_fail(position):
    """Measured: all 38, to the right corner."""
    failed = failing("behind", position)
    assert len(failed) >= 36
    assert all(call.stand.spot.x_m >= CORNER_M for call in failed)


@pytest.mark.parametrize("position", [1, 2])
def test_without_the_pass_angle_the_target_leaves_its_side_against_a_setter_in_1_or_2(position):
    """Measured: 20 and 16 of 38; most of them keep the corner and leave the side."""
    failed = failing("pass angle", position)
    assert len(failed) >= 12
    left = [call for call in failed if call.stand.spot.x_m >= CORNER_M and call.landing.x_m <= 1.5]
    assert len(left) >= 0.8 * len(failed)


@pytest.mark.parametrize("part", ["behind", "pass angle"])
@pytest.mark.parametrize("position", [4, 5])
def test_the_calls_against_a_setter_in_4_or_5_do_not_hang_on_these_parts(part, position):
    assert not failing(part, position)
