"""The shortest log that still fails, found by leaving events out."""

ENVELOPE = ("id", "device", "counter", "set_number", "rally_number", "type")


def shrink(log, fails):
    """Leave out one event, then one field, as long as the log still fails."""
    smaller = True
    while smaller:
        smaller = False
        for candidate in [*without_one_event(log), *without_one_field(log)]:
            if fails(candidate):
                log, smaller = candidate, True
                break
    return log


def without_one_event(log):
    """All logs with one event less, the last event left out first."""
    return [log[:place] + log[place + 1 :] for place in reversed(range(len(log)))]


def without_one_field(log):
    """All logs with one field less."""
    shorter = []
    for place, event in enumerate(log):
        for field in event:
            if field not in ENVELOPE:
                less = {key: value for key, value in event.items() if key != field}
                shorter.append([*log[:place], less, *log[place + 1 :]])
    return shorter
