"""From a request for a call to the situation it is about; what is not given is assumed, and said so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from cornerwise.engine.call.situation import Situation
from cornerwise.engine.court import (
    FREE_ZONE_M,
    HALF_WIDTH_M,
    USUAL_PASS_TARGET,
    Point,
    in_service_zone,
    on_opponents_half,
    service_spots,
    spot_name,
)
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.flight import BALLS, BallName
from cornerwise.engine.names import FORMATIONS, FormationName, Level
from cornerwise.engine.outcome import Receivers, outcome_model
from cornerwise.engine.passing import Stand
from cornerwise.engine.players import (
    NET_HEIGHT_M,
    USUAL_KIND,
    Scatter,
    Serve,
    Server,
    rating_shift,
    serve_of,
    stock_server,
    with_wobble,
)
from cornerwise.engine.reception import (
    Passer,
    Player,
    complete,
    passers_places,
    setter_start,
    setting_position,
    stock_formation,
)
from cornerwise.engine.roster import Job

from .exact import faces, place, point
from .stock import START_LEVEL

LEAST_TO_NET_M = 0.5  # chosen: a serve is hit at least this far from the net


@dataclass(frozen=True, slots=True)
class Asked:
    """A request, understood: the situation, and what of it was assumed.

    players         : the six receivers by position.
    setter_position : None when only her place was given.
    next_job        : where the server defends next, None if that was not said.
    assumed         : names of what was not given.
    """

    level: Level
    ball: BallName
    situation: Situation
    players: tuple[Player, ...]
    formation: str | None
    system: str
    use_start_ceiling: bool
    next_job: Job | None
    assumed: tuple[str, ...]

    @property
    def setter(self) -> Player:
        """The one who sets."""
        return next(p for p in self.players if p.role == "setter")

    @property
    def passers(self) -> tuple[Player, ...]:
        """Those who pass, in the order of the situation's own."""
        return tuple(p for p in self.players if p.role == "passer")


def asked(request: dict[str, Any]) -> Asked:
    """Return what a request is about. Raises RuleBroken naming the field that breaks a rule."""
    level: Level = request.get("level", START_LEVEL)
    opponent, policy = request.get("opponent", {}), request.get("policy", {})
    server_request = request.get("server", {})
    kind = server_request.get("kind", USUAL_KIND[level])
    net_m = float(request.get("net_height_m", NET_HEIGHT_M[level]))
    players = _players(opponent)
    target = _target(opponent)
    setter = next(p for p in players if p.role == "setter")
    stands = tuple(
        Stand(p.place, rating_shift(p.pass_grade, p.passes)) for p in players if p.role == "passer"
    )
    situation = Situation(
        outcome_model(level),
        Receivers(stands, setter.place, target, faces(opponent)),
        _server(server_request, level, kind, net_m, request.get("service_line_m")),
        net_m,
        request.get("drag_model", "B"),
        policy.get("error_ceiling"),
        BALLS[request.get("ball", "match")],
    )
    return Asked(
        level,
        request.get("ball", "match"),
        situation,
        players,
        None if "passers" in opponent else opponent.get("formation", "three"),
        opponent.get("system", "one_setter"),
        bool(policy.get("use_start_ceiling", False)) and policy.get("error_ceiling") is None,
        server_request.get("next_job"),
        _assumed(request, server_request, opponent),
    )


def _players(opponent: dict[str, Any]) -> tuple[Player, ...]:
    """Return the six receivers: given passers, or a stock formation around the setter."""
    position, start = opponent.get("setter_position"), opponent.get("setter_start")
    if position is None and start is None:
        expected = "opponent.setter_position (1 to 6) or opponent.setter_start"
        raise RuleBroken("opponent", opponent, expected, "setter_unknown")
    if position is not None:
        position = setting_position(position, opponent.get("system", "one_setter"))
    start_place = None if start is None else point(start)
    formation = opponent.get("formation", "three")
    if "passers" not in opponent:
        if position is not None:
            return stock_formation(position, formation, start_place)
        assert start_place is not None  # else refused above
        return complete([Passer(p) for p in passers_places(formation)], None, start_place)
    passers = [_passer(given) for given in opponent["passers"]]
    if start_place is None:
        assert position is not None  # else refused above
        start_place = setter_start(position, opponent.get("formation", _formation_of(len(passers))))
    return complete(passers, position, start_place)


