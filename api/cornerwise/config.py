"""What can be set from outside, read from the environment once."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Config:
    """The settings of one server.

    dist : folder of the built PWA.
    """

    dist: Path = Path(__file__).resolve().parents[2] / "pwa" / "dist"

    @classmethod
    def from_env(cls, environ: Mapping[str, str] = os.environ) -> Config:
        """Return the settings: CORNERWISE_DIST moves the folder of the built PWA."""
        dist = environ.get("CORNERWISE_DIST")
        return cls(Path(dist).resolve()) if dist else cls()
