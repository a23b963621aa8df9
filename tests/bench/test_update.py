"""What a phone fetches for its first visit, and for a version in which one file changed: bytes, printed."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

from cornerwise.config import ROOT, USUAL_DIST


def listed(folder: Path) -> dict[str, list]:
    """Return hash and size of each file, from the head of sw.js."""
    return json.loads(re.search(r"FILES=({.*?});\n", (folder / "sw.js").read_text())[1])


def on_the_wire(folder: Path, name: str) -> int:
    """Return the bytes of a file as a browser gets it."""
    copy = folder / f"{name}.gz"
    return (copy if copy.is_file() else folder / name).stat().st_size


def test_an_update_fetches_what_changed_and_no_more(tmp_path):
    dist = tmp_path / "dist"
    shutil.copytree(USUAL_DIST, dist)
    before = listed(dist)
    (dist / "index.html").write_text((dist / "index.html").read_text() + "\n")
    subprocess.run(["node", ROOT / "pwa/scripts/manifest.mjs", dist], check=True, capture_output=True)
    after = listed(dist)
    changed = [name for name in after if after[name] != before.get(name)]
    worker = (dist / "sw.js").stat().st_size
    sizes = {
        "pages, first visit": sum(on_the_wire(dist, n) for n in after if not n.startswith("py/")) + worker,
        "engine, first visit": sum(on_the_wire(dist, n) for n in after if n.startswith("py/")),
        "one file changed": sum(on_the_wire(dist, n) for n in changed) + worker,
    }
    print()
    for what, size in sizes.items():
        print(f"{what:20} {size / 1e3:9.1f} kB on the wire")
    assert changed == ["index.html"]
