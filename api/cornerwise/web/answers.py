"""What the answers look like, member by member. The engine's dictionaries are sent as they are; these
schemas document them, and the tests hold the answers to the schemas."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, get_args

from marshmallow import Schema, fields

from cornerwise.engine.bridge.hands import starting_code
from cornerwise.engine.call.stay_off import Why
from cornerwise.engine.court import DEPTHS, SPOT_NAMES
from cornerwise.engine.flight import BALLS, DRAG_MODELS, KINDS
from cornerwise.engine.names import FORMATIONS, LEVELS, SYSTEMS
from cornerwise.engine.outcome import Part
from cornerwise.engine.passing import SightBand
from cornerwise.engine.reception import Role

from .schemas import SETTER_FACES


class Answer(Schema):
    """An object with exactly these members."""

    def dump(self, obj: Any, *, many: bool | None = None) -> Any:
        return obj


def real(description: str = "", *, null: bool = False, **bounds: float) -> fields.Float:
    return fields.Float(required=True, allow_none=null, metadata=_said(description) | bounds)


def chance(description: str = "", *, null: bool = False) -> fields.Float:
    return real(description, null=null, minimum=0, maximum=1)


def angle(description: str) -> fields.Float:
    return real(f"{description} [deg]", minimum=0, maximum=180)


def whole(low: int, high: int, *, null: bool = False) -> fields.Integer:
    return fields.Integer(required=True, allow_none=null, metadata={"minimum": low, "maximum": high})


def string(description: str = "", *, null: bool = False) -> fields.String:
    return fields.String(required=True, allow_none=null, metadata=_said(description))


def choice(names: Sequence[str], *, null: bool = False) -> fields.String:
    enum = [*names, None] if null else list(names)
    return fields.String(required=True, allow_none=null, metadata={"enum": enum})


def flag(*, null: bool = False) -> fields.Boolean:
    return fields.Boolean(required=True, allow_none=null)


def part(schema: type[Schema]) -> fields.Nested:
    return fields.Nested(schema, required=True)


def parts(schema: type[Schema], high: int, low: int = 0) -> fields.List:
    return listed(fields.Nested(schema), high, low)


def listed(inner: fields.Field, high: int, low: int = 0) -> fields.List:
    return fields.List(inner, required=True, metadata={"minItems": low, "maxItems": high})


def _said(description: str) -> dict[str, Any]:
    return {"description": description} if description else {}


class PlaceAnswer(Answer):
    """A place on the floor. [m]"""

    x_m = real()
    y_m = real()


class SpotAnswer(PlaceAnswer):
    """Where the server stands."""

    name = choice(SPOT_NAMES)


class ServerSpotAnswer(SpotAnswer):
    """A spot, and whether this server may use it."""

    allowed = flag()


class TargetAnswer(PlaceAnswer):
    """Where the ball should land."""

    zone = whole(1, 6)
    depth = choice(DEPTHS)
    on_the_line = flag()


class GeometryAnswer(Answer):
    """The angles and lengths of one serve and its pass."""

    pass_angle_deg = angle("from the way back to the server to the way to the pass target")
    sight_angle_deg = angle("from the way back to the server to the way to the setter")
    platform_turn_deg = real("half the pass angle [deg]", minimum=0, maximum=90)
    pass_length_m = real("from the landing to the pass target", minimum=0)
    arrival_bearing_deg = angle("between the way the setter faces and the way the pass comes from")
    setter_run_m = real("from her start to the pass target", minimum=0)
    sight_band = choice(get_args(SightBand))
    crosses_setter_lane = flag()


class FlightAnswer(Answer):
    """The flight of one serve, by the lower launch angle; null where no angle lands there."""

    reachable = flag()
    flight_time_s = real(null=True, minimum=0)
    launch_angle_deg = real(null=True)
    net_margin_m = real("from the net's top to the ball's lowest point; below 0 a net fault", null=True)
    landing_speed_m_s = real(null=True, minimum=0)
    longest_range_m = real(minimum=0)
    distance_to_net_m = real("as given, or that of the usual spot", minimum=0)
    drag_model = choice(DRAG_MODELS)


class StockServerAnswer(Answer):
    """A server of whom only the level and the kind of serve are known."""

    kind = choice(KINDS)
    name = string()
    net_height_m = real(minimum=0)
    speeds_m_s = listed(real(minimum=0), 6, 1)
    contact_height_m = real(minimum=0)
    contact_inside_m = real(minimum=0)
    spin_rev_s = real(minimum=0)
    service_line_m = real(minimum=0)
    start_error_ceiling = chance()


class LevelAnswer(Answer):
    """A level of play, with its stock servers."""

    level = choice(LEVELS)
    name = string()
    net_height_m = real(minimum=0)
    usual_kind = choice(KINDS)
    start_error_ceiling = chance()
    servers = parts(StockServerAnswer, 20, 1)


class KindAnswer(Answer):
    """A kind of serve, and its name in words."""

    kind = choice(KINDS)
    name = string()


def code_of(of: str) -> fields.Nested:
    names = starting_code()[of]
    poses = {name: listed(fields.Boolean(), 5, 5) for name in names}
    return part(Answer.from_dict(poses, name=f"{of.capitalize()}PosesAnswer"))


class SignalsAnswer(Answer):
    """The code of a team's hands: five fingers each, thumb first, true if stretched."""

    spot = code_of("spot")
    zone = code_of("zone")
    depth = code_of("depth")


