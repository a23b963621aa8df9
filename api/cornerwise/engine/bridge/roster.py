"""From a roster and an opponent, as they are kept, to the parts of a request for a call."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from cornerwise.engine.court import Point
from cornerwise.engine.flight import SLOWEST_M_S, Kind
from cornerwise.engine.names import Level
from cornerwise.engine.players import NET_HEIGHT_M, USUAL_KIND, paces, stock_server, with_wobble
from cornerwise.engine.reception import setting_position
from cornerwise.engine.roster import (
    Job,
    contact_height_m,
    number_at,
    rated,
    run_to_job,
    setter_start_position,
)

from .stock import START_LEVEL

WHAT_IS_KNOWN = ("level", "net_height_m", "ball", "drag_model", "service_line_m")
SAID = ("pass_target", "setter_faces", "system")
JOB_WORDS = {1: "right back (1)", 5: "left back (5)", 6: "middle back (6)"}


def frame_of(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a request says of the match as a whole: level, net, ball, drag model, service line."""
    return {name: request[name] for name in WHAT_IS_KNOWN if request.get(name) is not None}


def serve_request(
    frame: Mapping[str, Any], serve: Mapping[str, Any], reach_m: float | None
) -> dict[str, Any]:
    """Return the server and the policy of a call, for one of a player's serves.

    serve : kind; speeds_m_s, where a single one is her usual pace and 0.9 of it is on offer too, but for a
        short float; spots, names or places, null for all; scatter as it was measured, or the level whose
        stock server scatters like her; error_ceiling of her own, the level's starting one if null
    """
    level: Level = frame.get("level", START_LEVEL)
    net_m = float(frame.get("net_height_m", NET_HEIGHT_M[level]))
    kind: Kind = serve["kind"]
    server: dict[str, Any] = {"kind": kind}
    if serve.get("speeds_m_s"):
        server["speeds_m_s"] = _speeds(kind, serve["speeds_m_s"])
    if serve.get("spots") is not None:
        server["spots"] = list(serve["spots"])
    if reach_m is not None and kind != "underhand":
        server["contact_height_m"] = contact_height_m(kind, level, net_m, reach_m)
    if serve.get("scatter") is not None:
        server["scatter"] = {name: serve["scatter"][name] for name in ("across_m", "along_m")}
    elif serve.get("level") is not None:
        stock = with_wobble(kind, stock_server(serve["level"], kind, net_m).scatter)
        server["scatter"] = {"across_m": stock.across_m, "along_m": stock.along_m}
    ceiling = serve.get("error_ceiling")
    policy = {"use_start_ceiling": True} if ceiling is None else {"error_ceiling": ceiling}
    return {"server": server, "policy": policy}


def _speeds(kind: Kind, speeds_m_s: Sequence[float]) -> list[float]:
    if len(speeds_m_s) > 1 or kind == "short_float":
        return [float(speed) for speed in speeds_m_s]
    return [max(pace, SLOWEST_M_S) for pace in paces(float(speeds_m_s[0]))]


def opponent_request(opponent: Mapping[str, Any], setter_position: int, level: Level) -> dict[str, Any]:
    """Return the opponent of a call, for one position of their first setter.

    opponent : lineup, setters, setter_position, system, pass_target, setter_faces, ratings, formations
    """
    said = {name: opponent[name] for name in SAID if opponent.get(name) is not None}
    result: dict[str, Any] = {"setter_position": setter_position, **said}
    seen = formation_for(opponent, setter_position)
    if seen is None:
        return result
    setting = setting_position(setter_position, opponent.get("system") or "one_setter")  # type: ignore[arg-type]
    setter = next(p for p in seen["players"] if p["position"] == setting)
    ratings = {one["number"]: one for one in opponent.get("ratings") or ()}
    passers = [p for p in seen["players"] if p.get("passes")]
    result["setter_start"] = {"x_m": setter["x_m"], "y_m": setter["y_m"]}
    result["passers"] = [_passer(opponent, setter_position, p, ratings, level) for p in passers]
    return result


def formation_for(opponent: Mapping[str, Any], setter_position: int) -> Mapping[str, Any] | None:
    """Return the formation that was entered for a position of their first setter, None if none was."""
    for seen in opponent.get("formations") or ():
        if seen["setter_position"] == setter_position:
            found: Mapping[str, Any] = seen
            return found
    return None


def _passer(
    opponent: Mapping[str, Any],
    setter_position: int,
    player: Mapping[str, Any],
    ratings: Mapping[int, Mapping[str, Any]],
    level: Level,
) -> dict[str, Any]:
    number = number_of(opponent, setter_position, player)
    result = {name: player[name] for name in ("x_m", "y_m", "position")}
    if number is None:
        return result
    return {**result, "number": number, **rating_request(ratings.get(number), level)}


def number_of(opponent: Mapping[str, Any], setter_position: int, player: Mapping[str, Any]) -> int | None:
    """Return a receiver's number: her own if it was given, as for a libero, else by the order of rotation."""
    if player.get("number") is not None:
        return int(player["number"])
    lineup = opponent.get("lineup")
    start = start_of(opponent)
    if lineup is None or start is None:
        return None
    return number_at(lineup, start, setter_position, player["position"])


