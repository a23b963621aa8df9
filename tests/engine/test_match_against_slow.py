"""The match against a second program, slow and obvious, on thousands of random logs.

Both are also held against a few sets worked out by hand from the rules (FIVB Official Volleyball Rules
2025-2028, rule numbers beside each).
"""

from __future__ import annotations

import json
from collections import Counter

import pytest
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import replay_request

from slow_match import replay as slow_replay
from slow_match.generator import random_match
from slow_match.shrinking import shrink

BLOCKS = range(8)
MATCHES_PER_BLOCK = 500
NOTES = {
    "already_on_court",
    "conflicting_match",
    "conflicting_match_end",
    "conflicting_part",
    "conflicting_result",
    "conflicting_set_end",
    "conflicting_set_start",
    "entered_twice",
    "injured_player_enters",
    "left_twice",
    "libero_in_front_row",
    "libero_in_substitution",
    "libero_serves",
    "libero_serves_second_place",
    "libero_without_rally",
    "libero_wrong_return",
    "match_ended_early",
    "not_on_court",
    "other_server_expected",
    "other_side_serves",
    "play_after_match_end",
    "play_after_set_end",
    "rallies_missing",
    "result_does_not_fit",
    "sanctioned_player_enters",
    "sanctioned_player_on_court",
    "set_ended_early",
    "set_not_over",
    "set_not_started",
    "set_winner_differs",
    "side_change_missed",
    "too_many_liberos",
    "too_many_substitutions",
    "too_many_time_outs",
    "two_liberos_on_court",
    "unknown_event",
    "wrong_first_service",
    "wrong_partner",
    "wrong_place",
    "wrong_server",
}


def engine_replay(profile, log):
    """The engine's answer as a client gets it, without the sentences for people; each note must have one."""
    answer = json.loads(json.dumps(replay_request({"profile": profile, "events": log})))
    for note in answer["violations"] + answer["contradictions"]:
        assert note.pop("text"), note
    return answer


BOTH = pytest.mark.parametrize("replay", [engine_replay, slow_replay])


