"""One sentence of what the serves say: where one server, rotation or passer differs most from the others.

It describes what was counted and tests nothing: the largest of many differences is often chance, so both
groups must be of some size, and each number is said with what it rests on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import sqrt

from cornerwise.engine.match.terms import Side, other

from .rows import points_by_turn
from .serves import Serve

LEAST_PASSES = 6  # chosen, like the next three: of fewer nothing is said
LEAST_SERVES = 8
LEAST_TURNS = 5
CLEAR = 1.5  # chosen: standard errors between a group and the others
MOST_FINDINGS = 2  # chosen: one sentence

OWNERS: dict[Side, tuple[str, str]] = {"us": ("we", ""), "them": ("they", "their ")}


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that can be said. clearness : standard errors between the group and the others"""

    about: str
    clearness: float
    text: str


def sentence(serves: Sequence[Serve], side: Side) -> str | None:
    """Return what stands out in the serves of a side, None while there are too few to say anything."""
    if len(serves) < LEAST_SERVES:
        return None
    said: list[Finding] = []
    for finding in sorted(findings(serves, side), key=lambda f: (-f.clearness, f.text)):
        if len(said) < MOST_FINDINGS and finding.about not in {f.about for f in said}:
            said.append(finding)
    if said:
        text = "; ".join(finding.text for finding in said)
        return f"{text[0].upper()}{text[1:]}."
    won, missed = sum(s.won for s in serves), sum(s.missed for s in serves)
    counts = f"Of {len(serves)} serves {OWNERS[side][0]} won {won} and missed {missed}"
    return f"{counts}: no server, rotation or passer stands out so far."


def findings(serves: Sequence[Serve], side: Side) -> Iterator[Finding]:
    """Yield every difference that is clear enough to be said."""
    servers, whose = OWNERS[side]
    passers, their = OWNERS[other(side)]
    for number, own, rest in groups(serves, lambda s: s.rally.server):
        grades = [g.grade for g in own if g.grade is not None], [g.grade for g in rest if g.grade is not None]
        yield from passes(
            "server", *grades, f"on {{n}} graded serves of {whose}#{number} {passers} passed {{mean}} on "
            "average, on the other {m} it was {others}",
        )  # fmt: skip
        yield from share(
            "server", [s.missed for s in own], [s.missed for s in rest], LEAST_SERVES,
            f"{whose}#{number} missed {{count}} of {{n}} serves, the others {{others}} of {{m}}",
        )  # fmt: skip
    for position, own, rest in groups(serves, lambda s: s.rally.setter_positions.of(other(side))):
        setter = f"with {their or 'our '}setter in {position}"
        yield from share(
            "rotation", scored(own), scored(rest), LEAST_TURNS,
            f"{setter} {servers} scored in {{count}} of {{n}} serving turns, else in {{others}} of {{m}}",
        )  # fmt: skip
        yield from share(
            "rotation", [s.won for s in own], [s.won for s in rest], LEAST_SERVES,
            f"{setter} {servers} won {{count}} of {{n}} serves, else {{others}} of {{m}}",
        )  # fmt: skip
    passed = [s for s in serves if s.grade is not None and s.rally.parts.passer is not None]
    for number, own, rest in groups(passed, lambda s: s.rally.parts.passer):
        grades = [g.grade for g in own if g.grade is not None], [g.grade for g in rest if g.grade is not None]
        text = f"{their}#{number} passed {{mean}} on average ({{n}} passes), the others {{others}} ({{m}})"
        yield from passes("passer", *grades, text)


def groups(
    serves: Sequence[Serve], key: Callable[[Serve], int | None]
) -> Iterator[tuple[int, list[Serve], list[Serve]]]:
    """Yield each group that has a name, with its serves and all others that have one."""
    named = [s for s in serves if key(s) is not None]
    for name in sorted({n for s in named if (n := key(s)) is not None}):
        yield name, [s for s in named if key(s) == name], [s for s in named if key(s) != name]


def scored(serves: Sequence[Serve]) -> list[bool]:
    """Return of each serving turn whether it brought a point."""
    return [points > 0 for points in points_by_turn(serves).values()]


def share(about: str, own: Sequence[bool], rest: Sequence[bool], least: int, text: str) -> Iterator[Finding]:
    """Yield that a share differs from that of the others, if it does: the usual z of two proportions."""
    n, m = len(own), len(rest)
    if min(n, m) < least:
        return
    pooled = (sum(own) + sum(rest)) / (n + m)
    error = sqrt(pooled * (1 - pooled) * (1 / n + 1 / m))
    difference = abs(sum(own) / n - sum(rest) / m)
    if error > 0 and difference >= CLEAR * error:
        said = text.format(count=sum(own), n=n, others=sum(rest), m=m)
        yield Finding(about, difference / error, said)


def passes(about: str, own: Sequence[int], rest: Sequence[int], text: str) -> Iterator[Finding]:
    """Yield that a mean pass grade differs from that of the others, if it does by what is said of it."""
    n, m = len(own), len(rest)
    if min(n, m) < LEAST_PASSES:
        return
    mine, theirs = sum(own) / n, sum(rest) / m
    middle = (sum(own) + sum(rest)) / (n + m)
    variance = sum((grade - middle) ** 2 for grade in (*own, *rest)) / (n + m)
    error, difference = sqrt(variance * (1 / n + 1 / m)), abs(mine - theirs)
    if error > 0 and difference >= CLEAR * error:
        said = text.format(mean=f"{mine:.1f}", n=n, others=f"{theirs:.1f}", m=m)
        yield Finding(about, difference / error, said)