def start_of(opponent: Mapping[str, Any]) -> int | None:
    """Return where their first setter stands at the start of a set, None if nobody knows."""
    lineup = opponent.get("lineup") or (None,) * 6
    return setter_start_position(lineup, opponent.get("setters") or (), opponent.get("setter_position"))


def prepared(request: Mapping[str, Any]) -> dict[str, Any]:
    """Return a request for a call with what was entered of the opponent and of the server.

    request : {request, opponent, player, kind}: a request for a call, with what a match's log says or
        somebody gave, which goes first; an opponent and a player as they are kept, null where nothing was
        entered; the kind of her serves that is meant, null for the first of them
    """
    asked = dict(request["request"])
    if request.get("opponent") is not None:
        asked = with_opponent(request["opponent"], asked)
    if request.get("player") is not None:
        asked = with_player(request["player"], asked, request.get("kind"))
    return asked


def with_player(
    player: Mapping[str, Any], request: Mapping[str, Any], kind: Kind | None = None
) -> dict[str, Any]:
    """Return a request for a call with a player's own serve, as far as the request does not say otherwise.

    player : reach_m and serves, as kept      kind : which of her serves, the first if None; where she has
        none of that kind, the stock server's, hit at her height

    Her own error ceiling goes before a starting one, and never before a ceiling that was set.
    """
    said, policy = dict(request.get("server") or {}), request.get("policy")
    known = {one["kind"]: one for one in player.get("serves") or ()}
    wanted = said.get("kind") or kind or next(iter(known), None)
    serve = known.get(wanted, {"kind": wanted or USUAL_KIND[request.get("level", START_LEVEL)]})
    hers = serve_request(frame_of(request), serve, player.get("reach_m"))
    server = {**hers["server"], **said}
    if wanted is None:
        del server["kind"]  # nothing was said: it stays an assumption
    if serve.get("next_job") is not None:
        server.setdefault("next_job", serve["next_job"])
    if policy is None or policy.get("use_start_ceiling"):
        policy = {**hers["policy"], **(policy or {})}
    return {**request, "server": server, "policy": policy}


def with_opponent(opponent: Mapping[str, Any], request: Mapping[str, Any]) -> dict[str, Any]:
    """Return a request for a call with what was entered of an opponent beside what the match's log says.

    opponent : as it is kept      request : of a coming serve, as `replay` gives it; what it says goes first

    Passers that were seen in the match stand where they were seen, and have the ratings that were entered.
    """
    said = dict(request.get("opponent") or {})
    position = said.get("setter_position")
    if position is None:
        return dict(request)
    level: Level = request.get("level") or opponent.get("level") or START_LEVEL
    theirs = opponent_request(opponent, _first_setter(opponent, position), level)
    if said.keys() & {"passers", "formation", "setter_start"}:
        theirs = {name: value for name, value in theirs.items() if name in SAID}
    if "passers" in said:
        ratings = {one["number"]: one for one in opponent.get("ratings") or ()}
        said["passers"] = [
            {**rating_request(ratings.get(passer.get("number", -1)), level), **passer}
            for passer in said["passers"]
        ]
    return {"level": level, **request, "opponent": {**theirs, **said}}


def _first_setter(opponent: Mapping[str, Any], setting: int) -> int:
    """Return where the first setter stands when one sets in a position: there, or opposite.

    Of two setters a log tells only which position sets. Then the formation that was entered decides; where
    both were, hers who sets.
    """
    opposite = (setting + 2) % 6 + 1
    two = (opponent.get("system") or "one_setter") != "one_setter"
    if two and formation_for(opponent, setting) is None and formation_for(opponent, opposite) is not None:
        return opposite
    return setting


def rating_request(given: Mapping[str, Any] | None, level: Level) -> dict[str, Any]:
    """Return what a call takes of a passer's rating: a mean grade that was counted goes before a word."""
    if given is None:
        return {}
    if given.get("pass_grade") is not None:
        passes = given.get("passes")
        return {"pass_grade": given["pass_grade"], **({} if passes is None else {"passes": passes})}
    meant = rated(given.get("rating") or "unknown", level)
    return {} if meant is None else {"pass_grade": meant[0], "passes": meant[1]}


def next_job(job: Job | None, contact: Point, flight_time_s: float) -> dict[str, Any] | None:
    """Return a server's way to where she defends next; None if that was not said. Text if it is long."""
    if job is None:
        return None
    run = run_to_job(contact, job, flight_time_s)
    text = f"Then {run.distance_m:.0f} m to {JOB_WORDS[job]}: {run.run_s:.1f} s"
    return {
        "position": job,
        "x_m": run.place.x_m,
        "y_m": run.place.y_m,
        "distance_m": run.distance_m,
        "run_s": run.run_s,
        "until_attack_s": run.until_attack_s,
        "long": run.long,
        "text": f"{text} of the {run.until_attack_s:.1f} s until they attack" if run.long else None,
    }
