"""What is refused, and that the refusal says which value, and what was expected instead."""

from __future__ import annotations

import json
from io import BytesIO

import pytest
from cornerwise.app import create_app
from cornerwise.config import Config
from cornerwise.engine.bridge import RULES

SETTER = {"setter_position": 4}
SPEED = "a number from 3 to 40 m/s"
KINDS = "one of underhand, plain_overhand, standing_float, short_float, jump_float, standing_topspin, " \
    "jump_topspin"  # fmt: skip
NO_OTHER = "no field of this name, but one of "
MEMBERS = "level, net_height_m, drag_model, ball, service_line_m, server, opponent, policy"
GEOMETRY = {name: {"x_m": 1.0, "y_m": 2.0} for name in ("spot", "landing", "setter_start", "pass_target")}


def setter(**opponent: object) -> dict:
    return {"opponent": {**SETTER, **opponent}}


def server(**server: object) -> dict:
    return {"opponent": SETTER, "server": server}


@pytest.mark.parametrize(
    ("body", "field", "value", "expected"),
    [
        (setter(setter_position=7), "opponent.setter_position", 7, "a whole number from 1 to 6"),
        (setter(setter_position=0), "opponent.setter_position", 0, "a whole number from 1 to 6"),
        (setter(setter_position=1.5), "opponent.setter_position", 1.5, "a whole number from 1 to 6"),
        (setter(setter_position="4"), "opponent.setter_position", "4", "a whole number from 1 to 6"),
        (setter(setter_position=True), "opponent.setter_position", True, "a whole number from 1 to 6"),
        (setter(setter_position=None), "opponent.setter_position", None, "a whole number from 1 to 6"),
        (setter(passers="three"), "opponent.passers", "three", "a list of 1 to 5 items"),
        (setter(passers=[3]), "opponent.passers.0", 3, "an object"),
        (setter(passers=[{"x_m": 1}]), "opponent.passers.0.y_m", None, "a number from -20 to 20 m"),
        (setter(setter_faces="up"), "opponent.setter_faces", "up", "one of left, right"),
        (setter(setter_faces=["left"]), "opponent.setter_faces", ["left"], "one of left, right"),
        (setter(formation="six"), "opponent.formation", "six", "one of two, three, four, five"),
        (setter(colour="red"), "opponent.colour", "red", NO_OTHER + "setter_position, setter_start, "
         "pass_target, setter_faces, system, formation, passers"),
        (setter(pass_target={"x": 1, "x_m": 1, "y_m": 2}), "opponent.pass_target.x", 1,
         NO_OTHER + "x_m, y_m"),
        (server(spots=[{"x_m": 1, "y_m": -9, "z_m": 0}]), "server.spots.0.z_m", 0, NO_OTHER + "x_m, y_m"),
        (server(speeds_m_s=[15, -1]), "server.speeds_m_s.1", -1, SPEED),
        (server(speeds_m_s=[15, True]), "server.speeds_m_s.1", True, SPEED),
        (server(speeds_m_s=["15"]), "server.speeds_m_s.0", "15", SPEED),
        (server(speeds_m_s=[]), "server.speeds_m_s", [], "a list of 1 to 4 items"),
        (server(speeds_m_s=[15] * 7), "server.speeds_m_s", [15] * 7, "a list of 1 to 4 items"),
        (server(kind="smash"), "server.kind", "smash", KINDS),
        (server(contact_height_m=4.1), "server.contact_height_m", 4.1, "a number from 0.5 to 4 m"),
        (server(contact_inside_m=-0.1), "server.contact_inside_m", -0.1, "a number from 0 to 3 m"),
        (server(spin_rev_s=16), "server.spin_rev_s", 16, "a number from 0 to 15 rev/s"),
        (server(scatter={"across_m": 1}), "server.scatter.along_m", None, "a number from 0.2 to 5 m"),
        (server(scatter={"across_m": 0.19, "along_m": 1}), "server.scatter.across_m", 0.19,
         "a number from 0.2 to 5 m"),
        (server(scatter={"across_m": 1, "along_m": 0.19}), "server.scatter.along_m", 0.19,
         "a number from 0.2 to 5 m"),
        (server(has_short_float="yes"), "server.has_short_float", "yes", "true or false"),
        (server(has_short_float=1), "server.has_short_float", 1, "true or false"),
        (
            server(spots=["centre"]),
            "server.spots.0",
            "centre",
            "one of left_corner, left, middle, right, right_corner, or an object",
        ),
        (server(spots=[{"x_m": 21, "y_m": -9.2}]), "server.spots.0.x_m", 21, "a number from -20 to 20 m"),
        (server(spots=[["middle"]]), "server.spots.0", ["middle"],
         "one of left_corner, left, middle, right, right_corner, or an object"),
        ({"policy": {"error_ceiling": 1.01}}, "policy.error_ceiling", 1.01, "a number from 0 to 1"),
        ({"policy": {"error_ceiling": -0.01}}, "policy.error_ceiling", -0.01, "a number from 0 to 1"),
        ({"policy": {"error_ceiling": True}}, "policy.error_ceiling", True, "a number from 0 to 1"),
        ({"service_line_m": 9.5}, "service_line_m", 9.5, "a number from 6 to 9 m"),
        ({"net_height_m": "2.24"}, "net_height_m", "2.24", "a number from 1.5 to 2.6 m"),
        ({"drag_model": "C"}, "drag_model", "C", "one of A, B"),
        ({"ball": "beach"}, "ball", "beach", "one of match, youth, light"),
        ({"server": None}, "server", None, "an object"),
        ({"nonsense": {"deep": [1]}}, "nonsense", {"deep": [1]}, NO_OTHER + MEMBERS),
        ({"_schema": 1}, "_schema", 1, NO_OTHER + MEMBERS),
        ([], "", [], "an object"),
        (None, "", None, "an object"),
    ],
)  # fmt: skip
def test_a_call_that_does_not_fit_the_schema_is_refused(refused, body, field, value, expected):
    refusal = refused("calls", body)
    assert refusal.status == 422
    assert refusal.problem["type"] == "/problems/schema"
    assert refusal.errors == [(field, value, expected, "schema")]


