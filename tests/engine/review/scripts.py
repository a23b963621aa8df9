"""Logs of invented matches, as devices would send them: seeded, and with all that makes counting hard:
late parts, parts that contradict each other, corrections, undos, replays, penalties, a wrong server."""

from __future__ import annotations

from random import Random
from typing import Any

from cornerwise.engine.match.logbook import entry_id

OURS, THEIRS, LIBERO, BENCH = [4, 11, 7, 2, 15, 9], [3, 8, 12, 5, 17, 10], 13, [21, 22]
KINDS = ["standing_float", "jump_float", "jump_topspin"]


class Script:
    """A log being written."""

    def __init__(self, seed: int) -> None:
        self.dice = Random(seed)
        self.log: list[dict[str, Any]] = []
        self.write("match_opened", 0, 0, us="Quarry Lane", them="Harbour Street")

    def write(self, event_type: str, set_number: int, rally_number: int, **fields: Any) -> str:
        counter = len(self.log)
        where = {"set_number": set_number, "rally_number": rally_number}
        known = {name: value for name, value in fields.items() if value is not None}
        made = {"id": entry_id(counter), "device": "phone", "counter": counter}
        self.log.append({**made, **where, "type": event_type, **known})
        return self.log[-1]["id"]

    def maybe(self, share: float, value: Any) -> Any:
        return value if self.dice.random() < share else None

    def place(self, low: float, high: float) -> dict[str, float]:
        return {"x_m": round(self.dice.uniform(-4.4, 4.4), 1), "y_m": round(self.dice.uniform(low, high), 1)}

    def parts(self) -> dict[str, Any]:
        return {
            "grade": self.maybe(0.6, self.dice.randint(0, 3)),
            "error": self.maybe(0.08, self.dice.choice(["net", "long", "wide", "foot"])),
            "first_ball": self.maybe(0.2, self.dice.choice(["attack", "free_ball", "overpass", "none"])),
            "passer": self.maybe(0.5, self.dice.choice(THEIRS)),
            "landing": self.maybe(0.4, self.place(0.2, 8.9)),
            "spot": self.maybe(0.3, self.place(-9.3, -9.2)),
            "kind": self.maybe(0.2, self.dice.choice(KINDS)),
            "speed_m_s": self.maybe(0.1, float(self.dice.randint(12, 22))),
        }

    def start(self, set_number: int) -> None:
        lineup, setters = self.dice.sample(OURS, 6), self.dice.choice([[4], []])
        us = {"lineup": lineup, "liberos": [LIBERO], "setters": setters}
        setter = self.maybe(0.8, self.dice.randint(1, 6))
        theirs = {"lineup": self.maybe(0.3, THEIRS), "setter_position": setter}
        side = self.dice.choice(["us", "them"])
        self.write("set_started", set_number, 1, serving_first=side, us=us, them=theirs)

    def before(self, s: int, r: int) -> None:
        dice = self.dice
        if dice.random() < 0.08:
            enters, leaves = dice.choice([*BENCH, *OURS[:2]]), dice.choice(OURS + BENCH)
            if enters != leaves:
                self.write("substituted", s, r, side="us", enters=enters, leaves=leaves)
        if dice.random() < 0.2:
            self.write("libero_replaced", s, r, side="us", enters=LIBERO, leaves=dice.choice(OURS))
        elif dice.random() < 0.2:
            self.write("libero_replaced", s, r, side="us", leaves=LIBERO, enters=None)
        if dice.random() < 0.03:
            to, rotation = dice.choice(["us", "them"]), dice.random() < 0.7
            self.write("penalty_point_given", s, r, to=to, rotation=rotation)
        if dice.random() < 0.03:
            self.write("time_out_taken", s, r, side=dice.choice(["us", "them"]))

    def rally(self, s: int, r: int) -> None:
        dice = self.dice
        self.before(s, r)
        if dice.random() < 0.6:
            spot, target = self.place(-9.3, -9.2), self.place(0.2, 8.9)
            self.write("call_shown", s, r, spot=spot, target=target, kind=dice.choice(KINDS), keep=0.4)
        if dice.random() < 0.3:
            self.write("server_seen", s, r, side="them", number=dice.choice(THEIRS))
        if dice.random() < 0.3:
            self.write("serve_noted", s, r, **{**self.parts(), "first_ball": "attack"})
        kind = dice.random()
        if kind < 0.03:
            self.write("rally_replayed", s, r)
        elif kind < 0.05:
            side, since = dice.choice(["us", "them"]), self.maybe(0.5, dice.randint(1, r))
            self.write("wrong_server_called", s, r, side=side, found="at_service", from_rally=since)
        else:
            winner = dice.choice(["us", "them"])
            ending = self.maybe(0.15, dice.choice(["ace", "service_error"]))
            if dice.random() < 0.1:  # a slip, undone
                slip = self.write("rally_won", s, r, winner=winner, ending="ace")
                self.write("retracted", s, r, event_id=slip)
            self.write("rally_won", s, r, winner=winner, ending=ending, **self.parts())
        if dice.random() < 0.1:  # remembered late
            earlier, grade = dice.randint(1, r), dice.randint(0, 3)
            self.write("serve_noted", s, earlier, passer=dice.choice(THEIRS), grade=grade)
        if dice.random() < 0.04:
            self.correct(s)

    def correct(self, set_number: int) -> None:
        """Give an earlier rally of the set to the other side."""
        taken_back = {e["event_id"] for e in self.log if e["type"] == "retracted"}
        won = [
            e for e in self.log
            if e["type"] == "rally_won" and e["set_number"] == set_number and e["id"] not in taken_back
        ]  # fmt: skip
        if won:
            old = self.dice.choice(won)
            self.write("retracted", set_number, old["rally_number"], event_id=old["id"])
            winner = "them" if old["winner"] == "us" else "us"
            self.write("rally_won", set_number, old["rally_number"], winner=winner)


def script(seed: int, sets: int = 3, rallies: int = 40) -> list[dict[str, Any]]:
    """Return the log of an invented match."""
    pen = Script(seed)
    for set_number in range(1, sets + 1):
        pen.start(set_number)
        for rally_number in range(1, rallies + 1):
            pen.rally(set_number, rally_number)
    return pen.log
