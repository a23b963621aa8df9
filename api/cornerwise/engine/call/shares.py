"""What each part of the model is worth in one call: Shapley values against the plain serve.

The plain serve goes from the middle of the end line to (0, 7), with the same kind and pace. Both serves
scatter alike: one grid of offsets from the aim, in bearing and range, is laid over both. A coalition of
parts takes its terms from the call and all others from the plain serve; its worth is the expected chance
of winning the rally. A part's Shapley value is its mean contribution over all orders in which the parts
could be put in place, so the values add up to the difference between the two serves. What the grid of
offsets misses of that difference, mostly under 0.1 points in 100 and at most 0.5, is spread over the
parts in proportion to their size.
Source: L. S. Shapley, "A value for n-person games", Contributions to the Theory of Games II, 1953.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from cornerwise.engine.court import Point
from cornerwise.engine.maths import Column, Maths, Real
from cornerwise.engine.outcome import Part, rally_won, speed_part, win_shares

from .situation import Option, Situation, stand_at
from .spread import SUMMED, Spread, spread

PLAIN_LANDING = Point(0.0, 7.0)  # chosen: from the middle, deep to the middle
NOTHING = 1e-9  # a part that differs by less between the two serves has no share. [logit]


def plain_option(situation: Situation, option: Option) -> Option:
    """Return the plain serve of the same kind and pace; its worth is left at zero."""
    y_m = option.stand.spot.y_m
    return Option(
        stand_at(situation, Point(0.0, y_m), option.stand.serve), option.pace, PLAIN_LANDING, 0.0, 0.0
    )


def shares(m: Maths, situation: Situation, option: Option, gain: float) -> dict[Part, float]:
    """Return each part's worth in chance of winning the rally, call against plain serve.

    gain : keep of the option minus keep of the plain serve; the parts sum to it.

    Parts that do not differ between the two are left out.
    """
    call, plain = spread(m, situation, option), spread(m, situation, plain_option(situation, option))
    speed = option.stand.serve.speeds_m_s[option.pace]
    base = situation.model.offset + speed_part(situation.model, speed)
    active = [part for part in SUMMED if _differs(call.parts[part], plain.parts[part])]
    still = _sum_columns(m, base, [plain.parts[part] for part in SUMMED])
    gains = [_difference(m, call.parts[part], plain.parts[part]) for part in active]
    worth = _coalitions(m, situation, still, gains, plain, call)
    parts: list[Part] = [*active, "behind", "errors"]
    return adding_up_to(gain, dict(zip(parts, shapley(worth, len(parts)), strict=True)))


def adding_up_to(total: float, values: dict[Part, float]) -> dict[Part, float]:
    """Return the values with what they lack of a total spread over them in proportion to their size."""
    size = math.fsum(map(abs, values.values()))
    if size == 0.0:
        return values
    lack = total - math.fsum(values.values())
    return {part: value + lack * abs(value) / size for part, value in values.items()}


def _differs(a: Sequence[float], b: Sequence[float]) -> bool:
    return any(abs(x - y) > NOTHING for x, y in zip(a, b, strict=True))


def _difference(m: Maths, a: Column, b: Column) -> Column:
    return m.over(lambda x, y: x - y, a, b)


def _sum_columns(m: Maths, base: float, columns: Sequence[Column]) -> Column:
    def formula(*values: Real) -> Real:
        total = base
        for value in values:
            total = total + value
        return total

    return m.over(formula, *columns)


def _coalitions(
    m: Maths, situation: Situation, still: Column, gains: Sequence[Column], plain: Spread, call: Spread
) -> list[float]:
    """Return the worth of every coalition, by bit mask: the gains first, then `behind`, then `errors`."""
    model = situation.model

    def won(difficulty: Real, one: Real, two: Real, three: Real) -> Real:
        return rally_won(m, model, difficulty, one, two, three)

    sums = [still]
    for gain in gains:
        sums += [m.over(lambda x, y: x + y, total, gain) for total in sums]
    every_sum = m.stack(sums)
    by_weight = m.matrix(list(zip(plain.weights, call.weights, strict=True)))
    worth = []
    for serve in (plain, call):
        after = m.over(lambda behind: win_shares(model, behind), serve.behind)
        worth.append(m.lists(m.product(m.over_rows(won, every_sum, *after), by_weight)))
    return [row[e] for e in (0, 1) for rows in worth for row in rows]


def shapley(worth: Sequence[float], players: int) -> list[float]:
    """Return the Shapley value of each player of a game given by bit mask: worth[mask], 2^players values.

    phi_i = sum over S without i of |S|! (n - |S| - 1)! / n! * (worth(S + i) - worth(S)).
    """
    n = players
    factor = [math.factorial(s) * math.factorial(n - s - 1) / math.factorial(n) for s in range(n)]
    values = []
    for i in range(n):
        bit = 1 << i
        values.append(
            math.fsum(
                factor[mask.bit_count()] * (worth[mask | bit] - worth[mask])
                for mask in range(1 << n)
                if not mask & bit
            )
        )
    return values
