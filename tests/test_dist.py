"""The built app: what a first visit fetches before the first call."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

from cornerwise.config import USUAL_DIST

SHELL_BYTES = 60_000  # chosen: two seconds on a hall's poor network, at 250 kbit/s


def shell() -> list[Path]:
    """Return the page itself and the scripts and styles that it names."""
    page = USUAL_DIST / "index.html"
    named = re.findall(r'(?:src|href)="/(assets/[^"]+\.(?:js|css))"', page.read_text())
    return [page, *(USUAL_DIST / name for name in named)]


def test_the_shell_is_small_before_the_engine():
    files = shell()
    assert {file.suffix for file in files} == {".html", ".js", ".css"}
    assert sum(len(gzip.compress(file.read_bytes(), 9)) for file in files) < SHELL_BYTES