PASSERS = [{"x_m": 2.9, "y_m": 6.3}, {"x_m": 0.0, "y_m": 6.7}, {"x_m": -2.9, "y_m": 6.3}]
BEFORE_HER = [{"x_m": 4, "y_m": y_m} for y_m in (1, 2, 3)]


@pytest.mark.parametrize(
    ("body", "field", "value", "expected", "rule"),
    [
        ({}, "opponent", {}, "setter_position (1 to 6) or opponent.setter_start", "setter_unknown"),
        (
            server(spots=["left", {"x_m": 4.6, "y_m": -9.2}]),
            "server.spots.1",
            {"x_m": 4.6, "y_m": -9.2},
            "x from -4.5 to 4.5 m, y from -12.0 to -9.0 m",
            "spot_outside_service_zone",
        ),
        (
            server(spots=[{"x_m": 4, "y_m": -6.9}]) | {"service_line_m": 7},
            "server.spots.0",
            {"x_m": 4, "y_m": -6.9},
            "y from -10.0 to -7.0 m",
            "spot_outside_service_zone",
        ),
        (server(speeds_m_s=[3]), "server.speeds_m_s", [3], "over the net into the court", "out_of_reach"),
        (
            setter(passers=[*PASSERS, {"x_m": 4.6, "y_m": 6}]),
            "opponent.passers.3.x_m",
            4.6,
            "-4.5 to 4.5 m",
            "passer_outside_court",
        ),
        (
            setter(passers=[{"x_m": 1, "y_m": -1}]),
            "opponent.passers.0.y_m",
            -1,
            "0 to 9 m",
            "passer_outside_court",
        ),
        (setter(passers=[]), "opponent.passers", [], "at least one passer", "no_passers"),
        (setter(passers=PASSERS * 2), "opponent.passers", 6, "at most 5 passers", "too_many_passers"),
        (
            setter(passers=[{"x_m": 1, "y_m": 6, "position": 4}]),
            "opponent.passers.0.position",
            4,
            "a position other than 4, which the setter holds",
            "position_taken",
        ),
        (
            setter(passers=[{**passer, "number": 12} for passer in PASSERS[:2]]),
            "opponent.passers.1.number",
            12,
            "a number other than 12, which passer 0 wears",
            "number_twice",
        ),
        (
            setter(passers=[{"x_m": 2, "y_m": 6, "position": 6}, {"x_m": 1, "y_m": 6.5, "position": 5}]),
            "opponent.passers.1.x_m",
            1,
            "position 6 must not be further to their left than position 5",
            "overlap",
        ),
        (
            setter(setter_start={"x_m": 3, "y_m": 9}, passers=BEFORE_HER),
            "opponent.setter_start",
            {"x_m": 3, "y_m": 9},
            "position 3 must not be further to their left than position 4",
            "no_legal_assignment",
        ),
        (
            setter(setter_start={"x_m": 3, "y_m": 9.5}),
            "opponent.setter_start.y_m",
            9.5,
            "0 to 9 m",
            "setter_outside_court",
        ),
        (
            setter(pass_target={"x_m": 0, "y_m": -1}),
            "opponent.pass_target",
            {"x_m": 0, "y_m": -1},
            "a place in their court",
            "target_outside_court",
        ),
    ],
)
def test_a_call_that_breaks_a_rule_is_refused_by_its_name(refused, body, field, value, expected, rule):
    refusal = refused("calls", body)
    assert refusal.status == 422
    assert refusal.problem["type"] == "/problems/rule"
    [error] = refusal.errors
    assert (error[0], error[1], error[3]) == (field, value, rule)
    assert expected in error[2]
    assert rule in RULES


