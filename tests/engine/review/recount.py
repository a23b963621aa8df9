"""A second count of a match's serves, from the raw log: slow, obvious, and without the engine.

It plays each set through once more with a plain list of six places a side (FIVB 12.2.2: the receiving side
that wins a rally rotates and serves; 7.4.1: positions), writes down every serve, and then counts each table
by going through all serves for every cell. It knows the events that `scripts` writes, and no others.
"""

from __future__ import annotations

from typing import Any

SPOTS = ["left_corner", "left", "middle", "right", "right_corner"]
DEPTHS = ["short", "middle", "deep"]
BEFORE, IN, RESULT = 1, 2, 3
PHASES = {
    "set_started": 0,
    "substituted": BEFORE,
    "libero_replaced": BEFORE,
    "time_out_taken": BEFORE,
    "penalty_point_given": BEFORE,
    "call_shown": IN,
    "server_seen": IN,
    "pass_graded": IN,
    "serve_noted": IN,
    "rally_won": RESULT,
    "rally_replayed": RESULT,
    "wrong_server_called": RESULT,
}
PARTS = ("grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s")


def standing(log: list[dict]) -> list[dict]:
    """Return what nobody has taken back."""
    gone, kept = set(), []
    for event in reversed(log):
        if event["id"] in gone:
            continue
        if event["type"] == "retracted":
            gone.add(event["event_id"])
        else:
            kept.append(event)
    return kept[::-1]


def other(side: str) -> str:
    return "them" if side == "us" else "us"


class Side:
    """Six places; the first is position 1 now."""

    def __init__(self, sheet: dict) -> None:
        lineup = sheet.get("lineup") or [None] * 6
        self.places = [{"regular": n, "libero": None, "marked": False} for n in lineup]
        self.setters = sheet.get("setters") or []
        self.liberos = sheet.get("liberos") or []
        if sheet.get("setter_position"):
            self.places[sheet["setter_position"] - 1]["marked"] = True

    def on_court(self) -> list[int | None]:
        return [p["regular"] if p["libero"] is None else p["libero"] for p in self.places]

    def rotate(self) -> None:
        self.places = self.places[1:] + self.places[:1]

    def server(self) -> int | None:
        return self.on_court()[0]

    def setter_position(self) -> int | None:
        by_number = [i + 1 for i, n in enumerate(self.on_court()) if n is not None and n in self.setters]
        by_mark = [i + 1 for i, p in enumerate(self.places) if p["marked"]]
        return min(by_number or by_mark or [None])

    def in_order(self, number: int) -> bool:
        return any(number in (p["regular"], p["libero"]) for p in self.places)

    def substitute(self, event: dict) -> None:
        enters, leaves = event["enters"], event["leaves"]
        if {enters, leaves} & set(self.liberos) or self.in_order(enters):
            return
        for place in self.places:
            if place["regular"] == leaves:
                place["regular"] = enters
                return

    def replace_libero(self, event: dict) -> None:
        enters, leaves = event.get("enters"), event.get("leaves")
        goes_to = [p for p in self.places if enters is not None and p["regular"] == leaves]
        if enters is not None and not goes_to:
            return
        for place in self.places:
            if place["libero"] is not None and place["libero"] in (enters, leaves):
                place["libero"] = None
        for place in goes_to:
            place["libero"] = enters

    def see_server(self, number: int) -> None:
        if self.places[0]["regular"] is None and not self.in_order(number):
            self.places[0]["regular"] = number


def sets_of(log: list[dict]) -> list[dict[str, Any]]:
    """Return each set of a log: its points, and its rallies with everything that was noted of them."""
    events = [e for e in standing(log) if e["type"] in PHASES]
    numbers = sorted({e["set_number"] for e in events})
    return [play([e for e in events if e["set_number"] == n], n) for n in numbers]


