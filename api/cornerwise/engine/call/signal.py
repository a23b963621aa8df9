"""The hand signal of a call: three poses of one hand, shown in order: spot, zone, depth.

Fingers for zones are common practice, no source; the poses for spot and depth are our own starting
set. A pose is five fingers, thumb first, each stretched or folded.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwise.engine.court import SPOT_NAMES, Depth, depth, spot_name, zone

from .situation import Option

Fingers = tuple[bool, bool, bool, bool, bool]


def fingers(*stretched: int) -> Fingers:
    """Return a pose with these fingers stretched: 0 the thumb to 4 the little finger."""
    return (0 in stretched, 1 in stretched, 2 in stretched, 3 in stretched, 4 in stretched)


COUNT: dict[int, Fingers] = {
    1: fingers(1),
    2: fingers(1, 2),
    3: fingers(1, 2, 3),
    4: fingers(1, 2, 3, 4),
    5: fingers(0, 1, 2, 3, 4),
    6: fingers(0, 4),
}
DEPTH: dict[Depth, Fingers] = {"short": fingers(), "middle": fingers(0), "deep": fingers(1, 2, 3, 4)}


@dataclass(frozen=True, slots=True)
class Pose:
    """One pose of the signal, with what it stands for."""

    of: Literal["spot", "zone", "depth"]
    text: str
    fingers: Fingers


def signal(option: Option) -> tuple[Pose, Pose, Pose]:
    """Return the poses of a call: the spots counted from the server's left, the zone, the depth."""
    name = spot_name(option.stand.spot.x_m)
    number, deep = zone(option.landing), depth(option.landing)
    return (
        Pose("spot", name.replace("_", " "), COUNT[SPOT_NAMES.index(name) + 1]),
        Pose("zone", f"zone {number}", COUNT[number]),
        Pose("depth", deep, DEPTH[deep]),
    )