@pytest.mark.parametrize("field", ["spot", "setter_start", "pass_target"])
def test_a_geometry_without_a_direction_is_refused(refused, field):
    apart = {name: {"x_m": 1.0, "y_m": y_m} for y_m, name in enumerate(GEOMETRY)}
    refusal = refused("geometry", apart | {field: apart["landing"]})
    assert refusal.errors == [
        (field, apart["landing"], "a place other than the landing", "degenerate_geometry")
    ]


def test_a_number_beyond_a_float_is_refused_and_shown_as_text(refused):
    refusal = refused("calls", '{"server": {"speeds_m_s": [1e400]}, "net_height_m": -1e999}')
    assert refusal.errors == [
        ("net_height_m", "-1e999", "a number from 1.5 to 2.6 m", "schema"),
        ("server.speeds_m_s.0", "1e400", SPEED, "schema"),
    ]


@pytest.mark.parametrize("length", [400, 5000])
def test_a_whole_number_beyond_a_float_is_refused_and_shown_as_text(refused, length):
    digits = "9" * length
    refusal = refused("calls", f'{{"net_height_m": {digits}, "opponent": {{"setter_position": {digits}}}}}')
    assert refusal.errors == [
        ("net_height_m", digits, "a number from 1.5 to 2.6 m", "schema"),
        ("opponent.setter_position", digits, "a whole number from 1 to 6", "schema"),
    ]


def test_a_whole_number_within_a_float_is_shown_as_a_number(refused):
    [(_, value, _, _)] = refused("calls", '{"net_height_m": 9007199254740993}').errors
    assert value == 9007199254740993  # 2**53 + 1, which no float holds: it is kept as it was sent


def test_every_fault_of_a_body_is_named_up_to_twenty(refused):
    refusal = refused("calls", {"net_height_m": 9, "drag_model": "C"})
    assert [field for field, *_ in refusal.errors] == ["net_height_m", "drag_model"]
    assert len(refused("calls", {f"field{k}": k for k in range(100)}).errors) == 20


def test_a_flight_with_a_negative_speed_is_refused(refused):
    flight = {"kind": "underhand", "speed_m_s": -15, "contact_height_m": 1, "spin_rev_s": 0, "range_m": 12}
    assert ("speed_m_s", -15, SPEED, "schema") in refused("flight", flight).errors


