"""Settings from the environment."""

from __future__ import annotations

from pathlib import Path

import pytest
from cornerwise.config import Config


def test_without_settings_the_app_built_in_this_checkout_is_served():
    assert Config.from_env({}).dist == Path(__file__).resolve().parents[1] / "pwa" / "dist"


def test_without_settings_the_database_lies_in_a_hidden_folder_of_this_checkout():
    config = Config.from_env({"DATABASE_URL": ""})
    assert config.data == Path(__file__).resolve().parents[1] / ".data"
    assert config.database_url is None


def test_the_database_can_be_moved_or_be_another_one(tmp_path):
    url = "postgresql+psycopg://bench@localhost/cornerwise"
    config = Config.from_env({"CORNERWISE_DATA": str(tmp_path), "DATABASE_URL": url})
    assert (config.data, config.database_url) == (tmp_path, url)


def test_the_folder_of_the_built_app_can_be_moved(tmp_path):
    assert Config.from_env({"CORNERWISE_DIST": str(tmp_path)}).dist == tmp_path


def test_no_proxy_is_believed_unless_it_is_said_how_many_are_ours():
    assert Config.from_env({}).proxies == 0
    assert Config.from_env({"CORNERWISE_PROXIES": "1"}).proxies == 1


@pytest.mark.parametrize("given", ["yes", "-1", "1.5"])
def test_another_number_of_proxies_is_refused_by_its_name(given):
    with pytest.raises(ValueError, match=f"CORNERWISE_PROXIES: '{given}': expected a whole number"):
        Config.from_env({"CORNERWISE_PROXIES": given})
