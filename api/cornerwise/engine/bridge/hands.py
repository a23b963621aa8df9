"""The code of a team's hands: which pose stands for which spot, zone and depth, so that a team can have
its own and change it when it has been read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeAlias

from cornerwise.engine.call.signal import COUNT, DEPTH
from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.errors import RuleBroken

Code: TypeAlias = Mapping[str, Mapping[str, Sequence[bool]]]
"""For spot, zone and depth the pose of each by its name: five fingers, thumb first, true for stretched."""


def starting_code() -> dict[str, dict[str, list[bool]]]:
    """Return the code to start with."""
    return {
        "spot": {name: list(COUNT[i]) for i, name in enumerate(SPOT_NAMES, 1)},
        "zone": {str(zone): list(pose) for zone, pose in COUNT.items()},
        "depth": {depth: list(pose) for depth, pose in DEPTH.items()},
    }


def check_code(code: Code, field: str) -> None:
    """Raise RuleBroken when two things of one kind have the same pose: nobody could tell them apart."""
    for of, poses in code.items():
        seen: dict[tuple[bool, ...], str] = {}
        for name, pose in poses.items():
            other = seen.setdefault(tuple(pose), name)
            if other != name:
                where = f"{field}.{of}.{name}"
                raise RuleBroken(where, pose, f"another pose than that of {other}", "same_pose")


def signalled(call: Mapping[str, Any], code: Code) -> dict[str, Any]:
    """Return a call with its signal in the team's own code."""
    target = call["target"]
    names = {"spot": call["spot"]["name"], "zone": str(target["zone"]), "depth": target["depth"]}
    signal = [{**pose, "fingers": list(code[pose["of"]][names[pose["of"]]])} for pose in call["signal"]]
    return {**call, "signal": signal}
