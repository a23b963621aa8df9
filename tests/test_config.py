"""Settings from the environment."""

from __future__ import annotations

from pathlib import Path

from cornerwise.config import Config


def test_without_settings_the_app_built_in_this_checkout_is_served():
    assert Config.from_env({}).dist == Path(__file__).resolve().parents[1] / "pwa" / "dist"


def test_the_folder_of_the_built_app_can_be_moved(tmp_path):
    assert Config.from_env({"CORNERWISE_DIST": str(tmp_path)}).dist == tmp_path
