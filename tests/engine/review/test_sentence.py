"""What stands out in the serves, in one sentence: every number in it is counted a second time."""

from __future__ import annotations

import re
from typing import Any

from cornerwise.engine.match import parse_log, replay
from cornerwise.engine.review import review

from .recount import recount
from .scripts import Script, script

OURS = [4, 11, 7, 2, 15, 9]
LEAST = {"passes": 6, "serves": 8, "turns": 5}


def said(log: list[dict[str, Any]], side: str = "us") -> str | None:
    return review(replay(parse_log(log)), side)["text"]


def played(turns: list[tuple[list[int], bool]]) -> list[dict[str, Any]]:
    """Return the log of a set: our serving turns by the grades of the rallies we won in it, and whether
    the last serve was missed, else passed well; they then lose their serve at once."""
    pen = Script(0)
    pen.write("set_started", 1, 1, serving_first="us", us={"lineup": OURS}, them={"setter_position": 1})
    rally = 1
    for grades, missed in turns:
        for grade in grades:
            pen.write("rally_won", 1, rally, winner="us", grade=grade)
            rally += 1
        ending = {"ending": "service_error"} if missed else {"grade": 3}
        pen.write("rally_won", 1, rally, winner="them", **ending)
        pen.write("rally_won", 1, rally + 1, winner="us")
        rally += 2
    return pen.log


def test_a_server_whose_serves_are_passed_worse_is_named_beside_the_others():
    """#4 allows six passes of 1 and one of 3: 9 / 7 = 1.3; the other five servers allow 3 each time."""
    log = played([([1] * 6, False)] + [([3, 3], False)] * 5)
    assert said(log) == "On 7 graded serves of #4 they passed 1.3 on average, on the other 15 it was 3.0."


def test_a_server_who_misses_more_is_named_beside_the_others():
    log = played(([([2], True)] + [([2], False)] * 5) * 4)
    assert said(log) == "#4 missed 4 of 8 serves, the others 0 of 40."


def test_a_rotation_of_theirs_that_gives_us_nothing_is_named_by_their_setter():
    """Their setter starts in 1 and comes to 4 with their third rotation (FIVB 7.6.2: 1, 6, 5, 4)."""
    log = played(([([2], False)] * 3 + [([], False)] + [([2], False)] * 2) * 6)
    assert said(log) == (
        "With their setter in 4 we scored in 0 of 6 serving turns, else in 30 of 30; "
        "on 6 graded serves of #2 they passed 3.0 on average, on the other 60 it was 2.5."
    )


def test_nothing_is_said_of_a_few_serves_and_no_difference_is_made_up():
    assert said(played([([], False)] * 7)) is None
    same = said(played([([2], False)] * 12))
    assert same == "Of 24 serves we won 12 and missed 0: no server, rotation or passer stands out so far."


CLAUSES = {
    "passes": r"on (\d+) graded serves of (?:their )?#(\d+) \w+ passed ([\d.]+) on .*?, on the other (\d+) ",
    "missed": r"#(\d+) missed (\d+) of (\d+) serves, the others (\d+) of (\d+)",
    "turns": r"setter in (\d) \w+ scored in (\d+) of (\d+) serving turns, else in (\d+) of (\d+)",
    "won": r"setter in (\d) \w+ won (\d+) of (\d+) serves, else (\d+) of (\d+)",
    "passer": r"#(\d+) passed ([\d.]+) on average \((\d+) passes\), the others [\d.]+ \((\d+)\)",
}


def found(table: list[dict[str, Any]], name: str, value: str) -> dict[str, Any]:
    return next(row for row in table if row[name] == int(value))


def checked(kind: str, at: tuple[str, ...], counted: dict[str, Any], side: str) -> None:
    """Assert that one clause says what the second count says."""
    theirs = counted["by_their_rotation" if side == "us" else "by_our_rotation"]
    if kind == "passes":
        grade = found(counted["by_server"], "number", at[1])["pass_grade"]
        assert (at[0], at[2]) == (str(grade["of"]), f"{grade['mean']:.1f}")
        assert min(int(at[0]), int(at[3])) >= LEAST["passes"]
    elif kind == "missed":
        assert (int(at[1]), int(at[2])) == tuple(
            found(counted["by_server"], "number", at[0])["errors"][name] for name in ("count", "of")
        )
        assert min(int(at[2]), int(at[4])) >= LEAST["serves"]
    elif kind == "turns":
        assert int(at[2]) == found(theirs, "setter_position", at[0])["points_per_turn"]["of"]
        assert min(int(at[2]), int(at[4])) >= LEAST["turns"]
    elif kind == "won":
        won = found(theirs, "setter_position", at[0])["won"]
        assert (int(at[1]), int(at[2])) == (won["count"], won["of"])
        assert min(int(at[2]), int(at[4])) >= LEAST["serves"]
    else:
        grade = found(counted["by_passer"], "number", at[0])["pass_grade"]
        assert (at[1], at[2]) == (f"{grade['mean']:.1f}", str(grade["of"]))
        assert min(int(at[2]), int(at[3])) >= LEAST["passes"]


def test_every_number_that_is_said_is_that_of_the_second_count():
    kinds = set()
    for seed in range(40):
        log = script(seed)
        for side in ("us", "them"):
            text, counted = said(log, side), recount(log, side)
            matches = [(k, m) for k, pattern in CLAUSES.items() for m in re.finditer(pattern, text, re.I)]
            assert matches or text.startswith(f"Of {counted['all']['serves']['count']} serves "), text
            for kind, match in matches:
                checked(kind, match.groups(), counted, side)
                kinds.add(kind)
    assert kinds == set(CLAUSES)
