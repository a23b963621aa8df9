"""`cornerwise call`: one call, in words or as JSON."""

from __future__ import annotations

import functools
import json
import math
from collections.abc import Iterator
from typing import Any

import click

from cornerwise.engine.court import SPOT_NAMES
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.flight import DRAG_MODELS, KINDS
from cornerwise.engine.names import FORMATIONS, LEVELS, SYSTEMS
from cornerwise.service import calls as service

OPTIONS = {
    "opponent.setter_position": "--setter",
    "opponent.setter_start.x_m": "X of --setter-at",
    "opponent.setter_start.y_m": "Y of --setter-at",
    "opponent.setter_start": "--setter-at",
    "opponent.passers": "--formation",
    "server.speeds_m_s": "--pace",
}
"""What the engine may name in a refusal, longer names first: the option it was given by."""


class Number(click.FloatRange):
    """A number in a range; NaN is in none."""

    name = "number"
    kind, hint = "a number", ""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        """Return the number, or end with what was expected."""
        try:
            number: float = super().convert(value, param, ctx)
        except click.BadParameter:
            number = math.nan
        if math.isnan(number):
            self.fail(f"{value} is not {self.kind} from {self.min:g} to {self.max:g}{self.hint}.", param, ctx)
        return number


class Share(Number):
    """A share, not a percentage."""

    name = "share"
    kind, hint = "a share", " (12 in 100 is 0.12)"


@click.command()
@click.option("--setter", "setter_position", type=click.IntRange(1, 6), help="Position of their setter.")
@click.option("--setter-at", nargs=2, type=float, metavar="X Y", help="Where she starts, in m.")
@click.option("--faces", "setter_faces", type=click.Choice(["left", "right"]), help="The side she faces.")
@click.option("--system", type=click.Choice(SYSTEMS))
@click.option("--formation", type=click.Choice(FORMATIONS), help="How many of them pass.")
@click.option("--level", type=click.Choice(LEVELS))
@click.option("--kind", type=click.Choice(KINDS), help="Kind of serve.")
@click.option("--spot", "spots", multiple=True, type=click.Choice(SPOT_NAMES), help="Spots she can use.")
@click.option("--pace", "paces", multiple=True, type=Number(3, 40), help="Her paces, in m/s.")
@click.option("--ceiling", type=Share(0, 1), help="Largest share of errors accepted, e.g. 0.12.")
@click.option("--net", type=Number(1.5, 2.6), help="Height of the net, in m.")
@click.option("--drag", type=click.Choice(DRAG_MODELS), help="Model of the ball's flight.")
@click.option("--json", "as_json", is_flag=True, help="The whole answer, as the API gives it.")
def call(as_json: bool, **options: Any) -> None:
    """Call one serve against the setter in a position."""
    try:
        answer = service.recommend(request(**options))
    except RuleBroken as error:
        raise click.UsageError(refusal(error)) from None
    click.echo(json.dumps(answer, indent=2) if as_json else "\n".join(lines(answer)))


def refusal(error: RuleBroken) -> str:
    """Return what was wrong, by the names of the options."""
    field, expected = _options(error.field), _options(error.expected)
    if field == error.field:  # no option: several would do, and `expected` names them
        return f"expected {expected}"
    given = f", not {error.value:g}" if isinstance(error.value, int | float) else ""
    return f"{field}: expected {expected}{given}"


def _options(text: str) -> str:
    return functools.reduce(lambda said, name: said.replace(name, OPTIONS[name]), OPTIONS, text)


def request(
    *, level: str | None, net: float | None, drag: str | None, ceiling: float | None, kind: str | None,
    paces: tuple[float, ...], spots: tuple[str, ...], setter_at: tuple[float, float] | None, **opponent: Any,
) -> dict[str, Any]:  # fmt: skip
    """Return the options as the engine takes them, without what was not given."""
    if setter_at:
        opponent["setter_start"] = dict(zip(("x_m", "y_m"), setter_at, strict=True))
    whole = {
        "level": level,
        "net_height_m": net,
        "drag_model": drag,
        "server": _given(kind=kind, speeds_m_s=list(paces), spots=list(spots)),
        "opponent": _given(**opponent),
        "policy": _given(error_ceiling=ceiling),
    }
    return _given(**whole)


def _given(**values: Any) -> dict[str, Any]:
    return {name: value for name, value in values.items() if value not in (None, [], {})}


def lines(answer: dict[str, Any]) -> Iterator[str]:
    """Yield the answer in words, a line each."""
    best = answer["best"]
    words = best["words"]
    yield words["call"]
    yield f"  {words['kind']}, {best['speed_m_s']:.1f} m/s: {words['odds']}"
    yield f"  {words['reason']}"
    yield f"  {words['place']}"
    for reason in best["reasons"]:
        if abs(reason["points_per_100"]) >= 0.1:  # chosen: less shows as nothing
            yield f"    {reason['points_per_100']:+5.1f}  {reason['text']}"
    for other in answer["alternatives"]:
        worth = "as good" if other["equal"] else f"{other['points_per_100']:+.1f} in 100"
        yield f"or {other['words']['call']} ({worth}; {other['words']['odds']})"
    for serve in answer["stay_off"]:
        yield f"stay off: {serve['text']} ({serve['points_per_100']:+.1f} in 100)"
    yield answer["policy"]["text"]
    yield from (missing["text"] for missing in answer["limits"]["missing_spots"])
    if answer["drag"]["text"]:
        yield answer["drag"]["text"]
    if answer["assumed"]:
        yield "assumed: " + "; ".join(assumed["text"] for assumed in answer["assumed"])
