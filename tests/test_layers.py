"""One way down: what each room of the package may import."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "api" / "cornerwise"
MAY_IMPORT = {
    "engine": {"engine"},
    "store": {"engine", "store"},
    "service": {"engine", "store", "service"},
    "web": {"engine", "store", "service", "web"},
    "cli": {"config", "engine", "store", "service", "cli"},
    "config": set(),
    "app": {"config", "store", "web", "app"},
    "__main__": {"cli"},
    "__init__": set(),
}
ROOMS = ["maths", "errors", "names", "court", "match", "flight", "players", "reception", "roster", "passing"]
ROOMS += ["outcome", "call", "review", "bridge"]
PURE = "__future__ array bisect collections csv dataclasses enum functools itertools json math operator re"
PURE += " typing"


def imports(file: Path) -> Iterator[tuple[int, str]]:
    """Yield the line and the full dotted name of each module or member that a file imports."""
    package = ("cornerwise", *file.relative_to(PACKAGE).parent.parts)
    for node in ast.walk(ast.parse(file.read_text())):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*above, *([node.module] if node.module else [])])
            yield from ((node.lineno, f"{module}.{alias.name}") for alias in node.names)


def allowed(here: list[str], name: list[str]) -> bool:
    """Return whether a module, by its dotted name inside the package, may import a name."""
    if name[0] != "cornerwise":
        return here[0] != "engine" or name[0] in PURE.split()
    if name[1] not in MAY_IMPORT[here[0]]:
        return False
    return here[0] != "engine" or name[2] in ROOMS[: ROOMS.index(here[1]) + 1]


def offences(file: Path) -> Iterator[str]:
    """Yield each import that goes against the order, with its line."""
    place = file.relative_to(PACKAGE)
    for line, name in imports(file):
        if not allowed([*place.with_suffix("").parts], [*name.split("."), ""]):
            yield f"{place}:{line} imports {name}"


@pytest.mark.parametrize("file", sorted(PACKAGE.rglob("*.py")), ids=lambda f: str(f.relative_to(PACKAGE)))
def test_a_file_imports_only_rooms_above_its_own(file):
    assert list(offences(file)) == []


@pytest.mark.parametrize(
    ("place", "source"),
    [
        ("engine/court.py", "import numpy"),
        ("engine/court.py", "from datetime import datetime"),
        ("engine/court.py", "from .flight import Kind"),
        ("engine/passing/duty.py", "from ..call import best"),
        ("engine/bridge.py", "from cornerwise.service import calls"),
        ("service/calls.py", "from cornerwise.web import fields"),
        ("cli/call.py", "from ..web import fields"),
        ("web/calls.py", "import cornerwise.app"),
    ],
)
def test_an_import_against_the_order_is_named_with_its_line(tmp_path, monkeypatch, place, source):
    monkeypatch.setitem(globals(), "PACKAGE", tmp_path)
    file = tmp_path / place
    file.parent.mkdir(parents=True)
    file.write_text(f'"""Says something."""\n{source}\n')
    assert [said.split(" ")[0] for said in offences(file)] == [f"{place}:2"]
