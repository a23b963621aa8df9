"""A second computation of what a serve is worth: slow, obvious, and apart from the engine's own.

The formulas are written out again in NumPy, with their numbers, from the model's description: nothing
here calls the engine's geometry, passing, outcome or grid. Only single flights are taken from it
(`flight.trajectory`, itself checked against an outside solver), and read between by scipy's splines. Scatter
is integrated along every bearing between the exact ends of what is in, by Gauss-Legendre quadrature,
where the engine counts cells.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
from cornerwise.engine.flight import Launch, reach_table, trajectory
from scipy.interpolate import CubicHermiteSpline, CubicSpline, RectBivariateSpline
from scipy.special import ndtr
from scipy.stats import norm

LEVELS = {  # serving side's win shares after grades 1, 2, 3; the level's shift of the difficulty
    "under_14": ((0.61, 0.50, 0.42), 0.65),
    "high_school": ((0.61, 0.50, 0.42), 0.30),
    "college": ((0.60, 0.45, 0.37), -0.60),
    "elite_women": ((0.60, 0.45, 0.37), -1.10),
    "elite_men": ((0.54, 0.35, 0.26), -1.20),
}
CUTS = (2.5, 1.3, -0.15)
RADIUS_M = 0.105
NEAREST_M, FARTHEST_M = 5.0, 15.0  # between these a net may stand along the track
IN_M = 0.05  # a ball is in when its centre is up to this far outside the line


def angle_deg(ax, ay, bx, by):
    """The angle between two directions, from sine and cosine together."""
    return np.degrees(np.abs(np.arctan2(ax * by - ay * bx, ax * bx + ay * by)))


@dataclass(frozen=True)
class Passers:
    """The receiving side: places of passers (n, 2), ratings in logit (n), setter, target, facing."""

    level: str
    places: tuple[tuple[float, float], ...]
    ratings: tuple[float, ...]
    setter: tuple[float, float]
    target: tuple[float, float] = (-1.0, 1.0)
    faces: float = 1.0

    def parts(self, contact, x, y, time_s, speed_m_s):
        """The difficulty of a landing, part by part, and `behind`."""
        (sx, sy), (tx, ty), (bx, by) = contact, self.target, self.setter
        pass_angle = angle_deg(sx - x, sy - y, tx - x, ty - y)
        sight_angle = angle_deg(sx - x, sy - y, bx - x, by - y)
        length = np.hypot(x - tx, y - ty)
        px, py = (np.array(column) for column in zip(*self.places, strict=True))
        distances = np.hypot(x[..., None] - px, y[..., None] - py)
        who = distances.argmin(-1)
        in_order = np.sort(distances, -1)
        move = in_order[..., 0]
        gap = in_order[..., 1] - move if len(px) > 1 else np.full(x.shape, np.inf)
        away = ((x - px[who]) * (x - tx) + (y - py[who]) * (y - ty)) / length
        to_sideline = 4.5 - np.abs(x)
        seam = np.maximum(np.exp(-((gap / 0.6) ** 2)), np.exp(-((to_sideline / 0.6) ** 2)))
        run = math.hypot(bx - tx, by - ty)
        reachable = 0.75 + 2.6 * np.maximum(time_s - 0.35, 0.05)
        parts = {
            "pass_angle": 0.60 * (pass_angle / 45 - 0.6),
            "sight_angle": 1.10 * (sight_angle / 45 - 0.6),
            "pass_length": 0.12 * (length - 5.5),
            "move": 0.50 * (move / reachable) ** 2,
            "away": 0.50 * np.clip(away, 0, 2),
            "back": 0.30 * np.clip(y - py[who], 0, 2),
            "seam": 0.12 * seam * np.minimum(move / 1.2, 1),
            "setter_late": 0.55 * np.maximum(run / 4 - (time_s + 1.2) + 0.9, 0),
            "serve_speed": np.full(x.shape, 0.06 * (speed_m_s - 16)),
            "passer": np.array(self.ratings)[who],
        }
        bearing = angle_deg(self.faces, 0.0, x - tx, y - ty)
        return parts, np.clip((bearing - 80) / 40, 0, 1)

    def grades(self, contact, x, y, time_s, speed_m_s):
        """The chances of pass grades 0 to 3 for a ball that lands in at (x, y), and `behind`."""
        parts, behind = self.parts(contact, x, y, time_s, speed_m_s)
        difficulty = -0.95 + LEVELS[self.level][1] + sum(parts.values())
        at_most = [1 / (1 + np.exp(cut - difficulty)) for cut in CUTS]
        return np.diff([np.zeros_like(x), *at_most, np.ones_like(x)], axis=0), behind

    def ace(self, *landing):
        """The chance that no second contact is possible."""
        return self.grades(*landing)[0][0]

    def win(self, *landing):
        """The chance that the serving side wins the rally."""
        grades, behind = self.grades(*landing)
        one, two, three = LEVELS[self.level][0]
        after = [1.0, one + 0.05 * behind, two + behind * (one - two), three + 0.30 * behind * (two - three)]
        return sum(p * w for p, w in zip(grades, after, strict=True))


def heights_m(path, away_m):
    """Height of a ball so far along the ground; one radius once it has landed."""
    _, x, z, vx, vz = path
    return np.where(away_m < x[-1], CubicHermiteSpline(x, z, vz / vx)(np.minimum(away_m, x[-1])), RADIUS_M)


@dataclass(frozen=True)
class Flights:
    """All flights of one launch by the lower launch angle, and what it takes to clear a net.

    Read between flights whose ranges close in on the longest: smooth in the root of what is missing.
    """

    launch: Launch
    net_height_m: float

    @cached_property
    def longest_m(self):
        return reach_table(self.launch).longest_m

    @cached_property
    def _flown(self):
        """Paths from the one that carries farthest down to a steep one, as arrays t, x, z, vx, vz."""
        highest = reach_table(self.launch).longest_angle_rad
        paths = [np.array(trajectory(self.launch, angle)).T for angle in np.linspace(highest, -0.5, 60)]
        return [path for path in paths if path[1, -1] > NEAREST_M]

    @cached_property
    def _roots(self):
        return np.sqrt([max(self.longest_m - path[1, -1], 0.0) for path in self._flown])

    @cached_property
    def _times(self):
        return CubicSpline(self._roots, [path[0, -1] for path in self._flown])

    @cached_property
    def _heights(self):
        away_m = np.linspace(NEAREST_M, FARTHEST_M, 120)
        return RectBivariateSpline(self._roots, away_m, [heights_m(path, away_m) for path in self._flown])

    def time_s(self, range_m):
        """Flight time; past the longest range the longest ball's."""
        return self._times(np.sqrt(np.maximum(self.longest_m - range_m, 0.0)))

    def clears(self, range_m, to_net_m):
        """Whether balls pass the net, each at its own distance; past the longest range the longest ball."""
        height_m = self._heights.ev(np.sqrt(np.maximum(self.longest_m - range_m, 0.0)), to_net_m)
        return (range_m > to_net_m) & (height_m >= self.net_height_m + RADIUS_M)

    def shortest_m(self, to_net_m):
        """The shortest range whose ball clears the net, for an array of distances; inf where none does."""
        needed_m = self.net_height_m + RADIUS_M
        far = np.zeros_like(to_net_m)
        short = np.sqrt(np.maximum(self.longest_m - to_net_m, 0.0))
        for _ in range(32):  # halving: a longer ball is higher at the net
            middle = (short + far) / 2
            low = self._heights.ev(middle, to_net_m) < needed_m
            short, far = np.where(low, middle, short), np.where(low, far, middle)
        cleared = self._heights.ev(np.zeros_like(to_net_m), to_net_m) >= needed_m
        return np.where(cleared, self.longest_m - far**2, np.inf)


