"""Where a server defends after her serve, and whether a spot costs her a long run there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from cornerwise.engine.court import Point, distance_m

Job = Literal[1, 5, 6]
JOBS: tuple[Job, ...] = get_args(Job)

JOB_PLACES: dict[Job, Point] = {  # common practice, no source: where a back-row player waits for the attack
    1: Point(3.0, -6.5),
    6: Point(0.0, -7.8),
    5: Point(-3.0, -6.5),
}
LONG_RUN_M = 6.0  # chosen: from one corner across to the other side's place; less is on her way in
READY_S = 0.5  # chosen: what she needs there to turn, stop and be balanced
RUN_M_S = 4.0  # chosen: as a setter's run
PASS_AND_SET_S = 2.2  # chosen: 1.2 s of pass, as the setter is given, and 1.0 s of a set to the outside


@dataclass(frozen=True, slots=True)
class Run:
    """A server's way from her contact point to her next job.

    run_s          : time until she stands there, balanced: distance / 4 m/s + 0.5 s. [s]
    until_attack_s : time until they can attack: the serve's flight + 2.2 s of pass and set. [s]
    """

    job: Job
    place: Point
    distance_m: float
    run_s: float
    until_attack_s: float

    @property
    def long(self) -> bool:
        """Whether it is worth a word."""
        return self.distance_m >= LONG_RUN_M


def run_to_job(contact: Point, job: Job, flight_time_s: float) -> Run:
    """Return a server's way to the place where she defends next.

    contact : where she hit the ball, which is where a jump serve lands her. [m]
    """
    there = JOB_PLACES[job]
    far_m = distance_m(contact, there)
    return Run(job, there, far_m, far_m / RUN_M_S + READY_S, flight_time_s + PASS_AND_SET_S)
