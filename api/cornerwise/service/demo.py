"""The match to try: an invented one between invented teams, in its third set, the same every time.

Its calls are the engine's own and its serves end as often as those calls say, so that the review of the
demo looks like that of a real match. The dice are seeded.
"""

from __future__ import annotations

from functools import cache
from random import Random
from typing import Any

from cornerwise.engine import bridge
from cornerwise.engine.court import Point
from cornerwise.engine.match import evolve, format_entry
from cornerwise.engine.match.events import (
    CallShown,
    Entry,
    Event,
    LiberoReplaced,
    MatchOpened,
    Parts,
    PassGraded,
    RallyWon,
    Retracted,
    ServerSeen,
    SetStarted,
    Substituted,
    TeamSheet,
    TimeOutTaken,
)
from cornerwise.engine.match.logbook import entry_id
from cornerwise.engine.match.report import format_state
from cornerwise.engine.match.score import set_is_over
from cornerwise.engine.match.state import START
from cornerwise.engine.match.terms import SERVE_ERRORS, Side

from .arrays import ARRAYS

NAME = "A match to try"
OUR_NAME, THEIR_NAME, LEVEL = "Quarry Lane", "Harbour Street", "high_school"
SETTER, MIDDLES, LIBERO, SERVING_SUBSTITUTE = 4, (7, 9), 13, 21
US = TeamSheet((SETTER, 11, 7, 2, 15, 9), liberos=(LIBERO,), setters=(SETTER,))
THEM = TeamSheet(setter_position=6)  # all that was known before the first serve
THEIR_ORDER = (3, 8, 12, 5, 17, 10)  # 10 sets
THEIR_OUTSIDES, THEIR_MIDDLES = (8, 17), (3, 5)  # they have no libero: the middle in the back row passes
BACK_ROW = (1, 6, 5)
WON_AFTER_GRADE = {1: 0.62, 2: 0.44, 3: 0.33}  # chosen, like all chances here
THEY_MISS, THEY_ACE, WE_SIDE_OUT = 0.09, 0.05, 0.6


def log() -> list[dict[str, Any]]:
    """Return the demo's events, as a device would have sent them."""
    book = Book(Random(2026))
    book.write(MatchOpened(us=OUR_NAME, them=THEIR_NAME, level=LEVEL))
    for serving_first in ("us", "them", "us"):
        book.write(SetStarted(serving_first, US, THEM))
        while not set_is_over(book.state) and not (book.goes_on() and book.state.serving == "us"):
            book.rally()
    return [format_entry(entry) for entry in book.entries]


@cache
def call_against(setter_position: int) -> dict[str, Any]:
    """Return the engine's call against a setter in a position."""
    request = {"level": "high_school", "opponent": {"setter_position": setter_position}}
    best: dict[str, Any] = bridge.call(request, ARRAYS)["best"]
    return best


class Book:
    """The log as it is written, and the state it has come to."""

    def __init__(self, dice: Random) -> None:
        self.dice, self.state = dice, START
        self.entries: list[Entry] = []

    def write(self, event: Event, *, counts: bool = True) -> str:
        """Log an event; one that does not count is taken back right after."""
        set_number, rally_number = self.state.set_number, self.state.rally_number
        if isinstance(event, SetStarted):
            set_number, rally_number = set_number + 1, 1
        event_id = entry_id(len(self.entries))
        entry = Entry(event_id, "demo", len(self.entries), set_number, rally_number, event)
        self.entries.append(entry)
        if counts:
            self.state = evolve(self.state, entry)
        return event_id

    def goes_on(self) -> bool:
        """Return whether this is where the demo is handed over: in the third set, at some 14 all."""
        points = self.state.points
        return self.state.set_number == 3 and points.us + points.them >= 28

    def chance(self, p: float) -> bool:
        return self.dice.random() < p

    def rally(self) -> None:
        """Play one rally, with what comes before it."""
        self.before_the_serve()
        if self.state.serving == "us":
            self.our_serve()
        else:
            self.their_serve()

    def before_the_serve(self) -> None:
        state = self.state
        us = format_state(state)["sides"]["us"]
        stands = {player["number"]: player["position"] for player in us["lineup"]}
        if us["libero_must_leave"]:
            self.write(LiberoReplaced("us", leaves=LIBERO))
        elif LIBERO not in stands:
            for player in (*MIDDLES, SERVING_SUBSTITUTE):
                if stands.get(player) in (5, 6) or (stands.get(player) == 1 and state.serving == "them"):
                    self.write(LiberoReplaced("us", enters=LIBERO, leaves=player))
        if state.set_number == 2 and stands.get(7) == 1 and state.serving == "us" and 7 in us["started"]:
            if not us["substitutions_used"]:
                self.write(Substituted("us", SERVING_SUBSTITUTE, 7))
        elif stands.get(SERVING_SUBSTITUTE) == 4:
            self.write(Substituted("us", 7, SERVING_SUBSTITUTE))
        ahead = state.points.us - state.points.them
        if abs(ahead) == 4 and not state.time_out_by:
            side: Side = "them" if ahead > 0 else "us"
            if state.teams.of(side).time_outs == 0:
                self.write(TimeOutTaken(side))

    def our_serve(self) -> None:
        them = format_state(self.state)["sides"]["them"]
        call = call_against(them["setter_position"])
        spot, target = (Point(call[name]["x_m"], call[name]["y_m"]) for name in ("spot", "target"))
        odds = {name: call[name] for name in ("speed_m_s", "keep", "p_error", "p_ace")}
        self.write(CallShown(spot, target, call["kind"], **odds, grades=tuple(call["grades"])))
        if self.chance(call["p_error"]):
            error = self.dice.choice(SERVE_ERRORS[:3])
            self.write(RallyWon("them", "service_error", Parts(error=error)))
            return
        [grade] = self.dice.choices(range(4), call["grades"])
        landing = self.landing(target)
        if grade == 0:
            self.write(RallyWon("us", "ace", Parts(landing=landing)))
            return
        passer = self.dice.choice(self.their_passers())
        self.write(PassGraded(Parts(grade=grade, passer=passer, landing=landing)))
        won = self.chance(WON_AFTER_GRADE[grade])
        if self.state.set_number == 1 and self.state.rally_number == 12:  # a slip of the thumb, undone
            slip = self.write(RallyWon("them" if won else "us"), counts=False)
            self.write(Retracted(slip))
        self.write(RallyWon("us" if won else "them"))

    def their_passers(self) -> tuple[int, ...]:
        rotated = self.state.teams.them.rotation
        back = {THEIR_ORDER[(rotated + position - 1) % 6] for position in BACK_ROW}
        return (*THEIR_OUTSIDES, *(number for number in THEIR_MIDDLES if number in back))

    def landing(self, target: Point) -> Point | None:
        """Return where the ball landed, for those serves where somebody noted it."""
        if self.chance(0.5):
            return None
        across, along = (self.dice.gauss(0.0, 0.8) for _ in "xy")
        x_m, y_m = min(max(target.x_m + across, -4.4), 4.4), min(max(target.y_m + along, 0.5), 8.9)
        return Point(round(x_m, 1), round(y_m, 1))

    def their_serve(self) -> None:
        team = self.state.teams.them
        if team.places[team.rotation].number is None:
            self.write(ServerSeen("them", THEIR_ORDER[team.rotation]))
        if self.chance(THEY_MISS):
            self.write(RallyWon("us", "service_error"))
        elif self.chance(THEY_ACE):
            self.write(RallyWon("them", "ace"))
        else:
            self.write(RallyWon("us" if self.chance(WE_SIDE_OUT) else "them"))