flights = cache(Flights)

NODES, WEIGHTS = np.polynomial.legendre.leggauss(48)


def gauss(low, high):
    """Nodes and weights of Gauss-Legendre quadrature from low to high, along a new last axis."""
    half = (np.asarray(high) - low)[..., None] / 2
    return np.asarray(low)[..., None] + half * (NODES + 1.0), half * WEIGHTS


def to_edge_m(contact, bearings, out_m):
    """How far it is along each bearing to where the court, wider by out_m on all sides, is left."""
    sx, sy = contact
    sin, cos = np.sin(bearings), np.cos(bearings)
    side = np.where(sin > 0, 4.5 + out_m - sx, 4.5 + out_m + sx) / np.maximum(np.abs(sin), 1e-12)
    return np.minimum(side, (9.0 + out_m - sy) / cos)


@dataclass(frozen=True)
class Tracks:
    """Bearings of one place and pace, their weights, and the ranges between which a ball is in."""

    contact: tuple[float, float]
    flights: Flights
    bearings: np.ndarray
    weights: np.ndarray
    low_m: np.ndarray
    high_m: np.ndarray


def span_m(contact, flights, bearings):
    """From where to where a ball is in along each bearing: past the net and inside the lines."""
    return flights.shortest_m(-contact[1] / np.cos(bearings)), to_edge_m(contact, bearings, IN_M)


