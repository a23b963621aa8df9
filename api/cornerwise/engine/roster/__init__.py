"""What a team knows of its own servers and of an opponent, put in the terms of a call.

How high a server hits the ball by her reach, how far it is to her next defensive job, what a coach's word
for a passer stands for, which number stands where in a rotation, and in which order two teams meet.
"""

from .checks import RULES, check_lineup, check_number, check_ratings, check_serves, check_substitute
from .contact import HIGHEST_REACH_M, LOWEST_REACH_M, contact_height_m
from .defence import JOBS, Job, Run, run_to_job
from .meeting import Turn, number_at, setter_start_position, turns
from .ratings import RATINGS, Rating, rated
from .serving import servers

__all__ = [
    "HIGHEST_REACH_M",
    "JOBS",
    "LOWEST_REACH_M",
    "RATINGS",
    "RULES",
    "Job",
    "Rating",
    "Run",
    "Turn",
    "check_lineup",
    "check_number",
    "check_ratings",
    "check_serves",
    "check_substitute",
    "contact_height_m",
    "number_at",
    "rated",
    "run_to_job",
    "servers",
    "setter_start_position",
    "turns",
]