def test_a_flight_over_no_distance_is_refused(refused):
    expected = "a number above 0 and up to 40 m"
    assert ("range_m", 0, expected, "schema") in refused("flight", {"range_m": 0}).errors


@pytest.mark.parametrize("missing", sorted(GEOMETRY))
def test_a_place_missing_from_a_geometry_is_named(refused, missing):
    refusal = refused("geometry", {name: place for name, place in GEOMETRY.items() if name != missing})
    assert refusal.errors == [(missing, None, "an object", "schema")]


OTHER_TYPES = ["text/plain", "application/x-www-form-urlencoded", "", "text/json", "application/a+json"]


@pytest.mark.parametrize("content_type", OTHER_TYPES)
@pytest.mark.parametrize("path", ["calls", "geometry", "flight"])
def test_another_content_type_is_refused(refused, path, content_type):
    refusal = refused(path, json.dumps({"opponent": SETTER}), content_type)
    assert refusal.status == 415
    assert "application/json" in refusal.problem["detail"]


@pytest.mark.parametrize("path", ["calls", "geometry", "flight"])
def test_a_body_over_64_kb_is_refused(refused, path):
    refusal = refused(path, b"{}" + b" " * (64 * 1024 - 1))
    assert refusal.status == 413
    assert refusal.problem["detail"] == "a body has at most 64 KB (65536 bytes); 65537 bytes were sent"


@pytest.mark.parametrize("size", [65_537, 200_000])
def test_a_body_without_a_length_is_refused_once_it_is_over_64_kb(client, size):
    """As gunicorn hands on a chunked body: no length, and a stream that ends by itself."""
    chunked = {"wsgi.input_terminated": True, "HTTP_TRANSFER_ENCODING": "chunked"}
    response = client.post("/api/v1/calls", input_stream=BytesIO(b" " * size),
                           content_type="application/json", environ_overrides=chunked)  # fmt: skip
    assert response.status_code == 413
    assert response.json["detail"] == "a body has at most 64 KB (65536 bytes); more were sent"


def test_a_body_of_64_kb_is_read(refused):
    assert refused("geometry", b"{}" + b" " * (64 * 1024 - 2)).status == 422


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        (b"", "Expecting value"),
        (b"{", "Expecting property name"),
        (b"{} {}", "Extra data"),
        (b"\xff", "byte 1 is not UTF-8"),
        (b'{"net_height_m": NaN}', "NaN is not JSON"),
        (b'{"net_height_m": -Infinity}', "-Infinity is not JSON"),
        (b'{"net_height_m": 2.2, "net_height_m": 2.3}', "stands twice"),
        (b'{"opponent": {"setter_position": 1, "setter_position": 1}}', "stands twice"),
        (b'{"level": "\\ud800"}', "half a surrogate pair is not allowed in text"),
        (b'{"\\udfff": 1}', "half a surrogate pair is not allowed in text"),
        (b'{"level": "\\u0000"}', "U+0000"),
        (b'{"a\\u0000": 1}', "U+0000"),
        (b'{"server": %s%s}' % (b"[" * 21, b"]" * 21), "nested deeper"),
        (b'{"a":' * 10_000 + b"1" + b"}" * 10_000, "nested deeper"),
        (b"[" * 60_000, "nested deeper"),
    ],
)
def test_what_is_not_json_is_refused(refused, body, reason):
    refusal = refused("calls", body)
    assert refusal.status == 400
    assert reason in refusal.problem["detail"]
    assert "codec" not in refusal.problem["detail"]


def test_a_fault_of_the_server_is_problem_details_that_give_nothing_away(tmp_path):
    app = create_app(Config(dist=tmp_path, data=tmp_path / "data"))
    app.add_url_rule("/fault", "fault", lambda: {}["secret"])
    response = app.test_client().get("/fault")
    assert response.status_code == 500
    assert response.content_type == "application/problem+json"
    assert "secret" not in response.text
