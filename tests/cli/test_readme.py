"""The README's worked call says what the program says."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner
from cornerwise.cli import main
from cornerwise.service import calls

README = (Path(__file__).parents[2] / "README.md").read_text()
COMMAND = "cornerwise call --setter 4 --ceiling 0.12"


def test_the_readme_tells_the_answer_of_its_own_command():
    assert COMMAND in README
    answer = calls.recommend({"opponent": {"setter_position": 4}, "policy": {"error_ceiling": 0.12}})
    best = answer["best"]
    parts = {reason["part"]: f"{reason['points_per_100']:.1f}" for reason in best["reasons"]}
    told = " ".join(README.split())
    assert f"**{best['words']['call']}.**" in told
    assert f"**Wins {100 * best['keep']:.0f} of 100, misses {100 * best['p_error']:.0f}.**" in told
    assert f"middle to middle, wins {100 * best['plain']['keep']:.0f}." in told
    assert f"about {best['sight_angle_deg']:.0f}°" in told
    assert f"out of sight ({parts['sight_angle']})" in told
    assert f"behind her ({parts['behind']})" in told
    assert any(s["why"] == "over_setter" and 9.0 < -s["points_per_100"] < 10.0 for s in answer["stay_off"])


def test_the_readmes_command_runs():
    result = CliRunner().invoke(main, COMMAND.split()[1:])
    assert result.exit_code == 0, result.output
    assert result.output.startswith("Left corner → zone 1 deep")
