"""Violations and contradictions."""


def breach(world, event, code, rule, side, number):
    """Write down a breach of the rules."""
    world["violations"].append(
        {
            "code": code,
            "rule": "FIVB " + rule,
            "verify": world["profile"]["verify"],
            "event_id": event["id"],
            "side": side,
            "set_number": event["set_number"],
            "rally_number": event["rally_number"],
            "number": number,
        }
    )


def contradict(world, event, code, side, expected, seen):
    """Write down a contradiction."""
    world["contradictions"].append(
        {
            "code": code,
            "event_id": event["id"],
            "side": side,
            "set_number": event["set_number"],
            "rally_number": event["rally_number"],
            "expected": expected,
            "seen": seen,
        }
    )
