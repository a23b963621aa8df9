"""Players as the engine sees them: servers with their serves, passers with their ratings."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwise.engine.court import HALF_LENGTH_M, Point, service_spots
from cornerwise.engine.flight import FLOATS, Kind
from cornerwise.engine.names import LEVELS, Level

NET_HEIGHT_M: dict[Level, float] = {
    "under_14": 2.13,  # chosen: youth heights differ by federation; a setting
    "high_school": 2.24,  # women's height, FIVB 2.1.1; a setting
    "college": 2.24,  # FIVB 2.1.1
    "elite_women": 2.24,  # FIVB 2.1.1
    "elite_men": 2.43,  # FIVB 2.1.1
}

SHARE_OF_USUAL_PACE = (0.9, 1.0)  # chosen: the paces on offer when only the usual one is known
WOBBLE_ACROSS_M = 0.20  # chosen; the size of knuckling is from New J Phys 2016;18:073027
WOBBLE_ALONG_M = 0.30  # chosen, as above
SCATTER_AT_M = 15.0  # chosen: across-sd is given for a serve of this length. [m]

RATING_WEIGHT = 0.9  # chosen: logit per grade of a passer's mean pass grade below 2
RATING_MIDDLE = 2.0  # chosen: the mean pass grade that shifts nothing
RATING_STRENGTH = 20.0  # chosen: how many passes weigh as much as knowing nothing
DEFAULT_PASSES = 20.0  # chosen: what a mean grade rests on when nobody says


@dataclass(frozen=True, slots=True)
class Scatter:
    """How precisely a server serves: independent normal errors across and along her line.

    across_m : sd across the line, for a serve of 15 m. [m]
    along_m  : sd of the range. [m]
    """

    across_m: float
    along_m: float

    def __post_init__(self) -> None:
        if not (self.across_m > 0.0 and self.along_m > 0.0):
            raise ValueError(f"scatter: expected sds above 0 m, got {self.across_m!r} and {self.along_m!r}")

    @property
    def bearing_sd_rad(self) -> float:
        """Sd of the bearing. [rad]"""
        return self.across_m / SCATTER_AT_M


@dataclass(frozen=True, slots=True)
class Serve:
    """One kind of serve of one server.

    speeds_m_s       : the paces she has, ball speed at contact. [m/s]
    contact_height_m : centre of the ball at contact. [m]
    contact_inside_m : how much nearer the net than her spot the ball is hit. [m]
    spin_rev_s       : topspin. [rev/s]
    """

    kind: Kind
    speeds_m_s: tuple[float, ...]
    contact_height_m: float
    contact_inside_m: float
    spin_rev_s: float
    scatter: Scatter


@dataclass(frozen=True, slots=True)
class Server:
    """A server: her serves, where she may stand, and the line she serves from behind.

    spots : the spots she can use. [m]
    """

    serves: tuple[Serve, ...]
    spots: tuple[Point, ...]
    service_line_m: float = HALF_LENGTH_M


@dataclass(frozen=True, slots=True)
class StockServer:
    """A server of whom nothing is known but the level and the kind of serve.

    speed_m_s is her usual pace; `scatter` is before float wobble.
    """

    level: Level
    net_height_m: float
    kind: Kind
    speed_m_s: float
    contact_height_m: float
    spin_rev_s: float
    contact_inside_m: float
    scatter: Scatter
    service_line_m: float = HALF_LENGTH_M


def _stock(
    level: Level, net: float, *rows: tuple[Kind, float, float, float, float, float, float]
) -> list[StockServer]:
    return [
        StockServer(level, net, kind, speed, height, spin, inside, Scatter(across, along))
        for kind, speed, height, spin, inside, across, along in rows
    ]


# All chosen. Speeds bracket reported ones (college jump serves 19.7 m/s for men and 13.2 for women,
# elite men over 27, boys of 16 a median of 22.2, floats 15 to 18; from memory, the reports are not at
# hand). No published sd of landing places by level was found, nor spin rates measured on serves.
# Columns: kind, usual pace m/s, contact m, spin rev/s, inside m, sd across m, sd along m.
STOCK_SERVERS: tuple[StockServer, ...] = (
    # Underhand is served from a line moved up by 2 m.
    replace(
        _stock("under_14", 2.13, ("underhand", 13.5, 1.0, 0, 0, 1.1, 1.4))[0],
        service_line_m=HALF_LENGTH_M - 2.0,
    ),
    *_stock(
        "under_14",
        2.13,
        ("plain_overhand", 13.5, 2.1, 2, 0, 1.0, 1.5),
        ("standing_float", 14.0, 2.1, 0, 0, 1.0, 1.5),
    ),
    *_stock(
        "high_school",
        2.24,
        ("plain_overhand", 14.5, 2.3, 2, 0, 1.0, 1.5),
        ("standing_float", 15.0, 2.4, 0, 0, 1.0, 1.5),
        ("jump_float", 15.5, 2.6, 0, 0.5, 1.0, 1.5),
        ("standing_topspin", 17.0, 2.4, 5, 0, 1.0, 1.5),
    ),
    *_stock(
        "high_school",
        2.43,
        ("standing_float", 16.0, 2.6, 0, 0, 1.0, 1.5),
        ("jump_float", 16.5, 2.8, 0, 0.5, 1.0, 1.5),
        ("jump_topspin", 21.0, 2.9, 6, 0.7, 1.0, 1.5),
    ),
    *_stock(
        "college",
        2.24,
        ("standing_float", 15.5, 2.4, 0, 0, 0.8, 1.2),
        ("jump_float", 16.0, 2.7, 0, 0.5, 0.8, 1.2),
        ("jump_topspin", 21.0, 2.8, 6, 0.9, 0.9, 1.3),
    ),
    *_stock(
        "college",
        2.43,
        ("jump_float", 18.0, 3.0, 0, 0.5, 0.8, 1.2),
        ("jump_topspin", 24.0, 3.2, 7, 0.9, 0.9, 1.3),
    ),
    *_stock(
        "elite_women",
        2.24,
        ("jump_float", 16.5, 2.75, 0, 0.5, 0.6, 0.9),
        ("jump_topspin", 21.5, 2.85, 6, 0.9, 0.8, 1.2),
    ),
    *_stock(
        "elite_men",
        2.43,
        ("jump_float", 18.0, 3.0, 0, 0.5, 0.6, 0.9),
        ("jump_topspin", 25.0, 3.3, 7, 0.9, 0.75, 1.1),
    ),
)

SHORT_FLOAT_SPEED_M_S = 12.5  # chosen: a pace below every stock one, a serve of its own

USUAL_KIND: dict[Level, Kind] = {
    "under_14": "standing_float",
    "high_school": "standing_float",
    "college": "jump_float",
    "elite_women": "jump_float",
    "elite_men": "jump_float",
}  # common practice, no source

START_CEILING: dict[Level, float] = {
    "under_14": 0.20,
    "high_school": 0.12,
    "college": 0.10,
    "elite_women": 0.10,
    "elite_men": 0.10,
}  # common practice, no source: the error ceilings the app starts with
TOPSPIN_CEILING = 0.06  # chosen: how much more the topspin kinds may err
CEILING_ABOVE_LEAST = 0.03  # chosen: a starting ceiling leaves at least this room above the least possible


def with_wobble(kind: Kind, scatter: Scatter) -> Scatter:
    """Return a stock scatter with float wobble added in quadrature, once, for the float kinds only."""
    if kind not in FLOATS:
        return scatter
    return Scatter(
        (scatter.across_m**2 + WOBBLE_ACROSS_M**2) ** 0.5, (scatter.along_m**2 + WOBBLE_ALONG_M**2) ** 0.5
    )


def stock_server(level: Level, kind: Kind, net_height_m: float) -> StockServer:
    """Return the stock server of this level and kind whose net is nearest in height.

    A kind that the level has no row for is taken from the nearest level that has one; a short float is
    the level's standing float, or else the nearest level's, at 12.5 m/s.
    """
    wanted: Kind = "standing_float" if kind == "short_float" else kind
    rank = LEVELS.index(level)
    row = min(
        (s for s in STOCK_SERVERS if s.kind == wanted),
        key=lambda s: (abs(LEVELS.index(s.level) - rank), abs(s.net_height_m - net_height_m)),
    )
    if kind == "short_float":
        return replace(row, kind=kind, speed_m_s=SHORT_FLOAT_SPEED_M_S)
    return row


def paces(usual_m_s: float) -> tuple[float, ...]:
    """Return the paces of a server whose usual one is known: 0.9 and 1.0 of it. [m/s]"""
    return tuple(share * usual_m_s for share in SHARE_OF_USUAL_PACE)


def serve_of(stock: StockServer) -> Serve:
    """Return the serve of a stock server: two paces, or the one of a short float, and wobble added."""
    speeds = (stock.speed_m_s,) if stock.kind == "short_float" else paces(stock.speed_m_s)
    return Serve(
        stock.kind,
        speeds,
        stock.contact_height_m,
        stock.contact_inside_m,
        stock.spin_rev_s,
        with_wobble(stock.kind, stock.scatter),
    )


def server_of(stock: StockServer) -> Server:
    """Return a stock server with all nine spots."""
    return Server((serve_of(stock),), service_spots(stock.service_line_m), stock.service_line_m)


def rating_shift(pass_grade: float | None, passes: float | None) -> float:
    """Return what a passer's rating adds to the difficulty of her balls. [logit]

    0.9 * (2.0 - mean grade) * n/(n + 20): few passes count little, an unknown passer nothing.

    pass_grade : mean pass grade over serves in, aces as 0, 0 to 3; None if unknown.
    passes     : n, how many passes it rests on; 20 if not given.
    """
    if pass_grade is None:
        return 0.0
    n = DEFAULT_PASSES if passes is None else passes
    return RATING_WEIGHT * (RATING_MIDDLE - pass_grade) * n / (n + RATING_STRENGTH)
