"""Random logs, legal and illegal, from a seed.

A rough scorer keeps the set, the rally, who serves and who is on court, so that most of what it logs could
have happened; then slips are mixed in: missing rallies, second devices, late parts, corrections.
"""

import random

from slow_match.profiles import NAMES
from slow_match.scorer import FOCUSES, OTHER, Scorer


def random_profile(rng, short):
    """A profile as a request or a log names it; a short one has few points and sets."""
    name = rng.choice([*NAMES, "custom"])
    if not short:
        return rng.choice([name, {"name": name}])
    points, deciding = rng.choice([3, 4, 5, 6, 12]), rng.randint(2, 5)
    changes = {
        "name": name,
        "sets_to_win": rng.choice([1, 2, 2, 3]),
        "points": points,
        "deciding_points": deciding,
        "lead": rng.choice([1, 2, 2, 3]),
        "cap": rng.choice([None, points, points + 2]),
        "deciding_cap": rng.choice([None, None, deciding + 1]),
        "starting_points": rng.choice([0, 0, 1]),
        "deciding_starting_points": rng.choice([0, 0, 1]),
        "substitutions_per_set": rng.choice([None, 0, 2, 6, 12]),
        "re_entry": rng.choice(["once", "once", "same_place", "free"]),
        "time_outs_per_set": rng.randint(0, 2),
        "liberos": rng.randint(0, 2),
        "libero_may_serve": rng.random() < 0.5,
        "libero_exchange_to_serve": rng.random() < 0.5,
        "side_change_points": rng.choice([None, 1, 2]),
        "wrong_server": rng.choice(["since_fault", "this_term"]),
    }
    kept = {key: value for key, value in changes.items() if rng.random() < 0.8}
    kept |= {"name": name, "points": points, "deciding_points": deciding, "cap": changes["cap"]}
    return kept


def disturb(rng, scorer, log, times):
    """Late events, retractions, corrections of retractions, repeated ids."""
    log = list(log)
    for _ in range(times):
        place = rng.randrange(len(log))
        event = log[place]
        what = rng.choice(["late", "late", "retract", "retract", "replace", "again", "unknown", "twice"])
        if what == "late":
            log.insert(rng.randint(place, len(log)), log.pop(place))
        elif what in ("retract", "replace", "unknown"):
            target = scorer.new_id() if what == "unknown" else event["id"]
            retraction = {
                "id": scorer.new_id(),
                "device": rng.choice(["bench", "stand"]),
                "counter": 0,
                "set_number": rng.choice([0, event["set_number"]]),
                "rally_number": rng.choice([0, event["rally_number"]]),
                "type": "retracted",
                "event_id": target,
            }
            log.insert(rng.randint(max(0, place - 1), len(log)), retraction)
            if what == "replace" and event["type"] == "rally_won":
                log.append(event | {"id": scorer.new_id(), "winner": OTHER[event["winner"]]})
        elif what == "again":
            changed = {"winner": OTHER[event["winner"]]} if event.get("winner") else {}
            log.insert(rng.randint(place, len(log)), event | changed)
        else:
            other = rng.choice(["bench", "stand", "table"])
            log.insert(rng.randint(place, len(log)), event | {"id": scorer.new_id(), "device": other})
    return log


def random_match(seed):
    """A profile (or None) and a log."""
    rng = random.Random(seed)
    short = rng.random() < 0.9
    slips = rng.choice([0.0, 0.1, 0.3, 0.3, 0.6, 1.0])
    profile = random_profile(rng, short)
    asked = profile if rng.random() < 0.7 else None
    scorer = Scorer(rng, slips, profile, rng.choice([None, None, *FOCUSES]))
    while rng.random() < 0.6:
        scorer.open_match(rng.choice([profile, None, random_profile(rng, short)]))
    scorer.play(rng.randint(1, 14) if short else rng.randint(10, 60))
    log = scorer.log
    if log and rng.random() < 0.6:
        log = disturb(rng, scorer, log, rng.randint(1, 6))
    if rng.random() < 0.03:
        rng.shuffle(log)
    return asked, log
