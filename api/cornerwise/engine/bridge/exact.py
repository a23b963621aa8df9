"""Geometry and flight of a single serve, as asked for over the API."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from cornerwise.engine.call.detail import Geometry
from cornerwise.engine.call.detail import geometry as serve_geometry
from cornerwise.engine.court import SPOT_BEHIND_LINE_M, Point, distance_m
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.flight import Launch, net_margin_m, reach_table, solve
from cornerwise.engine.passing import platform_turn_deg
from cornerwise.engine.players import stock_server

SAME_PLACE_M = 1e-6  # places nearer than this leave no direction


def point(value: Mapping[str, float]) -> Point:
    """Return a place from its API form."""
    return Point(float(value["x_m"]), float(value["y_m"]))


def place(value: Point) -> dict[str, float]:
    """Return the API form of a place."""
    return {"x_m": value.x_m, "y_m": value.y_m}


def geometry_fields(seen: Geometry) -> dict[str, Any]:
    """Return the API form of a serve's geometry."""
    return {
        "pass_angle_deg": seen.pass_angle_deg,
        "sight_angle_deg": seen.sight_angle_deg,
        "sight_band": seen.sight_band,
        "platform_turn_deg": platform_turn_deg(seen.pass_angle_deg),
        "pass_length_m": seen.pass_length_m,
        "arrival_bearing_deg": seen.arrival_bearing_deg,
        "setter_run_m": seen.setter_run_m,
        "crosses_setter_lane": seen.crosses_setter_lane,
    }


def geometry(request: dict[str, Any]) -> dict[str, Any]:
    """Return the exact geometry of one serve and its pass.

    request : spot (the contact point), landing, setter_start, pass_target; setter_faces left if not given.

    Raises RuleBroken if two places leave no direction between them.
    """
    contact, landing = point(request["spot"]), point(request["landing"])
    setter, target = point(request["setter_start"]), point(request["pass_target"])
    for name, other in (("spot", contact), ("setter_start", setter), ("pass_target", target)):
        if distance_m(landing, other) < SAME_PLACE_M:
            raise RuleBroken(name, place(other), "a place other than the landing", "degenerate_geometry")
    return geometry_fields(serve_geometry(contact, landing, setter, target, faces(request)))


def faces(request: dict[str, Any]) -> float:
    """Return which way the setter faces: +1 her own left, as usual, -1 her right."""
    return -1.0 if request.get("setter_faces") == "right" else 1.0


def flight(request: dict[str, Any]) -> dict[str, Any]:
    """Return the flight of one serve to one range, by the lower launch angle.

    request : kind, speed_m_s, contact_height_m, spin_rev_s, range_m, net_height_m; drag_model B if not
    given; distance_to_net_m, along the ground from the contact point, that of the stock server of this
    kind serving straight ahead if not given.
    """
    launch = Launch(
        float(request["speed_m_s"]),
        float(request["contact_height_m"]),
        float(request["spin_rev_s"]),
        request.get("drag_model", "B"),
    )
    found = solve(launch, float(request["range_m"]))
    to_net_m = float(request.get("distance_to_net_m", _usual_distance_m(request)))
    answer: dict[str, Any] = {
        "reachable": found is not None,
        "flight_time_s": None,
        "launch_angle_deg": None,
        "net_margin_m": None,
        "landing_speed_m_s": None,
        "longest_range_m": reach_table(launch).longest_m,
        "distance_to_net_m": to_net_m,
        "drag_model": launch.model,
    }
    if found is not None:
        answer |= {
            "flight_time_s": found.flight_time_s,
            "launch_angle_deg": math.degrees(found.launch_angle_rad),
            "net_margin_m": net_margin_m(found, to_net_m, float(request["net_height_m"])),
            "landing_speed_m_s": found.landing_speed_m_s,
        }
    return answer


def _usual_distance_m(request: dict[str, Any]) -> float:
    """Return how far from the net the stock server of a kind hits the ball. [m]"""
    stock = stock_server("college", request["kind"], float(request["net_height_m"]))
    return stock.service_line_m + SPOT_BEHIND_LINE_M - stock.contact_inside_m
