"""Situations for the tests of the call: stock ones, random ones, and their mirror images."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
from cornerwise.engine.call.search import Search, stands
from cornerwise.engine.call.situation import Option, Situation
from cornerwise.engine.call.situation import Stand as ServersStand
from cornerwise.engine.call.value import difficulty
from cornerwise.engine.court import USUAL_PASS_TARGET, Point, service_spots
from cornerwise.engine.flight import reach_table
from cornerwise.engine.maths import Maths
from cornerwise.engine.names import FormationName, Level
from cornerwise.engine.outcome import Receivers, outcome_model, rally_won, standing_part, terms, win_shares
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import (
    STOCK_SERVERS,
    Scatter,
    Server,
    StockServer,
    rating_shift,
    serve_of,
    server_of,
    stock_server,
)
from cornerwise.engine.reception import Position, passers_places, setter_start
from cornerwise.service.arrays import ARRAYS

from .slow import Passers

POSITIONS: tuple[Position, ...] = (1, 2, 3, 4, 5, 6)


def named(stock: StockServer) -> str:
    """A stock server's name for the test report: level, kind, net height in cm."""
    return f"{stock.level}-{stock.kind}-{100 * stock.net_height_m:.0f}"


BY_NAME = {named(stock): stock for stock in STOCK_SERVERS}


def stock_situation(
    stock: StockServer, position: Position, formation: FormationName = "three", ceiling: float | None = None
) -> Situation:
    """A stock server against a stock formation with the setter in one of the six positions."""
    receivers = Receivers(
        tuple(Stand(place) for place in passers_places(formation)),
        setter_start(position, formation),
        USUAL_PASS_TARGET,
    )
    return Situation(
        outcome_model(stock.level), receivers, server_of(stock), stock.net_height_m, error_ceiling=ceiling
    )


def with_scatter(situation: Situation, across_m: float, along_m: float) -> Situation:
    """The same server, as precise as said."""
    serves = tuple(replace(s, scatter=Scatter(across_m, along_m)) for s in situation.server.serves)
    return replace(situation, server=replace(situation.server, serves=serves))


def with_stands(situation: Situation, *passers: Stand) -> Situation:
    """The same situation with other passers."""
    return replace(situation, receivers=replace(situation.receivers, stands=passers))


def mirrored(situation: Situation) -> Situation:
    """Left and right changed for everything: spots, passers, setter, pass target, the way she faces."""
    r, server = situation.receivers, situation.server
    receivers = Receivers(
        tuple(replace(s, place=_mirror(s.place)) for s in r.stands),
        _mirror(r.setter_start),
        _mirror(r.target),
        -r.faces,
    )
    spots = tuple(_mirror(spot) for spot in server.spots)
    return replace(situation, receivers=receivers, server=replace(server, spots=spots))


def _mirror(place: Point) -> Point:
    return Point(-place.x_m, place.y_m)


def best_call(m: Maths, situation: Situation, ceiling: float | None = None) -> Option | None:
    """The engine's best call under a ceiling."""
    return Search(m, situation).best(stands(situation), ceiling)


def slow_passers(level: Level, situation: Situation) -> Passers:
    """The receiving side for the slow computation."""
    r = situation.receivers
    return Passers(
        level,
        tuple((s.place.x_m, s.place.y_m) for s in r.stands),
        tuple(s.shift for s in r.stands),
        (r.setter_start.x_m, r.setter_start.y_m),
        (r.target.x_m, r.target.y_m),
        r.faces,
    )


def random_situation(seed: int) -> tuple[Level, Situation]:
    """A stock server's flights, and all else by chance: scatter, spots, passers and ratings, setter, target.

    Two to five passers stand anywhere a passer might, in order or not; one server in four has a short
    float as well; one situation in six uses the other drag model.
    """
    rng = random.Random(seed)
    stock = rng.choice(STOCK_SERVERS)
    across_m = math.exp(rng.uniform(math.log(0.3), math.log(1.6)))
    scatter = Scatter(across_m, across_m * rng.uniform(1.0, 2.0))
    serves = [serve_of(stock)]
    if rng.random() < 0.25:
        serves.append(serve_of(stock_server(stock.level, "short_float", stock.net_height_m)))
    spots = service_spots(stock.service_line_m)
    if rng.random() < 0.4:
        spots = tuple(rng.sample(spots, rng.randint(1, 5)))
    server = Server(tuple(replace(s, scatter=scatter) for s in serves), spots, stock.service_line_m)
    receivers = Receivers(
        tuple(_random_passer(rng) for _ in range(rng.randint(2, 5))),
        Point(rng.uniform(-4.3, 4.3), rng.uniform(0.3, 8.0)),
        rng.choice([USUAL_PASS_TARGET, Point(rng.uniform(-2.0, 2.0), rng.uniform(0.3, 3.0))]),
        rng.choice([1.0, 1.0, -1.0]),
    )
    drag = rng.choice(["B"] * 5 + ["A"])
    return stock.level, Situation(outcome_model(stock.level), receivers, server, stock.net_height_m, drag)


def _random_passer(rng: random.Random) -> Stand:
    rated = rng.random() < 0.3
    shift = rating_shift(rng.uniform(0.5, 3.0), rng.randint(5, 200)) if rated else 0.0
    return Stand(Point(rng.uniform(-4.2, 4.2), rng.uniform(2.5, 8.5)), shift)


def landing_worth(
    situation: Situation, stand: ServersStand, pace: int, x_m: list[float], y_m: list[float]
) -> np.ndarray:
    """The chance of winning the rally on balls that land in at these places, by the engine's formulas."""
    contact, model = stand.stance.contact, situation.model
    x, y = np.array(x_m), np.array(y_m)
    table = reach_table(stand.stance.launches[pace])
    times = np.array([table.flight_time_s(r) for r in np.hypot(x - contact.x_m, y - contact.y_m)])
    t = terms(ARRAYS, model, situation.receivers, contact, x, y)
    speed = stand.serve.speeds_m_s[pace]
    hard = difficulty(ARRAYS, situation, speed, standing_part(model, t), t.move_m, times)
    return rally_won(ARRAYS, model, hard, *win_shares(model, t.behind))
