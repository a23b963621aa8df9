"""The review of a match or of one set: its serves by server, rotation, spot, target, and against the call."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Any, TypeAlias

from cornerwise.engine.court import DEPTHS, SPOT_NAMES, Point, depth, spot_name, zone
from cornerwise.engine.match.score import set_winner
from cornerwise.engine.match.state import MatchState
from cornerwise.engine.match.terms import Side

from .chart import set_course
from .rows import mean, row
from .sentence import sentence
from .serves import LEFT_OUT, SERVED, Serve, left_out, played_sets, served, serves_of, spot_of, target_of

Key: TypeAlias = tuple[int | str | None, ...]


def review(state: MatchState, side: Side = "us", set_number: int | None = None) -> dict[str, Any]:
    """Return what the serves of a side came to, as plain objects.

    side       : whose serves       set_number : of one set only, None for the whole match

    Rotations are named by where the setter stands: what else a rotation is called changes with every
    line-up. Groups that nothing is known for come last, with null for their name.
    """
    sets = [s for s in played_sets(state, set_winner(state)) if set_number in (None, s.set_number)]
    serves = serves_of(sets, side)
    reasons = Counter(left_out(r) for s in sets for r in s.rallies if r.serving == side)
    return {
        "side": side,
        "set_number": set_number,
        "text": sentence(serves, side),
        "all": row(serves, len(serves)),
        "by_server": table(serves, ("number",), lambda s: (s.rally.server,)),
        "by_our_rotation": table(serves, ("setter_position",), lambda s: (s.rally.setter_positions.us,)),
        "by_their_rotation": table(serves, ("setter_position",), lambda s: (s.rally.setter_positions.them,)),
        "by_spot": table(serves, SPOT, spot_key, in_turns=False),
        "by_target": table(serves, TARGET, target_key, in_turns=False),
        "by_spot_and_target": table(serves, SPOT + TARGET, pair_key, in_turns=False),
        "called": [
            {"served": name, **row([s for s in serves if served(s) == name], len(serves), in_turns=False)}
            for name in SERVED
        ],
        "by_passer": passers(serves),
        "not_counted": {name: reasons[name] for name in LEFT_OUT},
        "sets": [set_course(s) for s in sets],
    }


WORDS: dict[str, tuple[str, ...]] = {"spot": SPOT_NAMES, "depth": DEPTHS}
SPOT = ("spot",)
TARGET = ("zone", "depth")


def spot_key(serve: Serve) -> Key:
    spot = spot_of(serve)
    return (None,) if spot is None else (spot_name(spot.x_m),)


def target_key(serve: Serve) -> Key:
    target: Point | None = target_of(serve)
    return (None, None) if target is None else (zone(target), depth(target))


def pair_key(serve: Serve) -> Key:
    return (*spot_key(serve), *target_key(serve))


def table(
    serves: list[Serve], names: tuple[str, ...], key: Callable[[Serve], Key], *, in_turns: bool = True
) -> list[dict[str, Any]]:
    """Return a row for each group of serves with the same key, in the order of the keys."""
    groups: dict[Key, list[Serve]] = {}
    for serve in serves:
        groups.setdefault(key(serve), []).append(serve)
    return [
        {**dict(zip(names, found, strict=True)), **row(groups[found], len(serves), in_turns=in_turns)}
        for found in sorted(groups, key=lambda found: [*map(rank, names, found)])
    ]


def rank(name: str, value: int | str | None) -> int:
    """Return where a row stands in its table: numbers by size, words in the court's order, unknown last."""
    if value is None:
        return 1000
    return value if isinstance(value, int) else WORDS[name].index(value)


def passers(serves: list[Serve]) -> list[dict[str, Any]]:
    """Return what each passer did with the serves that came to her; unnamed passers are left out."""
    grades: dict[int, list[int]] = {}
    for serve in serves:
        number = serve.rally.parts.passer
        if number is not None and serve.grade is not None:
            grades.setdefault(number, []).append(serve.grade)
    return [{"number": number, "pass_grade": mean(grades[number])} for number in sorted(grades)]
