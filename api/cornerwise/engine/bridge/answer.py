"""From the engine's answer to what is sent: every number with its unit, every call in words."""

from __future__ import annotations

from typing import Any

from cornerwise.engine.call.alternatives import EQUAL
from cornerwise.engine.call.recommend import Answer, Explained, other_drag_model, recommend
from cornerwise.engine.call.signal import signal
from cornerwise.engine.call.situation import Option
from cornerwise.engine.call.stay_off import StayOff
from cornerwise.engine.call.words import (
    KIND_WORDS,
    PART_WORDS,
    call_words,
    capital,
    missing_words,
    odds_words,
    part_words,
    place_words,
    reason_words,
    spot_words,
    stay_off_words,
    target_words,
)
from cornerwise.engine.court import (
    FREE_ZONE_M,
    HALF_LENGTH_M,
    HALF_WIDTH_M,
    Point,
    depth,
    on_the_line,
    service_spots,
    spot_name,
    zone,
)
from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.flight import TOPSPIN
from cornerwise.engine.maths import PLAIN, Maths
from cornerwise.engine.reception import WHOLE_COURT, Limits, Player, holders, limits, setter_row

from .ask import Asked, asked
from .exact import geometry_fields, place
from .roster import next_job

ASSUMED_WORDS = {
    "level": "the level, high school and club",
    "server": "a usual server of this level",
    "net": "the level's usual net",
    "pace": "her usual pace",
    "contact": "how high and how far inside she hits the ball",
    "spin": "how fast the ball spins",
    "scatter": "how precisely she serves",
    "setter_start": "where the setter starts",
    "formation": "three passers",
    "passers": "where the passers stand",
    "ratings": "passers of equal skill",
    "pass_target": "a pass target one metre off the net",
    "weights": "how much each part counts, tuned to common practice",
}


def call(request: dict[str, Any], m: Maths = PLAIN) -> dict[str, Any]:
    """Return the call for one serve, with alternatives, reasons and what to stay off.

    request : as POST /api/v1/calls takes it.

    Raises RuleBroken if the request breaks one of RULES.
    """
    ask = asked(request)
    answer = recommend(m, ask.situation, ask.level, ask.use_start_ceiling)
    if answer is None:
        speeds = [s for serve in ask.situation.server.serves for s in serve.speeds_m_s]
        expected = "a pace that carries the ball over the net into the court from at least one spot"
        raise RuleBroken("server.speeds_m_s", speeds, expected, "out_of_reach")
    best = answer.best.option
    return {
        "best": call_fields(ask, answer.best),
        "alternatives": [_alternative(ask, a, best) for a in answer.alternatives],
        "stay_off": [_stay_off(ask, s, best) for s in answer.stay_off],
        "ceiling_cost_per_100": 100 * answer.ceiling_cost,
        "policy": _policy(answer),
        "limits": {"missing_spots": [_missing(name, option, best) for name, option in answer.missing]},
        "drag": _drag(ask, answer),
        "assumed": [{"name": name, "text": ASSUMED_WORDS[name]} for name in ask.assumed],
        "situation": situation_fields(ask),
    }


def call_fields(ask: Asked, shown: Explained) -> dict[str, Any]:
    """Return one serve as it is sent: where from, where to, its flight, its pass, its chances, its words."""
    option, seen = shown.option, shown.detail
    passer = ask.passers[seen.task.passer]
    serve, ellipse = option.stand.serve, seen.ellipse
    contact = option.stand.stance.contact
    return {
        "spot": _spot(option.stand.spot),
        "contact": place(contact),
        "target": _target(option.landing),
        "kind": serve.kind,
        "speed_m_s": serve.speeds_m_s[option.pace],
        "flight_time_s": seen.flight_time_s,
        "launch_angle_deg": seen.launch_angle_deg,
        "net_margin_m": seen.net_margin_m,
        **geometry_fields(seen.geometry),
        "passer": {
            **_receiver(passer),
            "move_m": seen.task.move_m,
            "away_m": seen.task.away_m,
            "back_m": seen.task.back_m,
        },
        "scatter": {
            "across_m": seen.across_m,
            "along_m": serve.scatter.along_m,
            "bearing_sd_deg": seen.bearing_sd_deg,
            "ellipse": {
                **place(option.landing),
                "semi_across_m": ellipse.semi_across_m,
                "semi_along_m": ellipse.semi_along_m,
                "bearing_deg": ellipse.bearing_deg,
                "share": 0.5,
            },
        },
        "p_error": option.p_error,
        "p_in": option.p_in,
        "p_ace": seen.p_ace,
        "grades": list(seen.grades),
        "pass_grade": seen.pass_grade,
        "keep": option.keep,
        "plain": {
            "spot": _spot(shown.plain.stand.spot),
            "target": _target(shown.plain.landing),
            "keep": shown.plain.keep,
            "p_error": shown.plain.p_error,
        },
        **_reasons(shown, _name(passer)),
        "words": {**_words(option, passer), "reason": _reason(shown, _name(passer))},
        "signal": [{"of": p.of, "text": p.text, "fingers": list(p.fingers)} for p in signal(option)],
        "next_job": next_job(ask.next_job, contact, seen.flight_time_s),
    }