def play(events: list[dict], set_number: int) -> dict[str, Any]:
    in_order = sorted(
        events, key=lambda e: (0 if e["type"] == "set_started" else e["rally_number"], PHASES[e["type"]])
    )
    start, *rest = in_order
    sides = {"us": Side(start.get("us") or {}), "them": Side(start.get("them") or {})}
    serving = start["serving_first"]
    points = {"us": 0, "them": 0}
    rallies: list[dict[str, Any]] = []
    noted: dict[str, Any] = {"rally": 1}
    places = {"us": 0, "them": 0}

    def gains(side: str) -> None:
        nonlocal serving
        if side != serving:
            sides[side].rotate()
            places[side] = (places[side] + 1) % 6
            serving = side

    def end(winner: str | None, ending: str | None) -> None:
        nonlocal noted
        rallies.append({
            **dict.fromkeys(PARTS), "called": None, **noted, "set": set_number,
            "serving": serving, "server": sides[serving].server(), "place": places[serving],
            "us": sides["us"].setter_position(), "them": sides["them"].setter_position(),
            "points": dict(points), "winner": winner, "ending": ending, "rotations": dict(places),
            "cancelled": False,
        })  # fmt: skip
        noted = {"rally": noted["rally"] + 1}

    for event in rest:
        kind = event["type"]
        if kind in ("pass_graded", "serve_noted", "rally_won"):
            for part in PARTS:
                if event.get(part) is not None:
                    noted.setdefault(part, event[part])
        if kind == "call_shown":
            noted["called"] = event
        elif kind == "server_seen" and event["side"] == serving:
            sides[serving].see_server(event["number"])
        elif kind == "substituted":
            sides[event["side"]].substitute(event)
        elif kind == "libero_replaced":
            sides[event["side"]].replace_libero(event)
        elif kind == "penalty_point_given":
            points[event["to"]] += 1
            if event["rotation"]:
                gains(event["to"])
        elif kind == "rally_won":
            end(event["winner"], event.get("ending"))
            points[event["winner"]] += 1
            gains(event["winner"])
        elif kind == "rally_replayed":
            end(None, "replayed")
        elif kind == "wrong_server_called":
            winner = other(event["side"])
            end(winner, "wrong_server")
            points[winner] += 1
            gains(winner)
            for rally in rallies:
                if rally["winner"] == event["side"] and rally["rally"] >= event.get("from_rally", 1000):
                    points[event["side"]] -= not rally["cancelled"]
                    rally["cancelled"] = True
    return {"set_number": set_number, "points": points, "rallies": rallies}


def serve_of(rally: dict[str, Any], side: str) -> dict[str, Any]:
    """Return a counted rally with what a serve came to."""
    won = rally["winner"] == side
    ending = rally["ending"] or ("ace" if won and rally["grade"] == 0 else None)
    ending = ending or ("service_error" if not won and rally["error"] else None)
    missed, ace = not won and ending == "service_error", won and ending == "ace"
    grade = None if missed else 0 if ace and rally["grade"] is None else rally["grade"]
    return {**rally, "won": won, "missed": missed, "ace": ace, "allowed": grade}


def zone(place: dict) -> int:
    column = 0 if place["x_m"] < -1.5 else 2 if place["x_m"] > 1.5 else 1  # 3 m each, their right first
    return ([2, 3, 4] if place["y_m"] <= 4.5 else [1, 6, 5])[column]


def depth(place: dict) -> str:
    return "short" if place["y_m"] < 3 else "deep" if place["y_m"] > 6 else "middle"


def spot_name(place: dict) -> str:
    x = place["x_m"]
    return SPOTS[(x > -3.5) + (x > -1.0) + (x >= 1.0) + (x >= 3.5)]


def agreement(serve: dict) -> str:
    called = serve["called"]
    if called is None:
        return "no_call"
    if serve["spot"] is None and serve["landing"] is None:
        return "not_known"
    if serve["spot"] is not None and spot_name(serve["spot"]) != spot_name(called["spot"]):
        return "elsewhere"
    if serve["landing"] is not None and zone(serve["landing"]) != zone(called["target"]):
        return "elsewhere"
    return "as_called"


def counted(serves: list[dict], of: int, turns: list[list[dict]] | None) -> dict[str, Any]:
    n = len(serves)

    def share(count: int, of: int = n) -> dict[str, Any]:
        return {"count": count, "of": of, "share": None if of == 0 else count / of}

    def mean(values: list[int]) -> dict[str, Any]:
        return {"mean": None if not values else sum(values) / len(values), "of": len(values)}

    missed = [s for s in serves if s["missed"]]
    points = None
    if turns is not None:
        # A turn in which a setter was exchanged lies in two groups: each counts its own part of it.
        parts = [[s for s in turn if s in serves] for turn in turns]
        points = [sum(s["won"] for s in part) for part in parts if part]
    return {
        "serves": share(n, of),
        "errors": share(len(missed)),
        "errors_by_kind": {
            **{k: len([s for s in missed if s["error"] == k]) for k in ("net", "long", "wide", "foot")},
            "unknown": len([s for s in missed if s["error"] is None]),
        },
        "aces": share(len([s for s in serves if s["ace"]])),
        "won": share(len([s for s in serves if s["won"]])),
        "pass_grade": mean([s["allowed"] for s in serves if s["allowed"] is not None]),
        "points_per_turn": None if points is None else mean(points),
        "longest_run": None if points is None else max(points, default=0),
    }


