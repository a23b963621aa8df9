"""What a new machine's club begins with beside its match to try: an invented team and three invented
opponents, so that rosters, formations and the call book can be looked at before anything is entered."""

from __future__ import annotations

from typing import Any

from cornerwise.store import teams as team_store

from . import demo, opponents, teams

TEAM = {"name": demo.OUR_NAME, "level": demo.LEVEL, "lineup": list(demo.US.lineup)}


def serve(kind: str, pace_m_s: float, next_job: int, spots: list[str] | None = None) -> dict[str, Any]:
    return {"kind": kind, "speeds_m_s": [pace_m_s], "spots": spots, "next_job": next_job}


LEFT, RIGHT = ["left_corner", "left", "middle"], ["middle", "right", "right_corner"]
PLAYERS: tuple[dict[str, Any], ...] = (
    {"number": 4, "name": "Ilse Marn", "role": "setter", "reach_m": 2.2,
     "serves": [serve("jump_float", 15.5, 1, LEFT)]},
    {"number": 11, "name": "Tamsin Roke", "role": "outside", "reach_m": 2.3,
     "serves": [serve("jump_float", 16.0, 5), serve("standing_topspin", 17.5, 5, ["middle"])]},
    {"number": 7, "name": "Bryn Otterley", "role": "middle", "reach_m": 2.35,
     "serves": [serve("standing_float", 14.5, 6, ["middle"])]},
    {"number": 2, "name": "Maren Oake", "role": "opposite", "handedness": "left", "reach_m": 2.3,
     "serves": [serve("jump_float", 15.5, 1, RIGHT)]},
    {"number": 15, "name": "Cleo Varrow", "role": "outside", "reach_m": 2.28,
     "serves": [serve("standing_float", 15.0, 5)]},
    {"number": 9, "role": "middle", "reach_m": 2.36, "serves": [serve("standing_float", 14.5, 6, LEFT)]},
    {"number": 13, "name": "Odile Ashwick", "role": "libero"},
    {"number": 21, "name": "Runa Sillery", "role": "defender", "comes_in_for": [7],
     "serves": [{**serve("jump_float", 15.0, 6), "error_ceiling": 0.15}]},
)  # fmt: skip

OPPONENTS: tuple[tuple[dict[str, Any], dict[int, dict[str, Any]]], ...] = (
    (
        {"name": demo.THEIR_NAME, "level": demo.LEVEL, "lineup": list(demo.THEIR_ORDER),
         "setter_position": demo.THEM.setter_position,
         "ratings": [{"number": 8, "rating": "weak"}, {"number": 17, "pass_grade": 2.2, "passes": 48}],
         "notes": "Three passers. #8 moves late to her right."},
        {6: {"passers": [{"position": 5, "x_m": 2.7, "y_m": 6.4}, {"position": 1, "x_m": -0.3, "y_m": 7.0},
                         {"position": 2, "x_m": -2.9, "y_m": 5.7}]},
         1: {"formation": "three"}},
    ),
    (
        {"name": "Fen Crossing", "level": demo.LEVEL, "lineup": [6, 14, 1, 18, 20, 11], "setters": [6, 18],
         "system": "two_setters_back_sets", "liberos": [2],
         "ratings": [{"number": 14, "rating": "strong"}, {"number": 20, "rating": "average"}]},
        {1: {"formation": "four"}, 2: {"formation": "four"}},
    ),
    (
        {"name": "Salt Meadow", "level": demo.LEVEL, "setter_position": 1,
         "pass_slot": {"slot": 5, "off_net_m": 1.5}, "notes": "Seen once: five passers."},
        {1: {"formation": "five"}},
    ),
)  # fmt: skip


def fill(club: str) -> None:
    """Give a club the invented team and opponents, unless it has a team already."""
    if team_store.count(club):
        return
    team = teams.add(club, TEAM)["id"]
    for player in PLAYERS:
        teams.add_player(club, team, player)
    for values, formations in OPPONENTS:
        opponent = opponents.add(club, values)["id"]
        for setter_position, formation in formations.items():
            opponents.put_formation(club, opponent, setter_position, formation)