def _sentences(shown: Explained, passer: str) -> dict[Any, str]:
    return {
        part: part_words(part, gain, shown.detail, shown.plain.p_error, passer)
        for part, gain in shown.shares.items()
    }


def _reason(shown: Explained, passer: str) -> str:
    return reason_words(shown.shares, _sentences(shown, passer))


def _reasons(shown: Explained, passer: str) -> dict[str, Any]:
    sentences = _sentences(shown, passer)
    ranked = sorted(shown.shares.items(), key=lambda item: -abs(item[1]))
    return {
        "reasons": [
            {"part": part, "name": PART_WORDS[part], "points_per_100": 100 * gain, "text": sentences[part]}
            for part, gain in ranked
        ]
    }


def _words(option: Option, passer: Player) -> dict[str, str]:
    return {
        "call": call_words(option),
        "spot": capital(spot_words(option)),
        "target": target_words(option.landing),
        "place": place_words(option.landing, passer.place, _name(passer)),
        "odds": odds_words(option),
        "kind": KIND_WORDS[option.stand.serve.kind],
    }


def _alternative(ask: Asked, shown: Explained, best: Option) -> dict[str, Any]:
    behind = shown.option.keep - best.keep
    return {**call_fields(ask, shown), "points_per_100": 100 * behind, "equal": abs(behind) <= EQUAL}


def _stay_off(ask: Asked, serve: StayOff, best: Option) -> dict[str, Any]:
    option, passer = serve.option, ask.passers[serve.passer]
    return {
        "spot": _spot(option.stand.spot),
        "contact": place(option.stand.stance.contact),
        "target": _target(option.landing),
        "passer": _receiver(passer),
        "keep": option.keep,
        "points_per_100": 100 * (option.keep - best.keep),
        "why": serve.why,
        "text": stay_off_words(serve, _name(passer)),
    }


def _policy(answer: Answer) -> dict[str, Any]:
    best = answer.best.option
    return {
        "error_ceiling": answer.error_ceiling,
        "met": answer.met,
        "least_error": answer.least_error,
        "start_error_ceiling": answer.start_ceiling,
        "break_even_error": answer.break_even_error,
        "steps": [
            {
                "error_ceiling": step.error_ceiling,
                "met": step.met,
                "p_error": step.option.p_error,
                "points_per_100": 100 * (step.option.keep - best.keep),
            }
            for step in answer.steps
        ],
        "text": _policy_words(answer),
    }


def _policy_words(answer: Answer) -> str:
    """Return one sentence on what the ceiling does to this call."""
    if not answer.met and answer.error_ceiling is not None:
        least = 100 * answer.best.option.p_error
        asked_for = f"{100 * answer.error_ceiling:.0f} misses in 100"
        return f"No serve keeps to {asked_for}: this one misses least, {least:.1f}."
    if answer.error_ceiling is None:
        return "No limit on misses."
    if answer.ceiling_cost < 0.0005:
        return f"At most {100 * answer.error_ceiling:.0f} misses in 100: costs nothing here."
    cost = f"{100 * answer.ceiling_cost:.1f}"
    return f"At most {100 * answer.error_ceiling:.0f} misses in 100: costs {cost} in 100."


def _missing(name: str, option: Option, best: Option) -> dict[str, Any]:
    cost = option.keep - best.keep
    return {"spot": name, "points_per_100": 100 * cost, "text": missing_words(name, cost)}


def _drag(ask: Asked, answer: Answer) -> dict[str, Any]:
    """Return which drag model was used, and for topspin whether the other one calls the same side."""
    model = ask.situation.drag_model
    best, other = answer.best.option, answer.other_model
    result: dict[str, Any] = {
        "model": model,
        "other": other_drag_model(model),
        "other_agrees": None,
        "text": None,
    }
    if best.stand.serve.kind in TOPSPIN:
        agrees = other is not None and _side(other) == _side(best)
        if agrees:
            says = "agrees"
        else:
            says = "finds no serve that is in" if other is None else f"says {call_words(other)}"
        result |= {
            "other_agrees": agrees,
            "text": f"Topspin by drag model {model}, one of two published descriptions of the flight;"
            f" the other, {other_drag_model(model)}, {says}.",
        }
    return result


