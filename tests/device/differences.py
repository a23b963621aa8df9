"""Where two answers differ that ought to be one."""

from __future__ import annotations

import math
from typing import Any

CLOSE = 1e-9


def differences(a: Any, b: Any, path: str = "") -> list[str]:
    """Return where two answers differ: a number by more than 1e-9, anything else at all."""
    if isinstance(a, dict) and isinstance(b, dict) and a.keys() == b.keys():
        return [found for name in a for found in differences(a[name], b[name], f"{path}.{name}")]
    if isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        return [
            found
            for i, pair in enumerate(zip(a, b, strict=True))
            for found in differences(*pair, f"{path}.{i}")
        ]
    numbers = all(isinstance(v, int | float) and not isinstance(v, bool) for v in (a, b))
    same = math.isclose(a, b, rel_tol=CLOSE, abs_tol=CLOSE) if numbers else type(a) is type(b) and a == b
    return [] if same else [f"{path}: {a!r} here, {b!r} on the device"]
