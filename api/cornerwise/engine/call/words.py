"""A call in words: what to do, where that is, why, and what it is worth."""

from __future__ import annotations

from cornerwise.engine.court import Point, depth, on_the_line, spot_name, zone
from cornerwise.engine.flight import Kind
from cornerwise.engine.outcome import BEHIND_FROM_DEG, Part

from .detail import Detail
from .situation import Option
from .stay_off import StayOff

KIND_WORDS: dict[Kind, str] = {
    "underhand": "underhand",
    "plain_overhand": "overhand",
    "standing_float": "standing float",
    "short_float": "short float",
    "jump_float": "jump float",
    "standing_topspin": "standing topspin",
    "jump_topspin": "jump topspin",
}

PART_WORDS: dict[Part, str] = {
    "pass_angle": "turning the ball",
    "sight_angle": "finding the setter",
    "pass_length": "length of the pass",
    "move": "moving to the ball",
    "away": "moving away from the setter",
    "back": "moving back",
    "seam": "whose ball it is",
    "setter_late": "the setter's run",
    "serve_speed": "speed of the serve",
    "passer": "who passes",
    "behind": "pass from behind the setter",
    "errors": "missed serves",
}

WORTH_SAYING = 0.004  # chosen: a part worth less than 0.4 points in 100 is no reason
AT_HER_M = 0.4  # chosen: nearer than this a ball comes at the passer
SAYS_NOTHING_M = 0.1  # chosen: a shorter move at the aim itself is no sentence; the scatter makes the part
MIDDLE_M = 1.0  # chosen: passers within this of the middle have no outside


def capital(text: str) -> str:
    """Return the text with a capital first letter."""
    return text[:1].upper() + text[1:]


def spot_words(option: Option) -> str:
    """Return the spot's name in words, e.g. "right corner"."""
    return spot_name(option.stand.spot.x_m).replace("_", " ")


def target_words(landing: Point) -> str:
    """Return the target in words, e.g. "zone 5 deep, on the line"."""
    line = ", on the line" if on_the_line(landing) else ""
    return f"zone {zone(landing)} {depth(landing)}{line}"


def call_words(option: Option) -> str:
    """Return the call in words, e.g. "Right corner → zone 5 deep, on the line"."""
    return capital(f"{spot_words(option)} → {target_words(option.landing)}")


def place_words(landing: Point, passer: Point, name: str) -> str:
    """Return where a landing is, seen from the passer whose ball it is: "1 m outside and 0.7 m behind #5".

    Outside is towards the nearer sideline; for a passer in the middle it is her left or right. The
    passer faces the server, so her left is to the server's right.
    """
    dx, dy = landing.x_m - passer.x_m, landing.y_m - passer.y_m
    parts = []
    if abs(dx) >= AT_HER_M:
        if abs(passer.x_m) < MIDDLE_M:
            side = "to the left of" if dx > 0 else "to the right of"
        else:
            side = "outside" if dx * passer.x_m > 0 else "inside"
        parts.append(f"{metres(abs(dx))} {side}")
    if abs(dy) >= AT_HER_M:
        parts.append(f"{metres(abs(dy))} {'behind' if dy > 0 else 'in front of'}")
    if not parts:
        return f"at {name}"
    return " and ".join(parts) + f" {name}"


def metres(length: float) -> str:
    """Return a length in metres to one decimal, without a needless zero."""
    return f"{length:.1f}".removesuffix(".0") + " m"


def whole_points(share: float) -> int:
    """Return a share as whole points in 100."""
    return round(100 * share)


def odds_words(option: Option) -> str:
    """Return what a call is worth, e.g. "wins 46 of 100 · misses 9"."""
    return f"wins {whole_points(option.keep)} of 100 · misses {whole_points(option.p_error)}"