def differences(one, other, path=""):
    """Where two answers differ, in words."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return [d for key in one for d in differences(one[key], other[key], f"{path}.{key}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        pairs = zip(one, other, strict=True)
        return [d for place, (a, b) in enumerate(pairs) for d in differences(a, b, f"{path}.{place}")]
    same = one == other and isinstance(one, bool) == isinstance(other, bool)
    return [] if same else [f"{path}: engine {one!r}, slow program {other!r}"]


def disagreement(profile, log):
    """Where engine and slow program differ on a log that can be read."""
    return differences(engine_replay(profile, log), slow_replay(profile, log))


def still_disagrees(profile):
    """Whether a shortened log can be read and the two still differ."""

    def fails(log):
        try:
            return bool(disagreement(profile, log))
        except RuleBroken:
            return False

    return fails


@pytest.mark.parametrize("block", BLOCKS)
def test_engine_and_slow_program_agree_on_random_logs(block):
    for seed in range(block * MATCHES_PER_BLOCK, (block + 1) * MATCHES_PER_BLOCK):
        profile, log = random_match(seed)
        if disagreement(profile, log):
            shortest = shrink(log, still_disagrees(profile))
            told = "\n".join(disagreement(profile, shortest))
            lines = "\n".join(json.dumps(event) for event in shortest)
            pytest.fail(f"seed {seed}, profile {json.dumps(profile)}\n{lines}\n{told}")


def test_random_logs_reach_every_note_and_every_status():
    codes, statuses = Counter(), Counter()
    for seed in range(600):
        answer = slow_replay(*random_match(seed))
        codes.update(note["code"] for note in answer["violations"] + answer["contradictions"])
        statuses[answer["state"]["status"]] += 1
    assert set(codes) == NOTES
    assert min(codes.values()) >= 2, codes.most_common()[-5:]
    assert {"in_play", "set_over", "match_over", "abandoned", "forfeited"} <= set(statuses)


# Sets worked out by hand


class Log:
    """A log with one event after the other; a result moves on to the next rally."""

    def __init__(self):
        self.events, self.rally = [], 1

    def put(self, event_type, **fields):
        """One more event of the present rally."""
        number = len(self.events)
        self.events.append(
            {
                "id": f"01890000-0000-7000-8000-{number:012x}",
                "device": "bench",
                "counter": number,
                "set_number": 1,
                "rally_number": self.rally,
                "type": event_type,
                **fields,
            }
        )
        return self

    def won(self, *winners):
        """Rallies won, one after the other."""
        for winner in winners:
            self.put("rally_won", winner=winner)
            self.rally += 1
        return self


def started(serving_first="us", **team):
    """A set in which us has 1 to 6 and them 11 to 16, in positions 1 to 6."""
    us = {"lineup": [1, 2, 3, 4, 5, 6], **team}
    return Log().put("set_started", serving_first=serving_first, us=us, them={"lineup": [*range(11, 17)]})


def codes(answer):
    """What was noted, in order."""
    return [note["code"] for note in answer["violations"] + answer["contradictions"]]


@BOTH
def test_when_every_serve_is_lost_servers_follow_the_starting_order(replay):
    # 7.6.2, 12.2.2.2: the side that receives first rotates before its first serve, so its position 2 begins.
    # Us serves rallies 1, 3, 5 ... with 1, 2, 3 ...; them serves rallies 2, 4, 6 ... with 12, 13, ... 16, 11.
    log = started("us")
    for rally in range(1, 49):
        state = replay(None, log.events)["state"]
        turn = (rally - 1) // 2
        server = 1 + turn % 6 if rally % 2 else 11 + (turn + 1) % 6
        assert (state["server"]["number"], state["status"]) == (server, "in_play")
        log.won("them" if rally % 2 else "us")
    state = replay(None, log.events)["state"]
    assert state["points"] == {"us": 24, "them": 24}
    assert state["situation"]["set_point"] == []
    assert state["server"]["number"] == 1  # us has rotated 24 times, four times round
    state = replay(None, log.won("us").events)["state"]
    assert (state["points"], state["situation"]["set_point"]) == ({"us": 25, "them": 24}, ["us"])
    state = replay(None, log.won("us").events)["state"]  # 6.2: two points ahead
    assert (state["status"], state["set_winner"], state["sets"]) == ("set_over", "us", {"us": 1, "them": 0})


@BOTH
def test_a_libero_goes_through_the_back_row_and_must_leave_in_front(replay):
    # 19.3.1.1; 7.6.2: from position 6 to 5 to 4.
    log = started("us", liberos=[7]).put("libero_replaced", side="us", enters=7, leaves=6)
    positions = []
    for _ in range(3):
        side = replay(None, log.events)["state"]["sides"]["us"]
        positions += [(e["position"], side["libero_must_leave"]) for e in side["lineup"] if e["number"] == 7]
        log.won("them", "us")
    assert positions == [(6, False), (5, False), (4, True)]
    assert codes(replay(None, log.events)) == ["libero_in_front_row", "libero_in_front_row"]


@BOTH
def test_a_starter_may_leave_once_and_come_back_once(replay):
    # 15.6.1 and 15.6.2, one change between two rallies; none after the sixth (15.1).
    changes = [
        (1, 7, []),
        (7, 1, []),
        (1, 8, ["left_twice"]),
        (2, 9, []),
        (9, 10, ["wrong_partner"]),
        (3, 7, ["wrong_place", "entered_twice"]),
        (4, 0, ["too_many_substitutions"]),
    ]
    log, expected = started(), []
    for leaves, enters, breaches in changes:
        log.put("substituted", side="us", leaves=leaves, enters=enters).won("us")
        expected += breaches
    answer = replay(None, log.events)
    assert codes(answer) == expected
    assert answer["state"]["sides"]["us"]["substitutions_used"] == 7
    assert [e["number"] for e in answer["state"]["sides"]["us"]["lineup"]] == [8, 10, 7, 0, 5, 6]


@BOTH
def test_a_wrong_server_loses_the_points_since_the_fault(replay):
    # 7.7: rallies 5, 6 and 7 are won by us with the wrong server, which is found at the service of rally 8.
    # Them gains the service in rally 3 and now again, so the second player after their first is to serve.
    log = started().won("us", "us", "them", "us", "us", "us", "us")
    before = replay(None, log.events)["state"]
    assert (before["points"], before["server"]["number"]) == ({"us": 6, "them": 1}, 2)
    log.put("wrong_server_called", side="us", found="at_service", from_rally=5, right_server=3)
    after = replay(None, log.events)["state"]
    assert after["points"] == {"us": 3, "them": 2}  # three taken away, one to the opponents
    assert (after["serving"], after["server"]["number"]) == ("them", 13)  # their second rotation
    assert after["sides"]["us"]["lineup"][0]["number"] == 3
    assert [record["cancelled"] for record in after["last_rallies"]] == [False, True, True, True, False]


@BOTH
def test_in_the_deciding_set_eight_points_change_the_sides_and_fifteen_win(replay):
    # 18.2.2, 6.3.2; one set to win makes the first set the deciding one.
    log = started().won(*["us"] * 7)
    profile = {"name": "fivb_2025_2028", "sets_to_win": 1}
    assert replay(profile, log.events)["state"]["side_change_due"] is False
    assert replay(profile, log.won("us").events)["state"]["side_change_due"] is True
    assert replay(profile, log.put("sides_changed").events)["state"]["side_change_due"] is False
    state = replay(profile, log.won(*["us"] * 6).events)["state"]
    assert state["situation"]["match_point"] == ["us"]
    answer = replay(profile, log.won("us").events)
    assert (answer["state"]["status"], answer["state"]["winner"], codes(answer)) == ("match_over", "us", [])