class StockAnswer(Answer):
    """What is assumed when nothing is entered, and the names to choose from."""

    start_level = choice(LEVELS)
    levels = parts(LevelAnswer, len(LEVELS), len(LEVELS))
    kinds = parts(KindAnswer, len(KINDS), len(KINDS))
    formations = listed(choice(FORMATIONS), len(FORMATIONS), len(FORMATIONS))
    systems = listed(choice(SYSTEMS), len(SYSTEMS), len(SYSTEMS))
    signals = part(SignalsAnswer)


class ReceiverAnswer(PlaceAnswer):
    """One of the receivers."""

    position = whole(1, 6, null=True)
    number = whole(0, 99, null=True)
    label = string("her number, or else her position, or nothing")


class PasserAnswer(ReceiverAnswer):
    """The passer whose ball it is, and her move."""

    move_m = real(minimum=0)
    away_m = real("part of the move away from the pass target", minimum=0)
    back_m = real("part of the move away from the net", minimum=0)


class EllipseAnswer(PlaceAnswer):
    """The ellipse on the floor that holds this share of the serves."""

    semi_across_m = real(minimum=0)
    semi_along_m = real(minimum=0)
    bearing_deg = real("direction of flight: 0 straight ahead, positive to the server's right")
    share = chance()


class ScatterAnswer(Answer):
    """How precisely she serves. [m]"""

    across_m = real(minimum=0)
    along_m = real(minimum=0)


class CallScatterAnswer(ScatterAnswer):
    """How precisely this call is served."""

    bearing_sd_deg = real(minimum=0)
    ellipse = part(EllipseAnswer)


class PlainAnswer(Answer):
    """The plain serve that a call is compared with: from the middle, straight ahead."""

    spot = part(SpotAnswer)
    target = part(TargetAnswer)
    keep = chance()
    p_error = chance()


class ReasonAnswer(Answer):
    """What one part is worth, against the plain serve."""

    part = choice(get_args(Part))
    name = string()
    points_per_100 = real()
    text = string()


class WordsAnswer(Answer):
    """The call in words."""

    call = string()
    spot = string()
    target = string()
    place = string("the landing, as seen by the passer")
    reason = string()
    odds = string()
    kind = string()


class SignalAnswer(Answer):
    """One hand pose of the signal."""

    of = choice(("spot", "zone", "depth"))
    text = string()
    fingers = listed(fields.Boolean(), 5, 5)


class NextJobAnswer(PlaceAnswer):
    """Where a server defends after this serve. The text is there when it is a long run."""

    position = whole(1, 6)
    distance_m = real(minimum=0)
    run_s = real(minimum=0)
    until_attack_s = real(minimum=0)
    long = flag()
    text = string(null=True)


class CallAnswer(GeometryAnswer):
    """One serve: from where, to where, how, and what comes of it."""

    spot = part(SpotAnswer)
    contact = part(PlaceAnswer)
    target = part(TargetAnswer)
    kind = choice(KINDS)
    speed_m_s = real(minimum=0)
    flight_time_s = real(minimum=0)
    net_margin_m = real("from the net's top to the ball's lowest point")
    launch_angle_deg = real()
    passer = part(PasserAnswer)
    scatter = part(CallScatterAnswer)
    p_error = chance()
    p_in = chance()
    p_ace = chance()
    grades = listed(chance(), 4, 4)
    pass_grade = real("mean over serves in, aces as 0", minimum=0, maximum=3)
    keep = chance("chance of winning the rally, and so of serving the next ball")
    plain = part(PlainAnswer)
    reasons = parts(ReasonAnswer, len(get_args(Part)))
    words = part(WordsAnswer)
    signal = parts(SignalAnswer, 3, 3)
    next_job = fields.Nested(NextJobAnswer, required=True, allow_none=True)


