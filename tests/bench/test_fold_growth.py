"""How the time to fold a log grows with the log: as fast as the log, not faster."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

from cornerwise.engine.bridge.live import match_answer
from cornerwise.engine.match import carried_on, parse_log, snapshot

from ..engine.review.scripts import script

SETS = (1, 2, 4, 8)
RALLIES = 250  # in each set, some 4 events each


def best_s(action: Callable[[], Any], times: int = 5) -> float:
    """Return the shortest processor time of some runs. [s]"""
    durations = []
    for _ in range(times):
        start = time.process_time()
        action()
        durations.append(time.process_time() - start)
    return min(durations)


def test_the_time_to_fold_grows_no_faster_than_the_log():
    costs = []
    print("\nevents   read ms   fold ms   answer ms   one event more ms")
    for sets in SETS:
        log = script(1, sets, RALLIES)
        entries = parse_log(log)
        whole, before = snapshot(entries), snapshot(entries[:-1])
        read_s = best_s(lambda log=log: parse_log(log))
        fold_s = best_s(lambda entries=entries: snapshot(entries))
        answer_s = best_s(lambda whole=whole: match_answer(whole.state))
        more_s = best_s(lambda before=before, entries=entries: carried_on(before, entries[-1:]))
        read_ms, fold_ms, answer_ms, more_ms = (1e3 * s for s in (read_s, fold_s, answer_s, more_s))
        print(f"{len(log):6} {read_ms:9.1f} {fold_ms:9.1f} {answer_ms:11.2f} {more_ms:19.3f}")
        costs.append(fold_s / len(log))
    growth = costs[-1] / costs[0]
    print(f"time per event, {SETS[-1]} sets against {SETS[0]}: {growth:.2f} times")
    assert growth < 4  # eight times the log: were the fold quadratic, this would be 8
