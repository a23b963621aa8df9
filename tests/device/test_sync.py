"""The app's own storage and sync, in Node, against the real server over a network that fails."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

PWA = Path(__file__).resolve().parents[2] / "pwa"


def test_all_devices_agree_whatever_the_network_does(tmp_path: Path):
    """The properties themselves are in pwa/src/**/*.device.ts; CORNERWISE_SEED repeats another run."""
    environ = os.environ | {
        "CORNERWISE_DATA": str(tmp_path),
        "CORNERWISE_PYTHON": json.dumps([sys.executable]),
    }
    command = ["node", "node_modules/vitest/vitest.mjs", "run", "--config", "device.config.ts"]
    ran = subprocess.run(command, cwd=PWA, env=environ, capture_output=True, text=True, timeout=240)
    assert ran.returncode == 0, f"{ran.stdout[-6000:]}\n{ran.stderr[-2000:]}"
