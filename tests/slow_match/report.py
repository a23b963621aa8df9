"""What comes back of a match: the state, the next state, violations and contradictions."""

from slow_match import changes, fold, ordering, sides
from slow_match.notes import contradict
from slow_match.records import circumstances, decided, ending_of, record_of, server
from slow_match.results import at_side_change
from slow_match.score import (
    OTHER,
    SIDES,
    ahead,
    deciding,
    has_the_sets,
    set_over,
    set_winner,
    sets_won,
    won_by_score,
)


def replay(profile, log):
    """State, next state, violations and contradictions of a log."""
    events, unknown = ordering.game_order(log)
    world = fold.fold(profile, events)
    notes = {"contradictions": []}
    for event in unknown:
        contradict(notes, event, "unknown_event", None, None, event["event_id"])
    return {
        "state": state(world),
        "next_state": next_state(profile, events, world),
        "violations": world["violations"],
        "contradictions": notes["contradictions"] + world["contradictions"],
    }


def next_state(profile, events, world):
    """The state as if the receiving side won the present rally, or None."""
    if status(world) != "in_play" or world["serving"] is None:
        return None
    assumed = {
        "id": None,
        "set_number": world["set_number"],
        "rally_number": world["rally_number"],
        "type": "rally_won",
        "winner": OTHER[world["serving"]],
    }
    return state(fold.fold(profile, [*events, assumed]))


def status(world):
    """Where the match stands, in one word."""
    end = world["end"]["type"] if world["end"] else None
    if end == "match_abandoned":
        return "abandoned"
    if end == "forfeited":
        return "forfeited"
    if end == "match_ended" or has_the_sets(world):
        return "match_over"
    if world["set_number"] == 0:
        return "before"
    return "set_over" if set_over(world) else "in_play"


def winner(world):
    """Who has won the match, or None."""
    if status(world) == "forfeited":
        return OTHER[world["end"]["side"]]
    if has_the_sets(world):
        return has_the_sets(world)
    if world["end"] is not None and world["end"]["type"] == "match_ended":
        return ahead(sets_won(world))
    return None


def state(world):
    """The state."""
    profile, opened = world["profile"], world["opened"] or {"us": None, "them": None, "level": None}
    present = record_of(world, world["rally_number"])
    others = [record for record in world["records"] if record is not present]
    return {
        "status": status(world),
        "profile": profile,
        "teams": {name: opened[name] for name in SIDES},
        "level": opened["level"],
        "set_number": world["set_number"],
        "rally_number": world["rally_number"],
        "deciding_set": deciding(world),
        "points": world["points"],
        "sets": sets_won(world),
        "set_scores": world["set_scores"],
        "set_winner": set_winner(world),
        "winner": winner(world),
        "serving": world["serving"],
        "server": server(world),
        "next_server": {
            name: sides.on_court(side["places"][sides.place_at(side, 2)])
            for name, side in world["sides"].items()
        },
        "serving_turn": serving_turn(world),
        "seconds_to_serve": profile["seconds_to_serve"],
        "time_out_s": profile["time_out_s"],
        "side_change_due": at_side_change(world) and not set_over(world),
        "sides_changed": len(changes.happened(world, "sides_changed", None)),
        "sides": {name: side_state(world, name) for name in SIDES},
        "situation": situation(world),
        "rally": record_state(world, present) if present else None,
        "last_rallies": [record_state(world, record) for record in others[-5:]],
    }


def serving_turn(world):
    """Serves and points since this side began to serve, counted back."""
    points = 0
    for h in reversed(world["happened"]):
        if h["what"] == "service_changed":
            break
        if h["what"] == "result" and h["winner"] == h["word"] == h["serving"]:
            points += 1
    return {"serves": points, "points": points}


def side_state(world, name):
    """One side."""
    side, profile = world["sides"][name], world["profile"]
    positions, who = sides.setter_positions(side), sides.who_sets(side)
    lineup = []
    for position in range(1, 7):
        place = side["places"][sides.place_at(side, position)]
        libero = place["libero"] is not None
        lineup.append(
            {
                "position": position,
                "number": sides.on_court(place),
                "inferred": place["inferred"] and not libero,
                "libero": libero,
                "libero_for": place["number"] if libero else None,
                "setter": position in positions,
            }
        )
    forbidden = [2, 3, 4]
    if world["serving"] == name and not profile["libero_may_serve"]:
        forbidden.append(1)
    used = len(changes.happened(world, "counted", name))
    limit = profile["substitutions_per_set"]
    time_outs = len(changes.happened(world, "time_out", name))
    by_number = any(sides.on_court(place) in side["setters"] for place in side["places"])
    return {
        "lineup": lineup,
        "rotation": side["rotation"],
        "started": [place["starter"] for place in side["places"]],
        "setter_position": who,
        "setter_positions": positions,
        "setter_row": None if who is None else "front" if who in (2, 3, 4) else "back",
        "setter_inferred": who is not None and not by_number,
        "system": side["system"],
        "liberos": side["liberos"],
        "setters": side["setters"],
        "substitutions_used": used,
        "substitutions_left": None if limit is None else max(0, limit - used),
        "exceptional_substitutions": len(changes.happened(world, "counted_exceptional", name)),
        "time_outs_used": time_outs,
        "time_outs_left": max(0, profile["time_outs_per_set"] - time_outs),
        "libero_must_leave": any(entry["libero"] and entry["position"] in forbidden for entry in lineup),
        "expelled": side["expelled"],
        "disqualified": side["disqualified"],
        "formation": side["formations"].get(who),
    }


def situation(world):
    """What the score says about the next point, and what came before it."""
    in_play = status(world) == "in_play"
    set_point = []
    for name in SIDES:
        one_more = world["points"] | {name: world["points"][name] + 1}
        if in_play and won_by_score(world, one_more) == name:
            set_point.append(name)
    needed = world["profile"]["sets_to_win"] - 1
    recent = []
    for h in reversed(world["happened"]):
        if h["what"] == "result":
            break
        if h["what"] == "time_out":
            recent.append(h["side"])
    return {
        "set_point": set_point,
        "match_point": [name for name in set_point if sets_won(world)[name] >= needed],
        "after_time_out": [name for name in SIDES if name in recent],
        "service_errors_in_a_row": service_errors_in_a_row(world),
        "run": run(world),
    }


def service_errors_in_a_row(world):
    """Of the serving side's own serves, counted back."""
    count = 0
    for record in reversed(decided(world)):
        if record["result"] == "wrong_server" or record["before"]["serving"] != world["serving"]:
            continue
        if ending_of(record) != "service_error":
            break
        count += 1
    return count if world["serving"] is not None else 0


def run(world):
    """Rallies in a row with one winner, counted back."""
    winners = [record["winner"] for record in decided(world) if not record["cancelled"]]
    points = 0
    while points < len(winners) and winners[-1 - points] == winners[-1]:
        points += 1
    return {"side": winners[-1] if winners else None, "points": points}


def record_state(world, record):
    """One rally."""
    parts = dict(record["parts"])
    if parts["grade"] is None and record["ending"] == "ace":
        parts["grade"] = 0
    return {
        "rally_number": record["rally_number"],
        **(record["before"] or circumstances(world)),
        "called": record["called"],
        **parts,
        "formation": record["formation"],
        "winner": record["winner"],
        "ending": ending_of(record),
        "cancelled": record["cancelled"],
        "events": record["events"],
    }
