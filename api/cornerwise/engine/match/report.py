"""The answer to a log: state, state after the next side-out, violations, contradictions, as plain objects."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from cornerwise.engine.match.notes import Contradiction, Violation, contradiction_text, violation_text
from cornerwise.engine.match.profile_reading import parse_profile
from cornerwise.engine.match.profiles import format_profile
from cornerwise.engine.match.readers import ANYTHING, mapping
from cornerwise.engine.match.reading import parse_log
from cornerwise.engine.match.referee import libero_must_leave, side_change_is_due
from cornerwise.engine.match.replaying import replay
from cornerwise.engine.match.rotation import (
    on_court,
    place_at,
    setter_position,
    setter_positions,
    setters_by_number,
)
from cornerwise.engine.match.score import is_deciding, match_winner, set_is_over, set_winner, sets, status
from cornerwise.engine.match.serve import circumstances, ending_of
from cornerwise.engine.match.situation import (
    after_side_out,
    match_points,
    run,
    service_errors_in_a_row,
    set_points,
)
from cornerwise.engine.match.state import MatchState, Rally, Team
from cornerwise.engine.match.terms import FRONT_ROW, POSITIONS, Side

LAST_RALLIES = 5  # chosen: what a bench opens to put right


def replay_request(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return the answer to {profile, events}: see `report`.

    Raises RuleBroken naming the field that cannot be read.
    """
    read = mapping("", request, {"events": ANYTHING}, {"profile": parse_profile})
    return report(replay(parse_log(read["events"]), read.get("profile")))


def report(state: MatchState) -> dict[str, Any]:
    """Return {state, next_state, violations, contradictions} as plain objects."""
    following = after_side_out(state)
    return {
        "state": format_state(state),
        "next_state": None if following is None else format_state(following),
        "violations": [format_violation(violation, state) for violation in state.violations],
        "contradictions": [format_contradiction(note) for note in state.contradictions],
    }


def format_state(state: MatchState) -> dict[str, Any]:
    """Return a state as a plain object."""
    opened = state.opened
    deciding = is_deciding(state.profile, state.set_number)
    return {
        "status": status(state),
        "profile": format_profile(state.profile),
        "teams": {"us": opened.us if opened else None, "them": opened.them if opened else None},
        "level": opened.level if opened else None,
        "set_number": state.set_number,
        "rally_number": state.rally_number,
        "deciding_set": deciding,
        "points": asdict(state.points),
        "sets": asdict(sets(state)),
        "set_scores": [
            {"set_number": one.set_number, **asdict(one.points), "winner": one.winner}
            for one in state.closed_sets
        ],
        "set_winner": set_winner(state),
        "winner": match_winner(state),
        "serving": state.serving,
        "server": format_server(state),
        "next_server": {
            "us": on_court(state.teams.us.places[place_at(state.teams.us, 2)]),
            "them": on_court(state.teams.them.places[place_at(state.teams.them, 2)]),
        },
        "serving_turn": asdict(state.turn),
        "seconds_to_serve": state.profile.seconds_to_serve,
        "time_out_s": state.profile.time_out_s,
        "side_change_due": side_change_is_due(state) and not set_is_over(state),
        "sides_changed": state.sides_changed,
        "sides": {"us": format_side(state, "us"), "them": format_side(state, "them")},
        "situation": format_situation(state),
        "rally": None if state.present is None else format_record(circumstances(state, state.present)),
        "last_rallies": [format_record(rally) for rally in state.rallies[-LAST_RALLIES:]],
    }


def format_server(state: MatchState) -> dict[str, Any] | None:
    """Return who serves, or None when no side is known to."""
    if state.serving is None:
        return None
    team = state.teams.of(state.serving)
    place = team.places[place_at(team, 1)]
    libero = place.libero is not None
    return {
        "side": state.serving,
        "number": on_court(place),
        "inferred": place.inferred and not libero,
        "libero": libero,
    }


def format_side(state: MatchState, side: Side) -> dict[str, Any]:
    """Return one side: who stands where, its setter, what it has used up."""
    team = state.teams.of(side)
    profile, sets_at = state.profile, setter_position(team)
    left = profile.substitutions_per_set
    return {
        "lineup": format_lineup(team),
        "rotation": team.rotation,
        "started": [place.starter for place in team.places],
        "setter_position": sets_at,
        "setter_positions": list(setter_positions(team)),
        "setter_row": None if sets_at is None else "front" if sets_at in FRONT_ROW else "back",
        "setter_inferred": sets_at is not None and not setters_by_number(team),
        "system": team.system,
        "liberos": list(team.liberos),
        "setters": list(team.setters),
        "substitutions_used": team.substitutions,
        "substitutions_left": None if left is None else max(left - team.substitutions, 0),
        "exceptional_substitutions": team.exceptional_substitutions,
        "time_outs_used": team.time_outs,
        "time_outs_left": max(profile.time_outs_per_set - team.time_outs, 0),
        "libero_must_leave": libero_must_leave(state, side),
        "expelled": list(team.expelled),
        "disqualified": list(team.disqualified),
        "formation": next((asdict(seen) for at, seen in team.formations if at == sets_at), None),
    }


def format_lineup(team: Team) -> list[dict[str, Any]]:
    """Return who stands in position 1 to 6."""
    setters = setter_positions(team)
    lineup = []
    for position in POSITIONS:
        place = team.places[place_at(team, position)]
        libero = place.libero is not None
        lineup.append(
            {
                "position": position,
                "number": on_court(place),
                "inferred": place.inferred and not libero,
                "libero": libero,
                "libero_for": place.number if libero else None,
                "setter": position in setters,
            }
        )
    return lineup


def format_situation(state: MatchState) -> dict[str, Any]:
    return {
        "set_point": list(set_points(state)),
        "match_point": list(match_points(state)),
        "after_time_out": list(state.time_out_by),
        "service_errors_in_a_row": service_errors_in_a_row(state),
        "run": asdict(run(state)),
    }


def format_record(rally: Rally) -> dict[str, Any]:
    """Return the record of a rally as a plain object."""
    ending = ending_of(rally)
    parts = asdict(rally.parts)
    if ending == "ace" and parts["grade"] is None:
        parts["grade"] = 0
    return {
        "rally_number": rally.rally_number,
        "serving": rally.serving,
        "server": rally.server,
        "server_place": rally.server_place,
        "points_before": asdict(rally.points_before),
        "rotations": asdict(rally.rotations),
        "setter_positions": asdict(rally.setter_positions),
        "called": None if rally.called is None else asdict(rally.called),
        **parts,
        "formation": None if rally.formation is None else asdict(rally.formation),
        "winner": rally.winner,
        "ending": ending,
        "cancelled": rally.cancelled,
        "events": list(rally.events),
    }


def format_violation(violation: Violation, state: MatchState) -> dict[str, Any]:
    return {
        **asdict(violation),
        "rule": f"FIVB {violation.rule}",
        "verify": state.profile.verify,
        "text": violation_text(violation, state.profile),
    }


def format_contradiction(note: Contradiction) -> dict[str, Any]:
    return {**asdict(note), "text": contradiction_text(note)}
