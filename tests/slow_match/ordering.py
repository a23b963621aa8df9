"""From the list of events to the events that stand, in game order."""

FIELDS = {
    "match_opened": ["profile", "us", "them", "level"],
    "set_started": ["serving_first", "us", "them"],
    "call_shown": ["spot", "target", "kind", "speed_m_s", "keep", "p_error", "p_ace", "grades"],
    "server_seen": ["side", "number"],
    "reception_formation_seen": ["side", "formation", "passers"],
    "pass_graded": ["grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"],
    "serve_noted": ["grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"],
    "rally_won": [
        "winner",
        "ending",
        "grade",
        "error",
        "first_ball",
        "passer",
        "landing",
        "spot",
        "kind",
        "speed_m_s",
    ],
    "rally_replayed": ["reason"],
    "substituted": ["side", "enters", "leaves", "position"],
    "exceptionally_substituted": ["side", "enters", "leaves", "position"],
    "libero_replaced": ["side", "enters", "leaves", "position"],
    "time_out_taken": ["side"],
    "penalty_point_given": ["to", "rotation", "reason", "number"],
    "lineup_corrected": ["side", "lineup", "rotate", "setter_position", "setters", "liberos", "system"],
    "score_corrected": ["us", "them", "sets"],
    "server_corrected": ["side", "number"],
    "wrong_server_called": ["side", "found", "from_rally", "right_server"],
    "sides_changed": [],
    "expelled": ["side", "number"],
    "disqualified": ["side", "number"],
    "set_ended": ["winner"],
    "match_ended": [],
    "match_abandoned": ["reason"],
    "forfeited": ["side", "scope", "how"],
    "retracted": ["event_id"],
}
TEAM_FIELDS = ["lineup", "liberos", "setters", "setter_position", "system"]

PHASE = {
    "match_opened": 0,
    "set_started": 0,
    "substituted": 1,
    "exceptionally_substituted": 1,
    "libero_replaced": 1,
    "time_out_taken": 1,
    "penalty_point_given": 1,
    "lineup_corrected": 1,
    "score_corrected": 1,
    "server_corrected": 1,
    "sides_changed": 1,
    "expelled": 1,
    "disqualified": 1,
    "call_shown": 2,
    "server_seen": 2,
    "reception_formation_seen": 2,
    "pass_graded": 2,
    "serve_noted": 2,
    "rally_won": 3,
    "rally_replayed": 3,
    "set_ended": 4,
    "match_ended": 4,
    "match_abandoned": 4,
    "forfeited": 4,
}


def said(event):
    """The event's own fields, those left out as None."""
    fields = {name: event.get(name) for name in FIELDS[event["type"]]}
    if event["type"] == "set_started":
        for side in ("us", "them"):
            team = fields[side] or {}
            fields[side] = {name: team.get(name) for name in TEAM_FIELDS}
    if event["type"] == "reception_formation_seen" and fields["passers"] is not None:
        keys = ("x_m", "y_m", "position", "number")
        fields["passers"] = [{key: passer.get(key) for key in keys} for passer in fields["passers"]]
    return fields


def phase(event):
    """0 opening, 1 before the serve, 2 in the rally, 3 its result, 4 after it."""
    if event["type"] == "wrong_server_called":
        return 1 if event["found"] == "after_rally" else 3
    return PHASE[event["type"]]


def game_key(event):
    """(set, rally, phase)."""
    if event["type"] == "match_opened":
        return (0, 0, 0)
    if event["type"] == "set_started":
        return (event["set_number"], 0, 0)
    return (event["set_number"], event["rally_number"], phase(event))


def once_only(log):
    """The log without events whose id was there already."""
    kept = []
    for event in log:
        if event["id"] not in [other["id"] for other in kept]:
            kept.append(event)
    return kept


def without_retracted(log):
    """The events that stand (retractions among them), in the order of the list."""
    retracted = []
    stand = []
    for event in reversed(log):
        if event["id"] in retracted:
            continue
        stand.insert(0, event)
        if event["type"] == "retracted":
            retracted.append(event["event_id"])
    return stand


def unknown_retractions(log, stand):
    """Standing retractions of what is not earlier in the list."""
    unknown = []
    for event in stand:
        if event["type"] == "retracted":
            earlier = log[: log.index(event)]
            if event["event_id"] not in [other["id"] for other in earlier]:
                unknown.append(event)
    return unknown


def alike(one, other):
    """Whether two events say that the same thing happened before the same serve."""
    return one["type"] == other["type"] and game_key(one) == game_key(other) and said(one) == said(other)


def counted_once(events):
    """Events before the serve: as many equal ones as the device that logged most of them logged."""
    kept = []
    for place, event in enumerate(events):
        if phase(event) == 1:
            mine = [
                other
                for other in events[: place + 1]
                if alike(other, event) and other["device"] == event["device"]
            ]
            counted = [other for other in kept if alike(other, event)]
            if len(counted) >= len(mine):
                continue
        kept.append(event)
    return kept


def game_order(log):
    """The events to fold, and the retractions of unknown events."""
    log = once_only(log)
    stand = without_retracted(log)
    played = [event for event in stand if event["type"] != "retracted"]
    return counted_once(sorted(played, key=game_key)), unknown_retractions(log, stand)
