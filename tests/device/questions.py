"""What both homes are asked: every fixture that a door takes, seeded calls, logs and refusals."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from cornerwise.engine.bridge import formation
from cornerwise.engine.flight import DRAG_MODELS
from cornerwise.engine.match.readers import RULES as LOG_RULES
from cornerwise.engine.players import STOCK_SERVERS

from ..engine.review.scripts import script
from ..engine.test_match_cases import CASES, with_envelopes
from ..engine.test_match_reading import REFUSED

FIXTURES = Path(__file__).resolve().parents[2] / "fixtures"
SEED = 20261125
SERVERS = (  # chosen: every kind once, since each new server costs the device a second
    ("under_14", "underhand"),
    ("high_school", "standing_float"),
    ("college", "jump_float"),
    ("elite_women", "standing_topspin"),
    ("elite_men", "jump_topspin"),
    ("high_school", "plain_overhand"),
    ("college", "short_float"),
)

Named = tuple[str, str, dict[str, Any]]
"""What a question is about, its door, its request."""


def fixture(path: str) -> Any:
    return json.loads((FIXTURES / path).read_text())


def place(x_m: float, y_m: float) -> dict[str, float]:
    return {"x_m": x_m, "y_m": y_m}


def geometries() -> Iterator[Named]:
    for case in fixture("passing/closed_forms.json")["pass_angles"]:
        spots = {"spot": case["contact"], "landing": case["landing"], "pass_target": case["target"]}
        request = {name: place(*xy) for name, xy in spots.items()} | {"setter_start": place(-3.2, 4.5)}
        yield case["says"], "geometry", request
    rng = random.Random(SEED)
    for n in range(40):
        request = {
            "spot": place(rng.uniform(-4.5, 4.5), rng.uniform(-10, -8)),
            **{
                w: place(rng.uniform(-4.5, 4.5), rng.uniform(0, 9))
                for w in ("landing", "setter_start", "pass_target")
            },
            "setter_faces": rng.choice(["left", "right"]),
        }
        yield f"random places {n}", "geometry", request
    here = place(1.0, 2.0)
    yield "no way at all", "geometry", dict.fromkeys(("spot", "landing", "setter_start", "pass_target"), here)


def flights() -> Iterator[Named]:
    worked = fixture("flight/worked_examples.json")
    serves = [
        (s["speed_m_s"], worked["contact_height_m"], worked["spin_rev_s"], s["range_m"])
        for s in worked["serves"]
    ]
    serves += [(s["speed_m_s"], s["contact_height_m"], 0.0, s[model]) for model in DRAG_MODELS
               for s in fixture("flight/longest_ranges.json")["serves"]]  # fmt: skip
    hard = fixture("flight/hard_jump_topspin.json")
    serves += [(hard["speed_m_s"], hard["contact_height_m"], hard["spin_rev_s"], 16.0)]
    serves += [(s.speed_m_s, s.contact_height_m, s.spin_rev_s, 15.5) for s in STOCK_SERVERS]
    for n, (speed, height, spin, along) in enumerate(serves):
        for model in DRAG_MODELS:
            launch = {"speed_m_s": speed, "contact_height_m": height, "spin_rev_s": spin, "drag_model": model}
            kind = "jump_topspin" if spin > 1 else "jump_float"
            request = launch | {"kind": kind, "range_m": along, "net_height_m": 2.24}
            yield f"serve {n} by {model}", "flight", request


def calls() -> Iterator[Named]:
    rng = random.Random(SEED)
    for n in range(36):
        level, kind = SERVERS[n % len(SERVERS)]
        ceiling = [{}, {"use_start_ceiling": True}, {"error_ceiling": round(rng.uniform(0.02, 0.35), 3)}][
            n % 3
        ]
        yield f"call {n}: {level} {kind}", "call", {
            "level": level, "server": {"kind": kind}, "opponent": opponent(rng, n), "policy": ceiling
        }  # fmt: skip
    short = {"kind": "jump_float", "has_short_float": True, "spots": ["left", place(3.3, -9.3)]}
    yield (
        "two kinds from two spots",
        "call",
        {"level": "college", "server": short, "opponent": {"setter_position": 6}},
    )
    own = {"speeds_m_s": [15.5, 13.25], "scatter": {"across_m": 1.1, "along_m": 1.4}, "spots": ["middle"]}
    yield "a measured server", "call", {"server": own, "opponent": {"setter_position": 2}, "drag_model": "A"}
    serve = {"kind": "jump_float", "speeds_m_s": [16.0], "level": "college", "next_job": 5}
    request = {"level": "high_school", "opponent": {"setter_position": 3}}
    player = {"reach_m": 2.31, "serves": [serve]}
    asked = {"request": request, "opponent": None, "player": player, "kind": None}
    yield "what is kept of a server", "prepared", asked
    also = {"kind": "standing_float", "spots": ["middle", "right_corner"], "error_ceiling": 0.1}
    yield "the best of two serves", "chosen", {**asked, "player": {**player, "serves": [also, serve]}}
    yield "a run to her next job", "call", {**request, "server": {"next_job": 5}}


def rosters() -> Iterator[Named]:
    """One rotation of a call book, what a missing corner costs, formations in order and out of it."""
    seen = formation({"setter_position": 3, "formation": "four"})
    theirs = {
        "name": "Fen Crossing",
        "lineup": [3, 8, 12, 5, 17, 10],
        "setters": [12],
        "system": "one_setter",
        "pass_target": place(-0.5, 1.5),
        "ratings": [{"number": 5, "pass_grade": 1.2, "passes": 55}, {"number": 17, "rating": "strong"}],
        "formations": [seen],
    }
    own = [{"kind": "standing_float", "spots": ["middle", "left"]}]
    server = {"number": 4, "reach_m": 2.2, "serves": own}
    asked = {"level": "high_school", "opponent": theirs, "servers": [server], "lineup": [4, 11, 7, 2, 15, 9]}
    yield "one turn of a book", "book", {**asked, "serving_first": "us", "turn": 1}
    yield "corners", "corners", {"level": "high_school", "server": server, "opponents": [theirs]}
    yield "a stock formation", "formation", {"setter_position": 2, "formation": "five"}
    crossed = [{**player, "x_m": -player["x_m"]} for player in seen["players"]]
    yield "out of order", "formation", {"setter_position": 3, "players": crossed}
    yield "five players", "formation", {"setter_position": 3, "players": crossed[:5]}
    for to in (1, 5):
        yield f"copied to {to}", "copied", {"formation": seen, "to": to}


def opponent(rng: random.Random, n: int) -> dict[str, Any]:
    """Return receivers: a stock formation, or passers moved by hand, some rated."""
    position = 1 + n % 6
    if n % 2 == 0:
        return {"setter_position": position, "formation": rng.choice(["two", "three", "four", "five"])}
    passers = [
        place(x + rng.uniform(-0.4, 0.4), rng.uniform(5.6, 7.4))
        | (
            {"pass_grade": round(rng.uniform(1.2, 2.6), 2), "passes": rng.randint(3, 90)}
            if rng.random() < 0.5
            else {}
        )
        for x in (-2.9, 0.0, 2.9)
    ]
    target = place(rng.uniform(-2.0, 0.5), rng.uniform(0.6, 2.0))
    faces = rng.choice(["left", "right"])
    return {
        "setter_start": place(-3.2, 4.4),
        "passers": passers,
        "pass_target": target,
        "setter_faces": faces,
    }


def aims() -> Iterator[Named]:
    rng = random.Random(SEED)
    for n in range(8):
        level, kind = SERVERS[n % 3]
        target = place(rng.uniform(-4.4, 4.4), rng.uniform(6.0, 8.0))
        yield f"aim {n}", "aimed", {
            "level": level, "server": {"kind": kind, "spots": ["middle"]},
            "opponent": {"setter_position": 1 + n % 6}, "target": target,
        }  # fmt: skip


def receptions() -> Iterator[Named]:
    for case in fixture("reception/refusals.json")["cases"]:
        passers = [place(x, y) | ({"position": p[0]} if p else {}) for x, y, *p in case["passers"]]
        setter = {"setter_position": case["setter"], "setter_start": place(*case["place"])}
        request = {"opponent": setter | {"passers": passers}, "server": {"spots": ["middle"]}}
        yield f"{case['fivb']}: {case['says']}", "call", request


def refusals() -> Iterator[Named]:
    setter = {"opponent": {"setter_position": 4}}
    far = {"server": {"spots": [place(0.0, -14.0)]}}
    yield "nobody knows the setter", "call", {"level": "college"}
    yield "a spot far behind", "call", setter | far
    yield "a contact past the net", "call", setter | {"server": {"contact_inside_m": 9.0}}
    yield (
        "a target beside the court",
        "call",
        {"opponent": {"setter_position": 4, "pass_target": place(9, 9)}},
    )
    yield (
        "a pace that reaches nothing",
        "call",
        setter | {"server": {"speeds_m_s": [5.0], "spots": ["middle"]}},
    )
    yield (
        "an aim out of reach",
        "aimed",
        setter | {"server": {"spots": ["middle"]}, "target": place(0.0, 0.2)},
    )
    for says, event, _, _ in REFUSED:
        yield says, "replay", {"events": [event]}
    yield "a profile nobody knows", "review", {"events": [], "profile": "beach"}
    yield "a side that is none", "review", {"events": [], "side": "both"}
    yield "a set that is none", "review", {"events": [], "set_number": 10}
    yield "no events", "replay", {}


def matches() -> Iterator[Named]:
    for case in CASES:
        (given,) = case.values
        request = {"profile": given.get("profile"), "events": with_envelopes(given["events"])}
        yield str(case.id), "replay", request
        yield str(case.id), "review", request
    for seed in range(4):
        log = script(seed, sets=1 + seed)
        yield f"match {seed}", "replay", {"events": log}
        yield f"serves of match {seed}", "serves", {"events": log, "name": ["Cup", '=a,"b"', None][seed % 3]}
        for side in ("us", "them"):
            for set_number in (None, 1, 2):
                yield (
                    f"match {seed}, {side}",
                    "review",
                    {"events": log, "side": side, "set_number": set_number},
                )


def every() -> list[Named]:
    """Return all questions; those that JSON cannot hold are left out."""
    stock: list[Named] = [("stock", "stock", {})]
    groups = (geometries(), flights(), calls(), aims(), receptions(), rosters(), refusals(), matches(), stock)
    return [one for group in groups for one in group if is_json(one[2])]


def is_json(request: dict[str, Any]) -> bool:
    try:
        json.dumps(request, allow_nan=False)
    except ValueError:
        return False
    return True


RULES_OF_A_LOG = set(LOG_RULES) - {"log_length"}
