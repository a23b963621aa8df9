"""The path of one serve, seen from the side: gravity, drag and topspin, by the classical Runge-Kutta method.

x is the distance along the ground from the contact point, z the height of the ball's centre. The ball
has landed when its centre is one radius up. Fixed steps: the same sums in the same order everywhere.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

from .aerodynamics import drag_by_speed, lift_by_speed
from .ball import GRAVITY_M_S2, Launch

STEP_S = 0.02  # chosen: within 0.001 mm of an adaptive solver, see tests/engine/test_flight_trajectory.py

State: TypeAlias = tuple[float, float, float, float, float]
"""t_s, x_m, z_m, vx_m_s, vz_m_s."""
_Step: TypeAlias = Callable[[State, float], State]


def trajectory(
    launch: Launch,
    launch_angle_rad: float,
    *,
    step_s: float = STEP_S,
    gravity_m_s2: float = GRAVITY_M_S2,
    drag: bool = True,
    duration_s: float = math.inf,
) -> tuple[State, ...]:
    """Return the path as (t_s, x_m, z_m, vx_m_s, vz_m_s), every `step_s` from the hit to the landing.

    The last point is the landing itself, z one radius, or the ball at `duration_s` if that comes first.

    launch_angle_rad : above the horizontal, negative below it. [rad]
    gravity_m_s2     : 0 switches gravity off; then give a duration, for the ball may never land.
    drag             : False leaves gravity and lift alone at work.
    duration_s       : [s], > 0
    """
    step = _stepper(launch, gravity_m_s2, drag)
    floor_m = launch.ball.radius_m
    state: State = (
        0.0,
        0.0,
        launch.contact_height_m,
        launch.speed_m_s * math.cos(launch_angle_rad),
        launch.speed_m_s * math.sin(launch_angle_rad),
    )
    path = [state]
    while state[0] < duration_s:
        following = step(state, min(step_s, duration_s - state[0]))
        if following[2] <= floor_m:
            path.append(_landing(step, state, following, floor_m))
            break
        path.append(following)
        state = following
    return tuple(path)


def landing(launch: Launch, launch_angle_rad: float) -> State:
    """Return the last point of the path: when, how far and how fast the ball lands."""
    return trajectory(launch, launch_angle_rad)[-1]


def _landing(step: _Step, before: State, after: State, floor_m: float) -> State:
    """Return the landing between two states, by Newton's method on the length of the last step."""
    part_s = (after[0] - before[0]) * (before[2] - floor_m) / (before[2] - after[2])
    for _ in range(4):
        landed = step(before, part_s)
        part_s -= (landed[2] - floor_m) / landed[4]
    t_s, x_m, _, vx_m_s, vz_m_s = step(before, part_s)
    return t_s, x_m, floor_m, vx_m_s, vz_m_s


def _stepper(launch: Launch, gravity_m_s2: float, with_drag: bool) -> _Step:
    """Return one Runge-Kutta step of the equations of motion.

    dv/dt = -k v (Cd v_vec + Cl n_vec) - g,  k = rho A / (2 m), and n_vec the velocity turned so that the
    lift of topspin points down. Forces do not depend on place, so the positions follow from the four
    accelerations: x + h v + h^2/6 (a1 + a2 + a3).
    """
    k_per_m = launch.air.density_kg_m3 * launch.ball.area_m2 / (2.0 * launch.ball.mass_kg)
    drag = drag_by_speed(launch.model, launch.ball, launch.air) if with_drag else lambda speed_m_s: 0.0
    lift = lift_by_speed(launch.model, launch.spin_rev_s, launch.ball)
    sqrt = math.sqrt

    def acceleration(vx: float, vz: float) -> tuple[float, float]:
        speed = sqrt(vx * vx + vz * vz)
        kv = k_per_m * speed
        slow, turn = kv * drag(speed), kv * lift(speed)
        return turn * vz - slow * vx, -turn * vx - slow * vz - gravity_m_s2

    def step(state: State, h: float) -> State:
        t, x, z, vx, vz = state
        half, sixth = 0.5 * h, h / 6.0
        ax1, az1 = acceleration(vx, vz)
        ax2, az2 = acceleration(vx + half * ax1, vz + half * az1)
        ax3, az3 = acceleration(vx + half * ax2, vz + half * az2)
        ax4, az4 = acceleration(vx + h * ax3, vz + h * az3)
        return (
            t + h,
            x + h * (vx + sixth * (ax1 + ax2 + ax3)),
            z + h * (vz + sixth * (az1 + az2 + az3)),
            vx + sixth * (ax1 + 2.0 * (ax2 + ax3) + ax4),
            vz + sixth * (az1 + 2.0 * (az2 + az3) + az4),
        )

    return step