def live_ends(contact, flights):
    """The first and the last bearing along which anything is in, looked for twice; None if nothing is."""
    ends = np.array([-1.2, 1.2])
    for step in (0.008, 0.0001):
        every = np.unique([np.clip(e + np.arange(-200, 201) * step, -1.2, 1.2) for e in ends])
        low, high = span_m(contact, flights, every)
        live = every[low < high]
        if not live.size:
            return None
        ends = live[[0, -1]]
    return ends


@cache
def tracks(contact, flights):
    """Bearings in three panels, parted by the far corners of the court, where the edge has a bend.

    None if no ball of this pace from this place is in.
    """
    sx, sy = contact
    corners = [math.atan2(side * (4.5 + IN_M) - sx, 9.0 + IN_M - sy) for side in (-1, 1)]
    live = live_ends(contact, flights)
    if live is None:
        return None
    first, last = live
    ends = np.unique([first, *np.clip(corners, first, last), last])
    bearings, weights = (part.ravel() for part in gauss(ends[:-1], ends[1:]))
    low, high = span_m(contact, flights, bearings)
    return Tracks(contact, flights, bearings, weights, np.minimum(low, high), high)


@dataclass(frozen=True)
class Throws:
    """Landings with their weights and values: bearing x node along the range."""

    tracks: Tracks
    ranges_m: np.ndarray
    weights_m: np.ndarray
    values: np.ndarray

    def worth(self, across_m, along_m, bearings, ranges_m):
        """What to expect and how often it is in, for aims at every bearing with every range: two arrays.

        across_m : sd for a serve of 15 m; the bearing's sd follows. along_m : sd of the range.
        """
        t = self.tracks
        across = t.weights * norm.pdf(t.bearings, np.asarray(bearings)[:, None], across_m / 15.0)
        z = (self.ranges_m[:, None, :] - np.asarray(ranges_m)[:, None]) / along_m
        density = np.exp(-0.5 * z * z) / (along_m * math.sqrt(2 * math.pi))
        keep = (density @ (self.values * self.weights_m)[:, :, None])[:, :, 0]
        beyond = [ndtr((edge[:, None] - ranges_m) / along_m) for edge in (t.low_m, t.high_m)]
        return across @ keep, across @ (beyond[1] - beyond[0])


def throws(value, tracks, speed_m_s):
    """Every landing of one place and pace that is in, valued: `Passers.win` or `Passers.ace`, bound."""
    ranges, weights = gauss(tracks.low_m, tracks.high_m)
    x = tracks.contact[0] + ranges * np.sin(tracks.bearings)[:, None]
    y = tracks.contact[1] + ranges * np.cos(tracks.bearings)[:, None]
    values = value(tracks.contact, x, y, tracks.flights.time_s(ranges), speed_m_s)
    return Throws(tracks, ranges, weights, values)
