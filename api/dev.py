#!/usr/bin/env python3
"""Everything a bare checkout needs, with python3 (venv) and Node.js only.

    python3 api/dev.py run [options of `cornerwise serve`]   set up, build, serve
    python3 api/dev.py test [pytest options]                 set up, build, run every test
    python3 api/dev.py bench [pytest options]                set up, build, run the benchmarks

A set-up step is skipped while the files it depends on are unchanged: .build/ holds their hashes.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BIN = ROOT / ".venv" / "bin"
PWA = ROOT / "pwa"
OLDEST_PYTHON = (3, 11)
OLDEST_NODE = (20, 19)  # what Vite 8 needs
NOT_SOURCE = {"node_modules", "dist", "test-results"}  # what pwa/ holds besides sources
ENGINE = ROOT / "api" / "cornerwise" / "engine"  # runs on the device too
DEBIAN_POSTGRESQL = Path("/usr/lib/postgresql")
DEBIAN_SBIN = "/usr/sbin"  # not on everybody's PATH
PROCESSES = min(4, (os.cpu_count() or 1) + 1)  # one waits for its browser while others work
# A file's tests share its servers; the browsers' long files come early, so that nobody ends alone.
AT_ONCE = ("-n", str(PROCESSES), "--dist", "loadfile", "--no-loadscope-reorder")
CHROMIUM_NAMES = ("chromium", "chromium-browser", "google-chrome")


def run(*command: object, cwd: Path = ROOT) -> None:
    """Run a command, and stop with its exit code if it fails."""
    print("+", *command, flush=True)
    code = subprocess.run([str(part) for part in command], cwd=cwd).returncode
    if code:
        sys.exit(code)


def dotted(version: tuple[int, ...]) -> str:
    return ".".join(map(str, version))


def step(name: str, inputs: Iterable[Path], output: Path, action: Callable[[], None]) -> None:
    """Do the action unless its output exists and was made from the same inputs."""
    digest = hashlib.sha256(sys.version.encode())
    for file in sorted(inputs):
        digest.update(str(file.relative_to(ROOT)).encode() + b"\0" + file.read_bytes())
    stamp = ROOT / ".build" / name
    if output.exists() and stamp.exists() and stamp.read_text() == digest.hexdigest():
        return
    start = time.monotonic()
    action()
    stamp.parent.mkdir(exist_ok=True)
    stamp.write_text(digest.hexdigest())
    print(f"# {name}: {time.monotonic() - start:.1f} s", flush=True)


def python(extra: str = "") -> None:
    """Make the virtual environment and install the package into it."""
    if sys.version_info < OLDEST_PYTHON:
        sys.exit(f"Python {dotted(OLDEST_PYTHON)} or newer is needed, this is {dotted(sys.version_info[:3])}")
    constraints = ROOT / "api" / "constraints.txt"

    def install() -> None:
        if not (BIN / "python").exists():
            run(sys.executable, "-m", "venv", BIN.parent)
        run(BIN / "python", "-m", "pip", "install", "-q", "--disable-pip-version-check",
            "-c", constraints, "-e", f".{extra}")  # fmt: skip

    step("python" + extra.strip("[]"), [ROOT / "pyproject.toml", constraints], BIN / "cornerwise", install)


def node_packages() -> None:
    """Install the PWA's packages."""
    if shutil.which("node") is None or shutil.which("npm") is None:
        sys.exit(f"Node.js {dotted(OLDEST_NODE)} or newer, with npm, is needed to build the app")
    version = subprocess.run(["node", "--version"], capture_output=True, text=True, check=True).stdout.strip()
    if tuple(map(int, version.lstrip("v").split(".")[:2])) < OLDEST_NODE:
        sys.exit(f"Node.js {dotted(OLDEST_NODE)} or newer is needed to build the app, this is {version}")
    files = [PWA / "package.json", PWA / "package-lock.json"]
    step("npm", files, PWA / "node_modules", lambda: run("npm", "ci", "--loglevel=error", cwd=PWA))


