"""What the build packs for the device: the same bytes each time, and only what changed."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from .conftest import PACKED, ROOT


def pack(folder: Path, api: Path) -> dict[str, bytes]:
    """Return what is packed from an api folder."""
    subprocess.run(["node", ROOT / "pwa/scripts/pack.mjs", folder, api], check=True, capture_output=True)
    return {file.name: file.read_bytes() for file in folder.iterdir()}


def test_a_change_of_the_engine_changes_the_engine_only(tmp_path):
    shutil.copytree(ROOT / "api/cornerwise/engine", tmp_path / "api/cornerwise/engine")
    shutil.copy(ROOT / "api/cornerwise/__init__.py", tmp_path / "api/cornerwise")
    before = pack(tmp_path / "py", tmp_path / "api")
    assert before == {file.name: file.read_bytes() for file in PACKED.iterdir() if file.suffix != ".gz"}
    with (tmp_path / "api/cornerwise/engine/court.py").open("a") as court:
        court.write("\nNEW_M = 1.0\n")
    after = pack(tmp_path / "py", tmp_path / "api")
    assert [name for name in before if before[name] != after[name]] == ["cornerwise.zip"]


def test_an_engine_that_the_device_cannot_import_is_not_packed(tmp_path):
    shutil.copytree(ROOT / "api/cornerwise/engine", tmp_path / "api/cornerwise/engine")
    shutil.copy(ROOT / "api/cornerwise/__init__.py", tmp_path / "api/cornerwise")
    shutil.copytree(PACKED, tmp_path / "py")
    with (tmp_path / "api/cornerwise/engine/court.py").open("a") as court:
        court.write("\nimport numpy\n")
    command = ["node", ROOT / "pwa/scripts/pack.mjs", tmp_path / "py", tmp_path / "api"]
    ran = subprocess.run(command, capture_output=True, text=True)
    assert ran.returncode != 0
    assert "the engine does not start on the device: ModuleNotFoundError" in ran.stderr
    assert not (tmp_path / "py/cornerwise.zip").exists()