def part_words(part: Part, gain: float, shown: Detail, plain_error: float, passer: str) -> str:
    """Return one sentence on what a part does in this call, with its own number.

    gain        : its share in the chance of winning the rally, against the plain serve.
    plain_error : how often the plain serve misses, 0 to 1.
    """
    seen, task = shown.geometry, shown.task
    only = "" if gain > 0 else "only "
    match part:
        case "pass_angle":
            return f"{capital(passer)} must turn the ball {only}{seen.pass_angle_deg:.0f}° out of its line"
        case "sight_angle":
            off = f"{seen.sight_angle_deg:.0f}°"
            if gain > 0:
                return f"{capital(passer)} must look {off} away from the ball to find the setter"
            return f"{capital(passer)} finds the setter {off} off the ball's line"
        case "pass_length":
            return f"The pass has {only}{metres(seen.pass_length_m)} to go"
        case "move":
            return f"{capital(passer)} must move {only}{metres(task.move_m)} to reach it"
        case "away":
            if task.away_m < SAYS_NOTHING_M:
                return "Serves that scatter outwards take her away from where the pass must go"
            return f"She moves {only}{metres(task.away_m)} away from where the pass must go"
        case "back":
            if task.back_m < SAYS_NOTHING_M:
                return "Serves that scatter deep make her move back"
            return f"She moves back {only}{metres(task.back_m)}"
        case "seam":
            return "Less clear whose ball it is" if gain > 0 else "Clear whose ball it is"
        case "setter_late":
            return f"The setter has {only}{metres(seen.setter_run_m)} to run"
        case "serve_speed":
            speed = shown.option.stand.serve.speeds_m_s[shown.option.pace]
            return f"The serve leaves the hand at {speed:.0f} m/s"
        case "passer":
            return f"The ball goes to {passer}, by her rating {'weaker' if gain > 0 else 'stronger'}"
        case "behind":
            return _behind_words(seen.arrival_bearing_deg, gain)
        case "errors":
            p_error = shown.option.p_error
            says = f"Misses {whole_points(p_error)} in 100, the plain serve {whole_points(plain_error)}"
            costs_most = gain < 0.0 and p_error <= plain_error
            return f"{says}, but the misses here would have been the better serves" if costs_most else says


def _behind_words(arrival_bearing_deg: float, gain: float) -> str:
    """Return where the pass comes from, as the setter faces; what one aim does not show, its scatter may."""
    if arrival_bearing_deg > 90.0:
        return "The pass comes from behind their setter" if gain > 0 else "The pass comes less from behind"
    if gain <= 0:
        return "The pass comes from in front of their setter"
    if arrival_bearing_deg > BEHIND_FROM_DEG:
        return "The pass comes from beside their setter, often from behind"
    return "Serves that scatter inwards bring the pass from behind their setter"


def reason_words(gains: dict[Part, float], sentences: dict[Part, str]) -> str:
    """Return one line that says why: the one or two parts that gain most, errors aside."""
    ranked = sorted(
        (part for part, gain in gains.items() if gain >= WORTH_SAYING and part != "errors"),
        key=lambda part: -gains[part],
    )
    if not ranked:
        return "Little sets it apart from a plain serve."
    first = sentences[ranked[0]]
    if len(ranked) == 1:
        return f"{first}."
    second = sentences[ranked[1]]
    who, must, _ = first.partition(" must ")
    if must and second.startswith(who + must):
        second = "she" + second.removeprefix(who)  # the same passer: named once
    return f"{first}; {second[:1].lower()}{second[1:]}."


STAY_OFF_WORDS = {
    "over_setter": "over their setter, an easy pass",
    "over_target": "over the place their passes go to, an easy pass",
    "straight_back": "straight back where it came from",
    "in_one_view": "their setter sees ball and passer in one view",
    "easy_pass": "an easy pass",
}


def stay_off_words(serve: StayOff, passer: str) -> str:
    """Return what to stay off and why, e.g. "Right corner to #2: over their setter, an easy pass"."""
    return f"{capital(spot_words(serve.option))} to {passer}: {STAY_OFF_WORDS[serve.why]}"


def missing_words(spot: str, cost: float) -> str:
    """Return what a missing spot would be worth: "The left corner would win 1.4 more in 100"."""
    return f"The {spot.replace('_', ' ')} would win {100 * cost:.1f} more in 100"
