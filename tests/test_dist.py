"""The built app: what a first visit fetches before the first call."""

from __future__ import annotations

import gzip
import re

from cornerwise.config import USUAL_DIST

SHELL_BYTES = 60_000  # chosen: two seconds on a hall's poor network, at 250 kbit/s


def test_the_shell_is_small_before_the_engine():
    """The page itself with the scripts and styles that it names, each as it goes over the wire."""
    page = (USUAL_DIST / "index.html").read_text()
    named = re.findall(r'(?:src|href)="/(assets/[^"]+\.(?:js|css))"', page)
    assert any(name.endswith(".js") for name in named)
    assert any(name.endswith(".css") for name in named)
    files = [page.encode(), *((USUAL_DIST / name).read_bytes() for name in named)]
    assert sum(len(gzip.compress(file, 9)) for file in files) < SHELL_BYTES
