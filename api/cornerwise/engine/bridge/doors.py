"""All doors by name, for a home that speaks in JSON texts: the worker on the phone."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.maths import PLAIN, Maths

from .aimed import aimed
from .answer import call
from .book import book, corners
from .chosen import chosen
from .exact import flight, geometry
from .formation import copied, formation
from .live import replay, review, serves
from .roster import prepared
from .stock import stock

Door = Callable[[dict[str, Any], Maths], dict[str, Any]]

DOORS: Mapping[str, Door] = {
    "aimed": aimed,
    "book": book,
    "call": call,
    "copied": lambda request, _: copied(request["formation"], request["to"]),
    "corners": corners,
    "flight": lambda request, _: flight(request),
    "formation": lambda request, _: formation(request),
    "geometry": lambda request, _: geometry(request),
    "chosen": chosen,
    "prepared": lambda request, _: prepared(request),
    "replay": lambda request, _: replay(request),
    "review": lambda request, _: review(request),
    "serves": lambda request, _: serves(request),
    "stock": lambda _request, _m: stock(),
}


def through(door: str, request: str, m: Maths = PLAIN) -> str:
    """Return what a door answers, as JSON: {"answer": ...}, or {"refused": {field, value, expected, rule}}.

    request : a JSON object

    Raises whatever else goes wrong: that is a fault of ours, which a refusal is not.
    """
    try:
        said = {"answer": DOORS[door](json.loads(request), m)}
    except RuleBroken as e:
        said = {"refused": {"field": e.field, "value": e.value, "expected": e.expected, "rule": e.rule}}
    return json.dumps(said, allow_nan=False, ensure_ascii=False, separators=(",", ":"))