def made(file: Path) -> bool:
    """Return whether a file in pwa/ is made by a set-up step."""
    return file.parts[0] in NOT_SOURCE or file.parts[:2] == ("public", "py")


def pwa() -> None:
    """Check the PWA's types and build it."""
    node_packages()

    def build() -> None:
        run("npm", "run", "--silent", "check", cwd=PWA)
        run("npm", "run", "--silent", "build", cwd=PWA)

    sources = [f for f in PWA.rglob("*") if f.is_file() and not made(f.relative_to(PWA))]
    step("pwa", [*sources, *ENGINE.rglob("*.py")], PWA / "dist" / "index.html", build)


def find_chromium() -> None:
    """Find Chromium for the browser tests: CHROMIUM, then PATH, then apt as root."""

    def found() -> str | None:
        return os.environ.get("CHROMIUM") or next(filter(None, map(shutil.which, CHROMIUM_NAMES)), None)

    if found() is None and shutil.which("apt-get") and os.geteuid() == 0:
        run("apt-get", "update", "-qq")
        run("apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium", "fonts-liberation")
    chromium = found()
    if chromium is None:
        sys.exit("the browser tests need Chromium: install it, or set CHROMIUM=/path/to/chromium")
    os.environ["CHROMIUM"] = chromium


def find_postgresql() -> None:
    """Find PostgreSQL's programs for the tests: POSTGRESQL_BIN, PATH, Debian's folder, then apt as root."""

    def found() -> str | None:
        programs = filter(None, [shutil.which("initdb"), *DEBIAN_POSTGRESQL.glob("*/bin/initdb")])
        folders = (str(Path(program).resolve().parent) for program in programs)
        return os.environ.get("POSTGRESQL_BIN") or next(folders, None)

    if found() is None and shutil.which("apt-get") and os.geteuid() == 0:
        run("apt-get", "update", "-qq")
        run("apt-get", "install", "-y", "-qq", "--no-install-recommends", "postgresql")
    folder = found()
    if folder is None:
        sys.exit("the tests need PostgreSQL: install it, or set POSTGRESQL_BIN to the folder of its initdb")
    os.environ["POSTGRESQL_BIN"] = folder


def find_program(name: str, package: str) -> None:
    """Find a program for the tests: the variable of its name, PATH, Debian's folder, then apt as root."""
    variable = name.upper()

    def found() -> str | None:
        return os.environ.get(variable) or shutil.which(name) or shutil.which(name, path=DEBIAN_SBIN)

    if found() is None and shutil.which("apt-get") and os.geteuid() == 0:
        run("apt-get", "update", "-qq")
        run("apt-get", "install", "-y", "-qq", "--no-install-recommends", package)
    program = found()
    if program is None:
        hint = f"install it (Debian: {package}), or set {variable}=/path/to/{name}"
        sys.exit(f"the tests need {name}: {hint}")
    os.environ[variable] = program


def serve(options: list[str]) -> None:
    python()
    pwa()
    os.execv(BIN / "cornerwise", ["cornerwise", "serve", *options])  # Ctrl-C reaches the server itself


def test(options: list[str]) -> None:
    python("[dev]")
    pwa()
    find_chromium()
    find_postgresql()
    find_program("nginx", "nginx")  # a server behind a proxy
    find_program("certutil", "libnss3-tools")  # a browser that trusts the laptop
    run(BIN / "ruff", "check")
    run(BIN / "ruff", "format", "--check")
    run(BIN / "mypy")
    run("npm", "test", "--silent", cwd=PWA)
    run(BIN / "python", "-m", "pytest", *AT_ONCE, *options)


def bench(options: list[str]) -> None:
    python("[dev]")
    pwa()
    find_chromium()
    run(BIN / "python", "-m", "pytest", "-s", "tests/bench", *options)


def main(arguments: list[str]) -> None:
    commands = {"run": serve, "test": test, "bench": bench}
    if not arguments or arguments[0] not in commands:
        sys.exit(__doc__)
    commands[arguments[0]](arguments[1:])


if __name__ == "__main__":
    main(sys.argv[1:])
