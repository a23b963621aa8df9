"""One event after the other."""

from slow_match import changes, records, results, sets, sides
from slow_match.notes import breach, contradict
from slow_match.ordering import said
from slow_match.profiles import profile_of
from slow_match.score import SIDES
from slow_match.wrong_server import wrong_server_called

OPENS_NO_SET = ("match_opened", "match_ended", "match_abandoned")
KEEPS_RALLY = ("match_opened", "set_started", "set_ended", "match_ended", "match_abandoned", "forfeited")


def new_world(profile):
    """A match before anything happened."""
    return {
        "profile": profile,
        "opened": None,
        "set_number": 0,
        "rally_number": 0,
        "started_by": None,  # what the set_started of the present set said
        "points": {"us": 0, "them": 0},
        "sets_before": {"us": 0, "them": 0},
        "sets_given": None,
        "set_scores": [],
        "referee": None,  # {"winner"} when the referee, not the score, ended the present set
        "end": None,  # {"type", "side"} of what ended the match
        "serving": None,
        "sides": {
            name: sides.new_side() | {"expelled": [], "disqualified": [], "injured": [], "formations": {}}
            for name in SIDES
        },
        "records": [],
        "happened": [],
        "violations": [],
        "contradictions": [],
    }


def time_out_taken(world, event, fields):
    """A time-out."""
    world["happened"].append({"what": "time_out", "side": fields["side"]})
    if len(changes.happened(world, "time_out", fields["side"])) > world["profile"]["time_outs_per_set"]:
        breach(world, event, "too_many_time_outs", "15.1", fields["side"], None)


def penalty_point_given(world, event, fields):
    """A point by penalty."""
    name = fields["to"]
    world["points"][name] += 1
    if fields["rotation"]:
        if world["serving"] not in (None, name):
            world["happened"].append({"what": "penalty_rotated", "side": name})
        results.give_serve(world, name)


def lineup_corrected(world, event, fields):
    """A side set right by hand."""
    sides.correct(world["sides"][fields["side"]], fields)


def score_corrected(world, event, fields):
    """The score set right by hand."""
    world["points"] = {name: fields[name] for name in SIDES}
    if fields["sets"] is not None:
        world["sets_before"] = dict(fields["sets"])


def server_corrected(world, event, fields):
    """The serving side set right by hand."""
    world["serving"] = fields["side"]
    side, number = world["sides"][fields["side"]], fields["number"]
    if number is not None:
        if sides.in_order(side, number):
            sides.turn_to_serve(side, number)
        else:
            sides.write(side, sides.place_at(side, 1), number)
    world["happened"].append({"what": "service_changed", "side": fields["side"]})


def sides_changed(world, event, fields):
    """The teams change courts."""
    world["happened"].append({"what": "sides_changed", "side": None})


def sanctioned(world, event, fields):
    """A player is expelled or disqualified."""
    numbers = world["sides"][fields["side"]][event["type"]]
    if fields["number"] is not None and fields["number"] not in numbers:
        numbers.append(fields["number"])


def match_opened(world, event, fields):
    """Names, level and profile: looked up before the fold; a second one may contradict."""
    asked = fields | {"profile": profile_of(fields["profile"])}
    if world["opened"] is None:
        world["opened"] = asked
    elif world["opened"] != asked:
        contradict(world, event, "conflicting_match", None, None, None)


DOES = {
    "match_opened": match_opened,
    "set_started": sets.set_started,
    "call_shown": records.call_shown,
    "server_seen": records.server_seen,
    "reception_formation_seen": records.reception_formation_seen,
    "pass_graded": records.parts_noted,
    "serve_noted": records.parts_noted,
    "rally_won": results.rally_won,
    "rally_replayed": results.rally_replayed,
    "substituted": changes.substitute,
    "exceptionally_substituted": changes.substitute,
    "libero_replaced": changes.replace_libero,
    "time_out_taken": time_out_taken,
    "penalty_point_given": penalty_point_given,
    "lineup_corrected": lineup_corrected,
    "score_corrected": score_corrected,
    "server_corrected": server_corrected,
    "wrong_server_called": wrong_server_called,
    "sides_changed": sides_changed,
    "expelled": sanctioned,
    "disqualified": sanctioned,
    "set_ended": sets.set_ended,
    "match_ended": sets.match_ended,
    "match_abandoned": sets.match_abandoned,
    "forfeited": sets.forfeited,
}


def fold(profile, events):
    """The match after these events, given in game order."""
    opening = [event for event in events if event["type"] == "match_opened"]
    if profile is None and opening:
        profile = opening[0].get("profile")
    world = new_world(profile_of(profile))
    for event in events:
        kind = event["type"]
        opens_no_set = kind in OPENS_NO_SET or (kind == "forfeited" and event["scope"] == "match")
        if event["set_number"] > world["set_number"] and not opens_no_set and kind != "set_started":
            sets.open_unknown_set(world, event)
        if kind not in KEEPS_RALLY:
            records.move_on(world, event)
        DOES[kind](world, event, said(event))
    return world
