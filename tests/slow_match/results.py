"""How a rally ends, and what is checked then."""

from slow_match import changes, sides
from slow_match.notes import breach, contradict
from slow_match.records import circumstances, ending_of, record_for, write_parts
from slow_match.score import SIDES, deciding, match_over, rule_of_set, set_over


def checks(world, event):
    """The checks at each result, on the state as the rally was played."""
    if match_over(world):
        breach(world, event, "play_after_match_end", "6.3.1", None, None)
    elif set_over(world):
        breach(world, event, "play_after_set_end", rule_of_set(world), None, None)
    if at_side_change(world) and not changes.happened(world, "side_change_missed", None):
        breach(world, event, "side_change_missed", "18.2.2", None, None)
        world["happened"].append({"what": "side_change_missed", "side": None})
    for name in SIDES:
        changes.libero_checks(world, event, name)
    changes.libero_serves_check(world, event)


def at_side_change(world):
    """Deciding set, a side at the points of the change, nobody has changed sides."""
    limit = world["profile"]["side_change_points"]
    return (
        deciding(world)
        and limit is not None
        and max(world["points"].values()) >= limit
        and not changes.happened(world, "sides_changed", None)
    )


def first_result(world, event, record, word, ending=None):
    """Whether this is the rally's first result; what a second one contradicts is written down."""
    if record["result"] is None:
        return True
    if record["result"] != word:
        contradict(world, event, "conflicting_result", None, record["result"], word)
    elif ending is not None:
        kept = ending_of(record)
        if kept is None:
            record["ending"] = ending
        elif kept != ending:
            contradict(world, event, "conflicting_part", None, kept, ending)
    return False


def decide(world, record, word, winner, ending=None):
    """The rally has its result."""
    record["before"] = circumstances(world)
    record["result"], record["winner"], record["ending"] = word, winner, ending
    world["happened"].append(
        {"what": "result", "side": None, "winner": winner, "word": word, "serving": world["serving"]}
    )
    world["rally_number"] = record["rally_number"] + 1


def give_serve(world, name):
    """A side gets the service: it rotates, unless nobody was known to serve."""
    if world["serving"] == name:
        return
    if world["serving"] is not None:
        sides.rotate(world["sides"][name])
    world["serving"] = name
    world["happened"].append({"what": "service_changed", "side": name})


def rally_won(world, event, fields):
    """A side wins the rally."""
    record = record_for(world, event)
    write_parts(world, event, record, fields)
    winner, ending = fields["winner"], fields["ending"]
    if not first_result(world, event, record, winner, ending):
        return
    checks(world, event)
    does_not_fit(world, event, record, winner, ending)
    decide(world, record, winner, winner, ending)
    world["points"][winner] += 1
    give_serve(world, winner)


def does_not_fit(world, event, record, winner, ending):
    """An ending or a part that the result rules out."""
    if world["serving"] is None:
        return
    words = []
    if winner != world["serving"]:
        words += ["ace"] if ending == "ace" else []
        words += ["grade"] if record["parts"]["grade"] == 0 else []
    else:
        words += ["service_error"] if ending == "service_error" else []
        words += ["error"] if record["parts"]["error"] is not None else []
    if words:
        contradict(world, event, "result_does_not_fit", winner, None, words[0])


def rally_replayed(world, event, fields):
    """The rally is played again."""
    record = record_for(world, event)
    if first_result(world, event, record, "replayed"):
        checks(world, event)
        decide(world, record, "replayed", None)
