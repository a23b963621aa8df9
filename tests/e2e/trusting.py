"""A browser on a phone that trusts one authority, or none, and ignores nothing."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import BrowserContext, BrowserType

PIXEL = {"viewport": {"width": 412, "height": 915}, "has_touch": True, "is_mobile": True}


def trust(home: Path, certificate: Path) -> None:
    """Add an authority to the ones that Chromium believes for a user with this home folder."""
    certutil = os.environ.get("CERTUTIL") or shutil.which("certutil")
    assert certutil, "certutil is needed: install Debian's libnss3-tools, or set CERTUTIL"
    folder = home / ".pki" / "nssdb"
    folder.mkdir(parents=True)
    database = ["-d", f"sql:{folder}"]
    subprocess.run([certutil, *database, "-N", "--empty-password"], check=True, timeout=30)
    added = ["-A", "-t", "C,,", "-n", "Cornerwise", "-i", str(certificate)]
    subprocess.run([certutil, *database, *added], check=True, timeout=30)


@contextmanager
def phone(
    browser_type: BrowserType, launch: dict, home: Path, certificate: Path | None, names: dict[str, str]
) -> Iterator[BrowserContext]:
    """Open a browser.

    launch      : how browsers are started here.
    certificate : of the authority to trust, None for none.
    names       : the address of each name; as the network's own names would say.
    """
    home.mkdir()
    if certificate is not None:
        trust(home, certificate)
    rules = ", ".join(f"MAP {name} {address}" for name, address in names.items())
    arguments = [*launch["args"], f"--host-resolver-rules={rules}"]
    environ = os.environ | {"HOME": str(home)}
    with browser_type.launch(**launch | {"args": arguments, "env": environ}) as browser:
        yield browser.new_context(**PIXEL)