def serving_turns(sets: list[dict], side: str) -> list[list[dict]]:
    """Return the serving turns: serves of one player in a row, none lost but the last."""
    turns: list[list[dict]] = []
    for one in sets:
        going_on = None
        for rally in one["rallies"]:
            if rally["serving"] != side:
                going_on = None
                continue
            if rally["ending"] in ("replayed", "wrong_server") or rally["cancelled"]:
                continue
            server = (rally["server"], rally["place"])
            if going_on != server:
                turns.append([])
            turns[-1].append(serve_of(rally, side))
            going_on = server if rally["winner"] == side else None
    return turns


def recount(log: list[dict], side: str = "us", set_number: int | None = None) -> dict[str, Any]:
    """Return the review of a log, counted anew."""
    sets = [s for s in sets_of(log) if set_number in (None, s["set_number"])]
    turns = serving_turns(sets, side)
    serves = [serve for turn in turns for serve in turn]

    def rows(names: list[str], cells: list[tuple], of_serve, in_turns: bool = False) -> list[dict[str, Any]]:
        found = []
        for cell in cells:
            here = [s for s in serves if of_serve(s) == cell]
            if here:
                said = counted(here, len(serves), turns if in_turns else None)
                found.append({**dict(zip(names, cell, strict=True)), **said})
        return found

    spots = [*SPOTS, None]
    targets = [(z, d) for z in range(1, 7) for d in DEPTHS] + [(None, None)]

    def spot(s: dict) -> str | None:
        place = s["spot"] or (s["called"] and s["called"]["spot"])
        return spot_name(place) if place else None

    def target(s: dict) -> tuple:
        place = s["called"]["target"] if s["called"] else s["landing"]
        return (zone(place), depth(place)) if place else (None, None)

    numbers = [(n,) for n in (*range(100), None)]
    positions = [(p,) for p in (*range(1, 7), None)]
    passed = [s for s in serves if s["passer"] is not None and s["allowed"] is not None]
    mine = [r for s in sets for r in s["rallies"] if r["serving"] == side]
    return {
        "all": counted(serves, len(serves), turns),
        "by_server": rows(["number"], numbers, lambda s: (s["server"],), True),
        "by_our_rotation": rows(["setter_position"], positions, lambda s: (s["us"],), True),
        "by_their_rotation": rows(["setter_position"], positions, lambda s: (s["them"],), True),
        "by_spot": rows(["spot"], [(s,) for s in spots], lambda s: (spot(s),)),
        "by_target": rows(["zone", "depth"], targets, target),
        "by_spot_and_target": rows(
            ["spot", "zone", "depth"],
            [(s, *t) for s in spots for t in targets],
            lambda s: (spot(s), *target(s)),
        ),
        "called": [
            {"served": name, **counted([s for s in serves if agreement(s) == name], len(serves), None)}
            for name in ("as_called", "elsewhere", "not_known", "no_call")
        ],
        "by_passer": [
            {"number": n, "pass_grade": {"mean": sum(grades) / len(grades), "of": len(grades)}}
            for n in range(100)
            if (grades := [s["allowed"] for s in passed if s["passer"] == n])
        ],
        "not_counted": {
            "replayed": len([r for r in mine if r["ending"] == "replayed"]),
            "wrong_server": len([r for r in mine if r["ending"] == "wrong_server"]),
            "cancelled": len([r for r in mine if r["cancelled"] and r["ending"] != "wrong_server"]),
            "undecided": 0,
        },
        "sets": [
            {
                "set_number": s["set_number"],
                "points": s["points"],
                "rallies": [
                    {
                        "rally_number": r["rally"],
                        "serving": r["serving"],
                        "server": r["server"],
                        "points_before": r["points"],
                        "rotations": r["rotations"],
                        "setter_positions": {"us": r["us"], "them": r["them"]},
                        "winner": r["winner"],
                        "cancelled": r["cancelled"],
                    }
                    for r in s["rallies"]
                ],
            }
            for s in sets
        ],
    }
