"""The set-up script: it skips what is done, and says plainly what is missing."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

SCRIPT = Path(__file__).resolve().parents[1] / "api" / "dev.py"


@pytest.fixture
def dev(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> ModuleType:
    """The script as a module, at work in an empty folder, with nothing on PATH."""
    spec = importlib.util.spec_from_file_location("dev", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    return module


def program(tmp_path: Path, name: str, says: str) -> None:
    file = tmp_path / "bin" / name
    file.parent.mkdir(exist_ok=True)
    file.write_text(f"#!/bin/sh\necho {says}\n")
    file.chmod(0o755)


def test_a_step_is_done_once_and_again_only_after_its_inputs_changed(dev, tmp_path):
    source, built, runs = tmp_path / "source", tmp_path / "built", []

    def build() -> None:
        built.write_text(source.read_text())
        runs.append(source.read_text())

    for text in ("one", "one", "two"):
        source.write_text(text)
        dev.step("build", [source], built, build)
    assert runs == ["one", "two"]
    built.unlink()
    dev.step("build", [source], built, build)
    assert runs == ["one", "two", "two"]


def test_a_step_that_failed_is_done_again(dev, tmp_path):
    source = tmp_path / "source"
    source.write_text("one")

    def fail() -> None:
        raise SystemExit(3)

    for _ in range(2):
        with pytest.raises(SystemExit):
            dev.step("build", [source], source, fail)


def test_a_command_that_fails_ends_the_script_with_its_code(dev):
    with pytest.raises(SystemExit) as ended:
        dev.run("/bin/sh", "-c", "exit 7")
    assert ended.value.code == 7


def test_missing_node_is_said(dev):
    with pytest.raises(SystemExit, match=r"Node\.js 20\.19 or newer, with npm, is needed"):
        dev.node_packages()


def test_node_that_is_too_old_is_said_with_its_version(dev, tmp_path):
    program(tmp_path, "npm", "10.0.0")
    program(tmp_path, "node", "v18.20.4")
    with pytest.raises(SystemExit, match=r"20\.19 or newer is needed .* this is v18\.20\.4"):
        dev.node_packages()


def test_a_missing_browser_is_said_and_nothing_is_skipped(dev, monkeypatch):
    monkeypatch.delenv("CHROMIUM", raising=False)
    with pytest.raises(SystemExit, match="need Chromium: install it, or set CHROMIUM"):
        dev.find_chromium()


def test_the_browser_is_the_one_that_is_named(dev, monkeypatch, tmp_path):
    program(tmp_path, "chromium", "1")
    monkeypatch.setenv("CHROMIUM", "/opt/browser")
    dev.find_chromium()
    assert dev.os.environ["CHROMIUM"] == "/opt/browser"


def test_a_missing_database_server_is_said_and_nothing_is_skipped(dev, monkeypatch, tmp_path):
    monkeypatch.delenv("POSTGRESQL_BIN", raising=False)
    monkeypatch.setattr(dev, "DEBIAN_POSTGRESQL", tmp_path)
    with pytest.raises(SystemExit, match="need PostgreSQL: install it, or set POSTGRESQL_BIN"):
        dev.find_postgresql()


def test_the_database_server_is_the_one_that_is_named(dev, monkeypatch, tmp_path):
    program(tmp_path, "initdb", "1")
    monkeypatch.setenv("POSTGRESQL_BIN", "/opt/server/bin")
    dev.find_postgresql()
    assert dev.os.environ["POSTGRESQL_BIN"] == "/opt/server/bin"


def test_a_missing_program_is_said_with_its_package_and_nothing_is_skipped(dev, monkeypatch, tmp_path):
    monkeypatch.delenv("CERTUTIL", raising=False)
    monkeypatch.setattr(dev, "DEBIAN_SBIN", str(tmp_path))
    with pytest.raises(SystemExit, match=r"need certutil: .* libnss3-tools\), or set CERTUTIL=/path"):
        dev.find_program("certutil", "libnss3-tools")


def test_a_program_is_found_where_debian_hides_it(dev, monkeypatch, tmp_path):
    monkeypatch.setenv("NGINX", "")
    monkeypatch.setattr(dev, "DEBIAN_SBIN", str(tmp_path / "bin"))
    monkeypatch.setenv("PATH", str(tmp_path))
    program(tmp_path, "nginx", "1")
    dev.find_program("nginx", "nginx")
    assert dev.os.environ["NGINX"] == str(tmp_path / "bin" / "nginx")


def test_an_unknown_command_shows_how_it_is_used(dev):
    with pytest.raises(SystemExit, match=r"python3 api/dev\.py run"):
        dev.main(["fly"])