def _formation_of(passers: int) -> FormationName:
    """Return the stock formation with as many passers, or the nearest."""
    return FORMATIONS[min(max(passers, 2), 5) - 2]


def _passer(given: dict[str, Any]) -> Passer:
    return Passer(
        point(given), given.get("position"), given.get("number"), given.get("pass_grade"), given.get("passes")
    )


def _target(opponent: dict[str, Any]) -> Point:
    if "pass_target" not in opponent:
        return USUAL_PASS_TARGET
    target = point(opponent["pass_target"])
    if not on_opponents_half(target):
        expected = "a place in their court: x from -4.5 to 4.5 m, y from 0 to 9 m"
        raise RuleBroken("opponent.pass_target", place(target), expected, "target_outside_court")
    return target


def _server(given: dict[str, Any], level: Level, kind: Any, net_m: float, line_m: float | None) -> Server:
    """Return the server: what is given of her, and the stock server of her level and kind for the rest."""
    stock = stock_server(level, kind, net_m)
    service_line_m = stock.service_line_m if line_m is None else float(line_m)
    speeds = given.get("speeds_m_s")
    if speeds is None:
        speeds = serve_of(stock).speeds_m_s
    scatter = given.get("scatter")
    measured = None if scatter is None else Scatter(float(scatter["across_m"]), float(scatter["along_m"]))
    serve = Serve(
        kind,
        tuple(sorted({float(speed) for speed in speeds})),
        float(given.get("contact_height_m", stock.contact_height_m)),
        float(given.get("contact_inside_m", stock.contact_inside_m)),
        float(given.get("spin_rev_s", stock.spin_rev_s)),
        measured or with_wobble(kind, stock.scatter),
    )
    serves = [serve]
    if given.get("has_short_float", False) and kind != "short_float":
        short = serve_of(stock_server(level, "short_float", net_m))
        scatter_of_short = measured or short.scatter
        serves.append(
            Serve("short_float", short.speeds_m_s, short.contact_height_m, 0.0, 0.0, scatter_of_short)
        )
    spots = _spots(given.get("spots"), service_line_m)
    _check_contact(serve.contact_inside_m, spots)
    return Server(tuple(serves), spots, service_line_m)


def _spots(given: list[Any] | None, service_line_m: float) -> tuple[Point, ...]:
    """Return the spots a server can use: all nine, or those named, or places of her own."""
    nine = service_spots(service_line_m)
    if given is None:
        return nine
    spots: list[Point] = []
    for i, spot in enumerate(given):
        if isinstance(spot, str):
            spots += [s for s in nine if spot_name(s.x_m) == spot]
            continue
        own = point(spot)
        if not in_service_zone(own, service_line_m):
            expected = (
                f"a spot in the service zone: x from -{HALF_WIDTH_M} to {HALF_WIDTH_M} m, "
                f"y from {-(service_line_m + FREE_ZONE_M)} to {-service_line_m} m"
            )
            raise RuleBroken(f"server.spots.{i}", place(own), expected, "spot_outside_service_zone")
        spots.append(own)
    return tuple(dict.fromkeys(spots))


def _check_contact(inside_m: float, spots: tuple[Point, ...]) -> None:
    nearest = max(spot.y_m for spot in spots) + inside_m
    if nearest > -LEAST_TO_NET_M:
        expected = f"a contact point at least {LEAST_TO_NET_M} m from the net"
        raise RuleBroken("server.contact_inside_m", inside_m, expected, "contact_past_net")


def _assumed(request: dict[str, Any], server: dict[str, Any], opponent: dict[str, Any]) -> tuple[str, ...]:
    """Return the names of what was not given; the weights are always assumed until a log replaces them."""
    passers = opponent.get("passers", ())
    given = {
        "level": "level" in request,
        "net": "net_height_m" in request,
        "server": "kind" in server,
        "pace": "speeds_m_s" in server,
        "contact": {"contact_height_m", "contact_inside_m"} <= server.keys(),
        "spin": "spin_rev_s" in server,
        "scatter": "scatter" in server,
        "setter_start": "setter_start" in opponent,
        "formation": "formation" in opponent or bool(passers),
        "passers": bool(passers),
        "ratings": bool(passers) and all(p.get("pass_grade") is not None for p in passers),
        "pass_target": "pass_target" in opponent,
        "weights": False,
    }
    return tuple(name for name, known in given.items() if not known)