class AlternativeAnswer(CallAnswer):
    """Another call that differs enough to matter."""

    points_per_100 = real("against the best call")
    equal = flag()


class StayOffAnswer(Answer):
    """A serve to stay off, and why."""

    spot = part(SpotAnswer)
    contact = part(PlaceAnswer)
    target = part(TargetAnswer)
    passer = part(ReceiverAnswer)
    keep = chance()
    points_per_100 = real("against the best call")
    why = choice(get_args(Why))
    text = string()


class StepAnswer(Answer):
    """What another error ceiling would bring, against the present call."""

    error_ceiling = chance(null=True)
    met = flag()
    points_per_100 = real()
    p_error = chance()


class PolicyAnswer(Answer):
    """The error ceiling, and what it costs."""

    error_ceiling = chance(null=True)
    met = flag()
    least_error = chance("the fewest errors this server can make")
    start_error_ceiling = chance("the ceiling to start with for this level and kind")
    break_even_error = chance("errors at which the bolder call is worth as much", null=True)
    steps = parts(StepAnswer, 20)
    text = string()


class MissingSpotAnswer(Answer):
    """What it costs that the server cannot use a spot."""

    spot = choice(SPOT_NAMES)
    points_per_100 = real()
    text = string()


class LimitsAnswer(Answer):
    """What the server's limits cost."""

    missing_spots = parts(MissingSpotAnswer, len(SPOT_NAMES))


class DragAnswer(Answer):
    """Which model of the ball's flight the call rests on, and whether the other one agrees."""

    model = choice(DRAG_MODELS)
    other = choice(DRAG_MODELS)
    other_agrees = flag(null=True)
    text = string(null=True)


class BoundsAnswer(Answer):
    """Where something may be moved to. [m]"""

    x_min_m = real()
    x_max_m = real()
    y_min_m = real()
    y_max_m = real()


class HoldersAnswer(Answer):
    """What holds a player on each side, in words."""

    x_min_m = string()
    x_max_m = string()
    y_min_m = string()
    y_max_m = string()


class PlayerBoundsAnswer(BoundsAnswer):
    """Where a player may be moved to, and what holds her there."""

    by = part(HoldersAnswer)


class PlayerAnswer(ReceiverAnswer):
    """One of the receivers at the hit, and what is known of her."""

    role = choice(get_args(Role))
    limits = part(PlayerBoundsAnswer)
    pass_grade = real(null=True, minimum=0, maximum=3)
    passes = real(null=True, minimum=0)


class ServerAnswer(Answer):
    """The server the call was made for."""

    kind = choice(KINDS)
    speeds_m_s = listed(real(minimum=0), 6, 1)
    contact_height_m = real(minimum=0)
    contact_inside_m = real(minimum=0)
    spin_rev_s = real(minimum=0)
    scatter = part(ScatterAnswer)
    has_short_float = flag()
    spots = parts(ServerSpotAnswer, 18, 1)
    spot_limits = part(BoundsAnswer)


class SituationAnswer(Answer):
    """What the call was made for, defaults included."""

    level = choice(LEVELS)
    net_height_m = real(minimum=0)
    ball = choice(tuple(BALLS))
    service_line_m = real(minimum=0)
    setter_position = whole(1, 6, null=True)
    setter_row = choice(("front", "back"), null=True)
    setter_start = part(PlaceAnswer)
    pass_target = part(PlaceAnswer)
    pass_target_limits = part(BoundsAnswer)
    setter_faces = choice(SETTER_FACES)
    system = choice(SYSTEMS)
    formation = choice(FORMATIONS, null=True)
    players = parts(PlayerAnswer, 6, 1)
    server = part(ServerAnswer)


class AssumedAnswer(Answer):
    """Something that was not given."""

    name = string()
    text = string()


class CallsAnswer(Answer):
    """The best call, what else could be served, and what to stay off."""

    best = part(CallAnswer)
    alternatives = parts(AlternativeAnswer, 2)
    stay_off = parts(StayOffAnswer, 3)
    ceiling_cost_per_100 = real()
    policy = part(PolicyAnswer)
    limits = part(LimitsAnswer)
    drag = part(DragAnswer)
    assumed = parts(AssumedAnswer, 20)
    situation = part(SituationAnswer)


class AimedAnswer(Answer):
    """One serve that somebody chose."""

    serve = part(CallAnswer)
    situation = part(SituationAnswer)
