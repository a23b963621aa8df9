"""What lies at the top of the project."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
FILES = {"README.md", "DEVELOPERS.md", "pyproject.toml", "Makefile", "LICENSE"}
FOLDERS = {"api", "pwa", "tests", "fixtures"}


def test_the_top_level_holds_only_what_belongs_there():
    made = {line.strip("/") for line in (ROOT / ".gitignore").read_text().splitlines()}
    visible = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert visible - made <= FILES | FOLDERS
