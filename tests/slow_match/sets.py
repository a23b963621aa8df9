"""Sets and the match: how they start and end."""

from slow_match import sides
from slow_match.notes import breach, contradict
from slow_match.score import (
    OTHER,
    SIDES,
    ahead,
    deciding,
    has_the_sets,
    match_over,
    of_this_set,
    rule_of_set,
    set_over,
    set_winner,
    sets_won,
    won_by_score,
)


def close_set(world, event):
    """Write down the present set."""
    if world["set_number"] == 0:
        return
    if not set_over(world):
        breach(world, event, "set_not_over", rule_of_set(world), None, None)
    winner = set_winner(world) if set_over(world) else ahead(world["points"])
    world["set_scores"].append({"set_number": world["set_number"], **world["points"], "winner": winner})
    if winner is not None:
        world["sets_before"][winner] += 1


def open_set(world, event, team_us, team_them, serving):
    """A new set."""
    world["set_number"], world["rally_number"] = event["set_number"], 1
    world["points"] = {name: of_this_set(world, "starting_points") for name in SIDES}
    world["serving"], world["started_by"], world["referee"] = serving, None, None
    world["records"], world["happened"] = [], []
    for name, team in (("us", team_us), ("them", team_them)):
        world["sides"][name]["expelled"] = []
        sides.start(world["sides"][name], team)


def open_unknown_set(world, event):
    """A set that nobody started."""
    contradict(world, event, "set_not_started", None, None, None)
    if match_over(world):
        breach(world, event, "play_after_match_end", "6.3.1", None, None)
    close_set(world, event)
    nothing = dict.fromkeys(("lineup", "liberos", "setters", "setter_position", "system"))
    open_set(world, event, nothing, nothing, None)


def set_started(world, event, fields):
    """A set starts, or is said to start again."""
    if world["set_number"] == event["set_number"]:
        if world["started_by"] != fields:
            contradict(world, event, "conflicting_set_start", None, None, None)
        return
    before = world["started_by"]
    follows = world["set_number"] == event["set_number"] - 1
    if match_over(world):
        breach(world, event, "play_after_match_end", "6.3.1", None, None)
    close_set(world, event)
    open_set(world, event, fields["us"], fields["them"], fields["serving_first"])
    world["started_by"] = fields
    if follows and before and before["serving_first"] == fields["serving_first"] and not deciding(world):
        breach(world, event, "wrong_first_service", "12.1.2", fields["serving_first"], None)
    for name in SIDES:
        if len(world["sides"][name]["liberos"]) > world["profile"]["liberos"]:
            breach(world, event, "too_many_liberos", "19.1", name, None)


def set_ended(world, event, fields):
    """The referee ends the set."""
    by_score, points = won_by_score(world, world["points"]), world["points"]
    winner = fields["winner"] or by_score or ahead(points)
    if world["referee"] is not None:
        if winner != world["referee"]["winner"]:
            contradict(world, event, "conflicting_set_end", None, None, None)
        return
    if by_score is None:
        breach(world, event, "set_ended_early", rule_of_set(world), None, None)
    if fields["winner"] is not None and ahead(points) not in (None, fields["winner"]):
        contradict(world, event, "set_winner_differs", None, ahead(points), fields["winner"])
    world["referee"] = {"winner": winner}


def ends_match(world, event, side=None):
    """Whether this event is the first to end the match; a later one of another type is a contradiction."""
    if world["end"] is None:
        world["end"] = {"type": event["type"], "side": side}
        return True
    if world["end"]["type"] != event["type"]:
        contradict(world, event, "conflicting_match_end", None, None, None)
    return False


def match_ended(world, event, fields):
    """The match is over."""
    nobody = has_the_sets(world) is None
    if ends_match(world, event) and nobody:
        breach(world, event, "match_ended_early", "6.3.1", None, None)


def match_abandoned(world, event, fields):
    """The match is abandoned."""
    ends_match(world, event)


def forfeited(world, event, fields):
    """A side forfeits the set or the match."""
    other = OTHER[fields["side"]]
    if fields["scope"] == "set":
        forfeit_set(world, other)
    elif ends_match(world, event, fields["side"]):
        if fields["how"] == "incomplete":
            forfeit_set(world, other)
            world["sets_given"] = sets_won(world) | {other: world["profile"]["sets_to_win"]}
        else:
            world["sets_given"] = {other: world["profile"]["sets_to_win"], fields["side"]: 0}
            world["set_scores"] = []
            world["points"] = {other: world["profile"]["points"], fields["side"]: 0}
            if world["set_number"] > 0:
                world["referee"] = {"winner": other}


def forfeit_set(world, winner):
    """The winner gets the points missing to win the set."""
    if world["set_number"] == 0 or set_over(world):
        return
    while won_by_score(world, world["points"]) != winner:
        world["points"][winner] += 1
    world["referee"] = {"winner": winner}