def _side(option: Option) -> tuple[int, int]:
    """Return on which side of the middle a call stands and lands: -1, 0 or 1."""
    x_m = option.stand.spot.x_m, option.landing.x_m
    return (x_m[0] > 0) - (x_m[0] < 0), (x_m[1] > 0) - (x_m[1] < 0)


def situation_fields(ask: Asked) -> dict[str, Any]:
    """Return what the answer was made for, defaults included."""
    situation, setter = ask.situation, ask.setter
    server, receivers = situation.server, situation.receivers
    serve = server.serves[0]
    line_m = server.service_line_m
    nine = service_spots(line_m)
    return {
        "level": ask.level,
        "net_height_m": situation.net_height_m,
        "ball": ask.ball,
        "service_line_m": line_m,
        "setter_position": setter.position,
        "setter_row": None if setter.position is None else setter_row(setter.position),
        "setter_start": place(setter.place),
        "pass_target": place(receivers.target),
        "pass_target_limits": limits_fields(Limits(-HALF_WIDTH_M, HALF_WIDTH_M, 0.0, HALF_LENGTH_M)),
        "setter_faces": "left" if receivers.faces > 0 else "right",
        "system": ask.system,
        "formation": ask.formation,
        "players": [_player(ask, player) for player in ask.players],
        "server": {
            "kind": serve.kind,
            "speeds_m_s": list(serve.speeds_m_s),
            "contact_height_m": serve.contact_height_m,
            "contact_inside_m": serve.contact_inside_m,
            "spin_rev_s": serve.spin_rev_s,
            "scatter": {"across_m": serve.scatter.across_m, "along_m": serve.scatter.along_m},
            "has_short_float": any(s.kind == "short_float" for s in server.serves),
            "spots": [
                {**_spot(spot), "allowed": spot in server.spots}
                for spot in dict.fromkeys((*nine, *server.spots))
            ],
            "spot_limits": limits_fields(
                Limits(-HALF_WIDTH_M, HALF_WIDTH_M, -(line_m + FREE_ZONE_M), -line_m)
            ),
        },
    }


def _player(ask: Asked, player: Player) -> dict[str, Any]:
    """Return a receiver with the box she may be dragged in; those out of the way make room."""
    bound = tuple(p for p in ask.players if p.role != "other" or p == player)
    box = limits(bound, bound.index(player)) if player.position is not None else WHOLE_COURT
    return {
        **_receiver(player),
        "role": player.role,
        "limits": {**limits_fields(box), "by": held_by(bound, bound.index(player), box)},
        "pass_grade": player.pass_grade,
        "passes": player.passes,
    }


def held_by(players: tuple[Player, ...], index: int, box: Limits) -> dict[str, str]:
    """Return who or what sets each side of a box, in words."""
    sides = {"x_min_m": "sideline", "x_max_m": "sideline", "y_min_m": "net", "y_max_m": "end line"}
    by = holders(players, index)
    return {
        side: f"the {line}"
        if getattr(box, side) == getattr(WHOLE_COURT, side)
        else f"the player in {by[side]}"
        for side, line in sides.items()
    }


def limits_fields(box: Limits) -> dict[str, float]:
    return {"x_min_m": box.x_min_m, "x_max_m": box.x_max_m, "y_min_m": box.y_min_m, "y_max_m": box.y_max_m}


def _receiver(player: Player) -> dict[str, Any]:
    return {
        "position": player.position,
        "number": player.number,
        "label": _label(player),
        **place(player.place),
    }


def _label(player: Player) -> str:
    if player.number is not None:
        return str(player.number)
    return "" if player.position is None else str(player.position)


def _name(player: Player) -> str:
    """Return what a receiver is called in a sentence: by her number, or by the position she is in."""
    return f"#{player.number}" if player.number is not None else f"the passer in {player.position}"


def _spot(spot: Point) -> dict[str, Any]:
    return {"name": spot_name(spot.x_m), **place(spot)}


def _target(landing: Point) -> dict[str, Any]:
    return {
        "zone": zone(landing),
        "depth": depth(landing),
        "on_the_line": on_the_line(landing),
        **place(landing),
    }
