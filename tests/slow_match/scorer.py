"""A rough scorer: writes most of what it logs as it could have happened, and slips."""

SIDES = ("us", "them")
OTHER = {"us": "them", "them": "us"}
KINDS = (
    "underhand",
    "plain_overhand",
    "standing_float",
    "short_float",
    "jump_float",
    "standing_topspin",
    "jump_topspin",
)
SYSTEMS = ("one_setter", "two_setters_back_sets", "two_setters_front_sets")
LEVELS = ("under_14", "high_school", "college", "elite_women", "elite_men")
NUMBERS = range(0, 13)
FOCUSES = ("substitution", "libero", "correction", "wrong_server", "end")


class Scorer:
    """Writes a log while a rough match goes on."""

    def __init__(self, rng, slips, profile, focus):
        self.rng = rng
        self.focus = focus  # what happens most between two rallies, or None
        self.slips = slips  # how often something odd happens, 0 to 1
        self.rules = profile if isinstance(profile, dict) else {}
        self.log = []
        self.set_number = 0
        self.rally = 1
        self.serving = None
        self.serving_first = None
        self.points = {"us": 0, "them": 0}
        self.court = {side: [None] * 6 for side in SIDES}  # by position, 1 first
        self.bench = {side: list(NUMBERS) for side in SIDES}
        self.liberos = {side: [] for side in SIDES}
        self.stands_for = {side: {} for side in SIDES}  # libero -> regular player
        self.changed = {side: [] for side in SIDES}  # (who left, who entered)

    # small choices

    def odd(self, share=1.0):
        """Whether a slip happens here."""
        return self.rng.random() < self.slips * share

    def maybe(self, share, value):
        """The value, or None."""
        return value if self.rng.random() < share else None

    def side(self):
        """Either side."""
        return self.rng.choice(SIDES)

    def anybody(self):
        """Any number."""
        return self.rng.choice(NUMBERS)

    def on_court(self, side):
        """A number on court, or anybody when that is unknown or a slip."""
        known = [number for number in self.court[side] if number is not None]
        return self.anybody() if not known or self.odd() else self.rng.choice(known)

    def off_court(self, side):
        """A number from the bench, or anybody when a slip."""
        known = [n for n in self.bench[side] if n not in self.court[side] and n not in self.liberos[side]]
        return self.anybody() if not known or self.odd() else self.rng.choice(known)

    def point(self):
        """Any point of the court."""
        return {"x_m": self.rng.randint(-4, 4), "y_m": self.rng.randint(-9, 9)}

    # the log

    def put(self, event_type, /, **fields):
        """Log an event of the present rally; fields that are None are left out or null."""
        rally = self.rally
        if self.odd(0.04):
            rally = max(1, rally + self.rng.choice([-2, -1, 1, 2]))
        kept = {key: value for key, value in fields.items() if value is not None or self.rng.random() < 0.2}
        event = {
            "id": self.new_id(),
            "device": self.rng.choice(["bench", "bench", "bench", "stand", "table"]),
            "counter": len(self.log),
            "set_number": max(1, self.set_number),
            "rally_number": rally,
            "type": event_type,
            **kept,
        }
        self.log.append(event)
        if self.odd(0.15):
            second = event | {"id": self.new_id(), "device": self.rng.choice(["bench", "stand", "table"])}
            self.log.append(second)
        return event

    def new_id(self):
        """A UUIDv7 from the seed."""
        digits = f"{len(self.log):012x}7{self.rng.getrandbits(12):03x}8{self.rng.getrandbits(60):015x}"
        return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))

    # sets

    def open_match(self, profile):
        """The match is opened."""
        self.put(
            "match_opened",
            profile=profile,
            us=self.maybe(0.5, "Harbour"),
            them=self.maybe(0.5, "Mill Lane"),
            level=self.maybe(0.5, self.rng.choice(LEVELS)),
        )
        self.log[-1] |= {"set_number": self.rng.choice([0, 1]), "rally_number": self.rng.choice([0, 1])}

    def open_set(self):
        """A set is started, or simply goes on."""
        self.set_number += 1 if not self.odd(0.05) else 2
        self.rally = 1
        self.points = {"us": 0, "them": 0}
        first_before = self.serving_first or self.side()
        self.serving_first = first_before if self.odd(0.3) else OTHER[first_before]
        self.serving = self.serving_first
        teams = {side: self.team(side) for side in SIDES}
        if self.odd(0.15):
            return
        self.put("set_started", serving_first=self.serving, **teams)
        self.log[-1]["rally_number"] = self.rng.choice([0, 1])
        if self.odd(0.1):
            self.put("set_started", serving_first=self.side(), **teams)

    def team(self, side):
        """A line-up; the rough scorer takes it over."""
        numbers = self.rng.sample(NUMBERS, 10)
        lineup, rest = numbers[:6], numbers[6:]
        self.court[side], self.bench[side] = list(lineup), list(NUMBERS)
        self.stands_for[side], self.changed[side] = {}, []
        if self.odd(0.15):
            return None
        given = [None if self.odd(0.15) else number for number in lineup]
        if self.rng.random() < 0.7:
            self.liberos[side] = rest[: self.rng.choice([0, 1, 1, 2, 2, 3])]
            liberos = list(self.liberos[side])
        else:
            self.liberos[side] = [number for number in self.liberos[side] if number not in lineup]
            liberos = None
        return {
            "lineup": self.maybe(0.9, given),
            "liberos": liberos,
            "setters": self.maybe(0.7, self.rng.sample(numbers, self.rng.choice([0, 1, 1, 2]))),
            "setter_position": self.maybe(0.5, self.rng.randint(1, 6)),
            "system": self.maybe(0.5, self.rng.choice(SYSTEMS)),
        }

    def set_is_over(self):
        """Whether the rough score ends the set."""
        if self.odd(0.1):
            return self.rng.random() < 0.5
        high, low = max(self.points.values()), min(self.points.values())
        wanted = self.rules.get("points", 25) if self.set_number < 5 else 15
        return high >= wanted and high - low >= self.rules.get("lead", 2)

    # between two rallies

    def between(self):
        """Something before a serve."""
        actions = [
            (6, self.substitution),
            (7, self.libero),
            (2, self.time_out),
            (1 + 3 * self.slips, self.penalty),
            (4 * self.slips, self.correction),
            (2 * self.slips, self.score_correction),
            (3 * self.slips, self.server_correction),
            (2 * self.slips, self.wrong_server_after),
            (1, lambda: self.put("sides_changed")),
            (1, self.sanction),
        ]
        weights, doings = zip(*actions, strict=True)
        doing = self.rng.choices(doings, weights)[0]
        if self.focus and self.rng.random() < 0.7:
            doing = {
                "substitution": self.substitution,
                "libero": self.penalty if self.rng.random() < 0.2 else self.libero,
                "correction": self.correction,
                "wrong_server": self.wrong_server_after,
                "end": self.score_correction,
            }[self.focus]
        doing()

    def substitution(self):
        """Somebody enters for somebody; often two change back, or one of them changes again."""
        side = self.side()
        enters, leaves = self.off_court(side), self.on_court(side)
        if self.changed[side] and self.rng.random() < 0.6:
            left, entered = self.rng.choice(self.changed[side])
            enters = left if self.rng.random() < 0.8 else enters
            leaves = entered if self.rng.random() < 0.8 else leaves
        if self.odd(0.2):
            enters, leaves = leaves, enters
        if enters == leaves:
            return
        kind = "exceptionally_substituted" if self.rng.random() < 0.2 else "substituted"
        position = self.rng.randint(1, 6) if self.odd(0.6) else None
        self.put(kind, side=side, enters=enters, leaves=self.maybe(0.9, leaves), position=position)
        self.replace_on_court(side, leaves, enters)
        self.changed[side].append((leaves, enters))

    def replace_on_court(self, side, leaves, enters):
        """The rough scorer follows."""
        if leaves in self.court[side] and enters not in self.court[side]:
            self.court[side][self.court[side].index(leaves)] = enters

    def libero(self):
        """A libero comes or goes."""
        side = self.side()
        standing = [number for number in self.stands_for[side] if number in self.court[side]]
        free = [number for number in self.liberos[side] if number not in standing]
        if standing and self.rng.random() < 0.6:
            leaves = self.rng.choice(standing)
            back = self.stands_for[side][leaves]
            enters = back if not self.odd() else self.rng.choice([self.anybody(), *self.liberos[side]])
            if free and self.rng.random() < 0.2:
                enters = self.rng.choice(free)
                self.stands_for[side][enters] = back
        else:
            enters = self.rng.choice(free) if free and not self.odd(0.5) else self.anybody()
            back_row = [self.court[side][index] for index in (0, 4, 5)]
            leaves = self.rng.choice(back_row) if not self.odd() else self.on_court(side)
            self.stands_for[side][enters] = leaves
        if enters == leaves:
            return
        position = self.rng.randint(1, 6) if self.odd(0.5) else None
        told = {"enters": enters, "leaves": leaves}
        if self.odd(0.3):
            told.pop(self.rng.choice(["enters", "leaves"]))
        if all(value is None for value in told.values()):
            return
        self.put("libero_replaced", side=side, position=position, **told)
        self.replace_on_court(side, leaves, enters)

    def time_out(self):
        """A time-out."""
        self.put("time_out_taken", side=self.side())

    def penalty(self):
        """A point by penalty."""
        side, rotation = self.side(), self.rng.random() < 0.7
        self.put(
            "penalty_point_given",
            to=side,
            rotation=rotation,
            reason=self.maybe(0.5, self.rng.choice(["misconduct", "delay", "other"])),
            number=self.maybe(0.3, self.anybody()),
        )
        self.points[side] += 1
        if rotation:
            self.serve_goes_to(side)

    def serve_goes_to(self, side):
        """The side rotates and serves unless it served."""
        if self.serving != side:
            self.court[side] = self.court[side][1:] + self.court[side][:1]
            self.serving = side

    def correction(self):
        """A side set right by hand."""
        side = self.side()
        lineup = [self.rng.choice([None, self.anybody(), here]) for here in self.court[side]]
        lineup = [number if number not in lineup[:place] else None for place, number in enumerate(lineup)]
        fields = {
            "lineup": self.maybe(0.4, lineup),
            "rotate": self.maybe(0.3, self.rng.randint(-5, 5)),
            "setter_position": self.maybe(0.3, self.rng.randint(1, 6)),
            "setters": self.maybe(0.3, self.rng.sample(NUMBERS, self.rng.choice([0, 1, 1, 2, 3]))),
            "liberos": self.maybe(0.3, self.rng.sample(NUMBERS, self.rng.randint(0, 3))),
            "system": self.maybe(0.2, self.rng.choice(SYSTEMS)),
        }
        if any(value is not None for value in fields.values()):
            self.put("lineup_corrected", side=side, **fields)
            if fields["lineup"]:
                self.court[side] = [
                    new if new is not None else old for new, old in zip(lineup, self.court[side], strict=True)
                ]

    def score_correction(self):
        """The score set right by hand."""
        high = self.rules.get("points", 25) + 2
        sets = {side: self.rng.randint(0, 2) for side in SIDES}
        if self.odd(0.1):
            sets = {side: self.rng.randint(0, 4) for side in SIDES}
        self.points = {side: self.rng.randint(0, high) for side in SIDES}
        self.put("score_corrected", **self.points, sets=self.maybe(0.3, sets))

    def server_correction(self):
        """The serving side set right by hand."""
        self.serving = self.side()
        self.put("server_corrected", side=self.serving, number=self.maybe(0.6, self.on_court(self.serving)))

    def wrong_server_after(self):
        """The referee finds a wrong server after the rally."""
        self.wrong_server("after_rally")

    def wrong_server(self, found):
        """The referee finds a wrong server."""
        at_fault = self.serving if self.serving and not self.odd(0.5) else self.side()
        self.put(
            "wrong_server_called",
            side=at_fault,
            found=found,
            from_rally=self.maybe(0.6, max(1, self.rally - self.rng.randint(0, 4))),
            right_server=self.maybe(0.5, self.on_court(at_fault)),
        )
        self.points[OTHER[at_fault]] += 1
        self.serve_goes_to(OTHER[at_fault])

    def sanction(self):
        """A player or somebody of the staff is sent off."""
        side = self.side()
        kind = self.rng.choice(["expelled", "disqualified"])
        self.put(kind, side=side, number=self.maybe(0.8, self.on_court(side)))

    # a rally

    def play_rally(self):
        """One whistle for service and what comes of it."""
        for _ in range(self.rng.choice([1, 2, 3] if self.focus else [0, 0, 0, 1, 1, 2])):
            self.between()
        for _ in range(self.rng.choice([0, 0, 1, 2])):
            self.in_rally()
        if self.odd(0.1):
            self.rally += self.rng.choice([0, 1, 2])
            return
        for _ in range(2 if self.odd(0.15) else 1):
            self.result()
        self.rally += 1

    def in_rally(self):
        """Something seen in the rally."""
        side = self.serving or self.side()
        known = self.court[side][0]
        number = known if known is not None and not self.odd() else self.anybody()
        kind = self.rng.choice(["call", "server", "formation", "pass", "note"])
        if kind == "call":
            self.put(
                "call_shown",
                spot=self.point(),
                target=self.point(),
                kind=self.rng.choice(KINDS),
                speed_m_s=self.maybe(0.5, 14.5),
                keep=self.maybe(0.5, 0.5),
                p_error=self.maybe(0.5, 0.125),
                p_ace=self.maybe(0.5, 0.0625),
                grades=self.maybe(0.5, [0.1, 0.2, 0.3, 0.4]),
            )
        elif kind == "server":
            self.put("server_seen", side=OTHER[side] if self.odd(0.2) else side, number=number)
        elif kind == "formation":
            self.put(
                "reception_formation_seen",
                side=self.side() if self.odd() else OTHER[side],
                formation=self.rng.choice(["two", "three", "four", "five"]),
                passers=self.maybe(0.5, [self.passer() for _ in range(self.rng.randint(0, 3))]),
            )
        elif kind == "pass":
            self.put("pass_graded", **(self.parts(0.3) | {"grade": self.rng.randint(0, 3)}))
        else:
            self.put("serve_noted", **(self.parts(0.4) | {"speed_m_s": self.rng.choice([11, 12.5])}))

    def passer(self):
        """A passer of a formation."""
        passer = self.point()
        if self.rng.random() < 0.5:
            passer["number"] = self.anybody()
        if self.rng.random() < 0.5:
            passer["position"] = self.maybe(0.8, self.rng.randint(1, 6))
        return passer

    def parts(self, share):
        """Some parts of a serve."""
        receiving = OTHER[self.serving or "us"]
        return {
            "grade": self.maybe(share, self.rng.randint(0, 3)),
            "error": self.maybe(share / 3, self.rng.choice(["net", "long", "wide", "foot"])),
            "first_ball": self.maybe(share, self.rng.choice(["attack", "free_ball", "overpass", "none"])),
            "passer": self.maybe(share, self.on_court(receiving)),
            "landing": self.maybe(share, self.point()),
            "spot": self.maybe(share, self.point()),
            "kind": self.maybe(share, self.rng.choice(KINDS)),
            "speed_m_s": self.maybe(share, self.rng.choice([11, 12.5])),
        }

    def result(self):
        """The rally ends."""
        if self.odd(0.1):
            self.put("rally_replayed", reason=self.maybe(0.3, "ball on the court"))
        elif self.odd(0.4 if self.focus == "wrong_server" else 0.1):
            self.wrong_server("at_service")
        else:
            winner = self.side()
            self.put("rally_won", winner=winner, ending=self.fitting_ending(winner), **self.parts(0.15))
            self.points[winner] += 1
            self.serve_goes_to(winner)

    def fitting_ending(self, winner):
        """An ending that most often fits."""
        fits = "ace" if winner == self.serving else "service_error"
        return self.maybe(0.3, self.rng.choice(["ace", "service_error"]) if self.odd() else fits)

    # after it

    def end_something(self):
        """A set or the match ends by somebody's word."""
        kind = self.rng.choice(
            ["set_ended", "set_ended", "match_ended", "match_abandoned", "forfeited", "forfeited"]
        )
        if kind == "set_ended":
            self.put(kind, winner=self.maybe(0.5, self.side()))
        elif kind == "match_abandoned":
            self.put(kind, reason=self.maybe(0.5, "lights"))
        elif kind == "forfeited":
            scope, how = self.rng.choice(
                [("set", "incomplete"), ("set", "incomplete"), ("match", "incomplete"), ("match", "default")]
            )
            self.put(kind, side=self.side(), scope=scope, how=how)
        else:
            self.put(kind)
        if self.odd(0.3):
            self.log[-1]["set_number"] = min(9, self.log[-1]["set_number"] + 1)

    def play(self, rallies):
        """Sets and rallies, one after the other."""
        if self.odd(0.1):
            self.end_something()
            if self.odd(0.3):
                return
        if not self.odd(0.1):
            self.open_set()
        for _ in range(rallies):
            self.play_rally()
            if self.odd(0.4 if self.focus == "end" else 0.03):
                for _ in range(self.rng.choice([1, 1, 3])):
                    self.end_something()
            if self.set_is_over():
                if self.set_number >= 8:
                    return
                if self.rng.random() < 0.3:
                    self.put("set_ended", winner=self.maybe(0.3, max(self.points, key=self.points.get)))
                self.open_set()
