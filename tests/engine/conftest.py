"""The engine's tests draw the same examples every time, however busy the machine is."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("seeded", derandomize=True, deadline=None, database=None)
settings.load_profile("seeded")
