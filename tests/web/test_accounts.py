"""Signing in, joining, roles' devices, and what is left of them: over HTTP, on both databases."""

from __future__ import annotations

import json
from datetime import timedelta
from http.cookies import SimpleCookie

import pytest
import sqlalchemy as sa
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened, RallyWon, SetStarted
from cornerwise.engine.match.logbook import logged
from cornerwise.service import accounts, clubs, devices, passwords, secrets
from cornerwise.store import accounts as store
from cornerwise.store.account_tables import Device as Row
from cornerwise.store.account_tables import JoinCode, SignInLink
from cornerwise.store.tables import db, now
from flask import Response
from flask.testing import FlaskClient

PASSWORD = "far corner, deep"
LOG = [
    format_entry(e) for e in logged(MatchOpened(us="Quarry Lane"), SetStarted("us"), *[RallyWon("us")] * 4)
]
MATCH = "01900000-0000-7000-8000-0000000000aa"


def cookie_of(response) -> tuple[str, SimpleCookie]:
    """Return the session's cookie as it was set: its value, and the whole."""
    [header] = response.headers.getlist("Set-Cookie")
    jar = SimpleCookie(header)
    [morsel] = jar.values()
    return morsel.value, jar


def code_for(coach, **body: str) -> str:
    answer = coach.post("/api/v1/devices/codes", json={"role": "assistant", **body})
    assert answer.status_code == 201
    return answer.json["code"]


def joined(coach, new_device, **body: str):
    device = new_device()
    assert device.post("/api/v1/join", json={"code": code_for(coach, **body)}).status_code == 200
    return device


def id_of(device) -> str:
    return device.get("/api/v1/session").json["who"]["device_id"]


def test_a_link_signs_in_once(bench, new_device, kept):
    once = accounts.new_link(store.people(bench.club)[0])
    first = new_device()
    who = first.sign_in(once).json["who"]
    assert (who["club"]["name"], who["name"], who["role"]) == ("Quarry Lane", "Ida Brook", "coach")
    assert first.get("/api/v1/session").json["who"] == who
    again = new_device().sign_in(once)
    assert (again.status_code, again.json["type"]) == (401, "about:blank")
    assert "used before, or is too old" in again.json["detail"]


def test_a_link_that_is_too_old_or_was_replaced_signs_nobody_in(bench, new_device):
    person = store.people(bench.club)[0]
    replaced, once = accounts.new_link(person), accounts.new_link(person)
    assert new_device().sign_in(replaced).status_code == 401
    db.session.execute(sa.update(SignInLink).values(expires_at=now() - timedelta(seconds=1)))
    db.session.commit()
    assert new_device().sign_in(once).status_code == 401


def test_a_password_signs_in_and_a_wrong_one_is_answered_like_an_unknown_name(bench, new_device):
    assert bench.put("/api/v1/password", json={"password": PASSWORD}).status_code == 204
    device = new_device()
    given = {"name": " IDA brook ", "password": PASSWORD}
    assert device.post("/api/v1/session", json=given).json["who"]["has_password"] is True
    wrong = new_device().post("/api/v1/session", json={**given, "password": "far corner, short"})
    unknown = new_device().post("/api/v1/session", json={**given, "name": "Nobody"})
    assert (wrong.status_code, wrong.json) == (401, unknown.json)
    assert PASSWORD not in wrong.text


def test_an_unknown_name_costs_a_hash_like_a_known_one(bench, monkeypatch):
    bench.put("/api/v1/password", json={"password": PASSWORD})
    compared = []
    right = passwords.right
    monkeypatch.setattr(passwords, "right", lambda *given: compared.append(given[1]) or right(*given))
    for name in ("Ida Brook", "Nobody"):
        bench.post("/api/v1/session", json={"name": name, "password": "some other one"})
    assert [kept is None for kept in compared] == [False, True]


def test_passwords_are_kept_as_argon2id_with_the_work_that_rfc_9106_advises():
    """RFC 9106, section 4, second recommended option: t=3, p=4, m=64 MiB."""
    kept = passwords.hashed(PASSWORD, "usual")
    assert kept.startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    assert passwords.right(PASSWORD, kept, "usual")
    assert not passwords.right(PASSWORD + " ", kept, "usual")
    assert not passwords.right("nobody's password", None, "least")
    assert passwords.outdated(passwords.hashed(PASSWORD, "least"), "usual")


@pytest.mark.parametrize(
    ("password", "rule"),
    [("too short", "schema"), ("x" * 201, "schema"), (1234567890, "schema"), ("Volleyball12", "guessable"),
     ("ababababab", "guessable"), ("Ida Brook!", "guessable")],
)  # fmt: skip
def test_a_password_that_somebody_would_guess_is_refused_and_not_sent_back(bench, password, rule):
    answer = bench.put("/api/v1/password", json={"password": password})
    assert answer.status_code == 422
    assert answer.json["errors"][0]["rule"] == rule
    assert answer.json["errors"][0]["value"] is None


def test_a_new_password_needs_the_old_one_and_signs_out_everywhere_else(bench, new_device):
    other = new_device()
    other.sign_in(accounts.new_link(store.people(bench.club)[0]))
    assert bench.put("/api/v1/password", json={"password": PASSWORD}).status_code == 204
    assert other.get("/api/v1/session").json["revoked"] is True
    wrong = {"password": "another corner, deep", "current": "no such password"}
    for body in (wrong, {"password": "another corner, deep"}):
        assert bench.put("/api/v1/password", json=body).status_code == 401
    assert bench.put("/api/v1/password", json={**wrong, "current": PASSWORD}).status_code == 204
    assert bench.get("/api/v1/matches").status_code == 200


def test_a_device_that_joined_has_no_password_to_set(bench, new_device):
    answer = joined(bench, new_device).put("/api/v1/password", json={"password": PASSWORD})
    assert (answer.status_code, answer.json["errors"][0]["rule"]) == (422, "no_person")


def test_the_cookie_is_out_of_reach_for_scripts_and_for_other_sites(bench, new_device):
    once = accounts.new_link(store.people(bench.club)[0])
    _, jar = cookie_of(new_device().sign_in(once))
    plain = jar["cornerwise"]
    assert (plain["httponly"], plain["samesite"], plain["path"], plain["secure"]) == (True, "Strict", "/", "")
    assert plain["max-age"] == str(180 * 24 * 3600)
    once = accounts.new_link(store.people(bench.club)[0])
    device = new_device()
    https = {"json": {"once": once}, "base_url": "https://localhost"}
    token, jar = cookie_of(device.post("/api/v1/session", **https))
    secure = jar["__Host-cornerwise"]
    assert (secure["httponly"], secure["secure"], secure["domain"], secure["path"]) == (True, True, "", "/")
    assert device.get("/api/v1/matches", base_url="https://localhost").status_code == 200
    stranger = new_device()
    stranger.set_cookie("cornerwise", token)  # a name that somebody without HTTPS could have set
    assert stranger.get("/api/v1/matches", base_url="https://localhost").status_code == 401


def test_a_session_that_was_there_before_is_not_the_one_after_signing_in(bench, new_device):
    """Session fixation: whatever cookie a browser comes with, signing in makes a new one."""
    planted = "planted-by-somebody-else-planted-by-somebody"
    victim = new_device()
    victim.set_cookie("cornerwise", planted)
    token, _ = cookie_of(victim.sign_in(accounts.new_link(store.people(bench.club)[0])))
    assert token != planted
    attacker = new_device()
    attacker.set_cookie("cornerwise", planted)
    assert attacker.get("/api/v1/matches").status_code == 401
    later, _ = cookie_of(victim.sign_in(accounts.new_link(store.people(bench.club)[0])))
    attacker.set_cookie("cornerwise", token)
    assert attacker.get("/api/v1/matches").status_code == 401  # the session before it is over
    assert later != token


@pytest.mark.parametrize(
    "headers",
    [{"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}, {"Sec-Fetch-Site": "none"},
     {"Origin": "https://elsewhere.example"}, {"Origin": "null"}, {}],
)  # fmt: skip
def test_a_change_that_no_page_of_the_app_asked_for_is_refused(bench, headers):
    client = bench if "Sec-Fetch-Site" in headers else plain(bench)
    for method, path in (("POST", "matches"), ("DELETE", "club"), ("PATCH", "club"), ("DELETE", "session")):
        answer = client.open(f"/api/v1/{path}", method=method, json={"name": "Taken over"}, headers=headers)
        assert (answer.status_code, answer.json["type"]) == (403, "/problems/cross_site"), path
    assert bench.get("/api/v1/club").json["name"] == "Quarry Lane"


def plain(bench):
    """A browser without Sec-Fetch-Site, as browsers are without HTTPS, with the same cookie."""
    client = FlaskClient(bench.application, Response, use_cookies=True)
    client.set_cookie("cornerwise", bench.get_cookie("cornerwise").value)
    return client


def test_without_https_the_origin_says_that_a_page_of_the_app_asks(bench):
    answer = plain(bench).post("/api/v1/matches", json={}, headers={"Origin": "http://localhost"})
    assert answer.status_code == 201


def test_nobody_is_signed_in_behind_her_back(bench, new_device):
    elsewhere = {"Sec-Fetch-Site": "cross-site"}
    once = accounts.new_link(store.people(bench.club)[0])
    assert new_device().post("/api/v1/session", json={"once": once}, headers=elsewhere).status_code == 403
    code = code_for(bench)
    assert new_device().post("/api/v1/join", json={"code": code}, headers=elsewhere).status_code == 403
    assert new_device().post("/api/v1/join", json={"code": code}).status_code == 200  # it was not used up


def test_a_script_needs_no_browser_and_no_cookie(bench, kept):
    made = bench.post("/api/v1/tokens", json={"label": "sheet", "role": "assistant"}).json
    assert made["token"].startswith("cornerwise_")
    script = plain(bench)
    script.delete_cookie("cornerwise")
    bearer = {"Authorization": f"Bearer {made['token']}"}
    assert script.post("/api/v1/matches", json={}, headers=bearer).status_code == 201
    assert script.delete("/api/v1/club", headers=bearer).status_code == 403


def test_signing_out_ends_the_session_on_the_server(bench):
    token = bench.get_cookie("cornerwise").value
    answer = bench.delete("/api/v1/session")
    assert answer.status_code == 204
    assert bench.get_cookie("cornerwise") is None
    bench.set_cookie("cornerwise", token)
    assert bench.get("/api/v1/matches").status_code == 401


def test_a_device_stays_signed_in_for_180_days_after_its_last_visit(bench):
    device = id_of(bench)

    def move(**values) -> None:
        db.session.execute(sa.update(Row).where(Row.id == device).values(**values))
        db.session.commit()

    move(seen_at=now() - timedelta(days=100), expires_at=now() + timedelta(days=80))
    answer = bench.get("/api/v1/matches")
    assert cookie_of(answer)[0] == bench.get_cookie("cornerwise").value  # its cookie lives on too
    assert db.session.get(Row, device).expires_at > now() + timedelta(days=179)
    assert bench.get("/api/v1/matches").headers.getlist("Set-Cookie") == []
    move(expires_at=now() - timedelta(seconds=1))
    assert bench.get("/api/v1/matches").status_code == 401


def test_a_code_lets_one_device_in_however_it_is_typed(bench, new_device):
    code = code_for(bench)
    assert len(code) == 8
    assert set(code) <= set(secrets.CROCKFORD)
    typed = f" {code[:4].lower()}-{code[4:]} ".replace("0", "o").replace("1", "l")
    device = new_device()
    who = device.post("/api/v1/join", json={"code": typed, "label": "Tablet"}).json["who"]
    assert (who["role"], who["name"], who["label"]) == ("assistant", None, "Tablet")
    again = new_device().post("/api/v1/join", json={"code": code})
    assert (again.status_code, again.json["detail"]) == (
        401, "this code is not good, or not any more: ask for a new one",
    )  # fmt: skip
    listed = bench.get("/api/v1/devices").json["items"]
    assert [(d["label"], d["role"], d["joined_by"], d["this"]) for d in listed] == [
        ("Tablet", "assistant", "Ida Brook", False), ("Phone", "coach", None, True),
    ]  # fmt: skip


def test_a_code_goes_after_ten_minutes(bench, new_device):
    code = code_for(bench)
    until = db.session.scalar(sa.select(JoinCode.expires_at))
    assert timedelta(minutes=9) < until - now() <= timedelta(minutes=10)
    db.session.execute(sa.update(JoinCode).values(expires_at=now()))
    db.session.commit()
    assert new_device().post("/api/v1/join", json={"code": code}).status_code == 401


def test_the_address_for_a_code_carries_it_where_no_server_sees_it(bench):
    made = bench.post("/api/v1/devices/codes", json={"role": "assistant"}).json
    assert made["address"] == f"http://localhost/join#{made['code']}"


@pytest.mark.parametrize(
    "body", [{"role": "server"}, {"role": "assistant", "team": "Quarry Lane"}, {"role": "coach", "team": "x"}]
)
def test_a_server_view_is_for_a_team_or_a_match_and_others_for_no_team(bench, body):
    answer = bench.post("/api/v1/devices/codes", json=body)
    assert (answer.status_code, answer.json["errors"][0]["rule"]) == (422, "server_scope")


def test_trying_codes_links_and_passwords_is_slowed_down(bench, new_device):
    """Thirty tries from an address in ten minutes, ten of an account."""
    for path, body in (("join", {"code": "AAAAAAAA"}), ("session", {"once": "guess"})):
        answers = [new_device().post(f"/api/v1/{path}", json=body) for _ in range(31)]
        before = 1 if path == "session" else 0  # the bench itself signed in
        assert [a.status_code for a in answers[: 30 - before]] == [401] * (30 - before)
        last = answers[-1]
        assert (last.status_code, last.content_type) == (429, "application/problem+json")
        assert 0 < int(last.headers["Retry-After"]) <= 600


def test_trying_one_account_from_many_addresses_is_slowed_down(bench, new_device):
    body = {"name": "Ida Brook", "password": "some guess or other"}
    answers = [
        new_device().post("/api/v1/session", json=body, environ_base={"REMOTE_ADDR": f"192.0.2.{n}"})
        for n in range(11)
    ]
    assert [answer.status_code for answer in answers] == [401] * 10 + [429]
    body["name"] = "Somebody else"
    other = new_device().post("/api/v1/session", json=body, environ_base={"REMOTE_ADDR": "192.0.2.99"})
    assert other.status_code == 401


def test_what_a_revoked_device_logged_is_held_until_the_coach_accepts_it(bench, new_device):
    match_id = bench.post("/api/v1/matches", json={"name": "Cup"}).json["id"]
    url = f"/api/v1/matches/{match_id}/events"
    phone = joined(bench, new_device)
    device = id_of(phone)
    assert len(phone.post(url, json={"events": LOG[:2]}).json["accepted"]) == 2
    bench.delete(f"/api/v1/devices/{device}")
    for _ in range(2):  # sending twice is as good as once
        refused = phone.post(url, json={"events": [*LOG[2:], {"id": "no event"}]})
        assert (refused.status_code, refused.json["type"]) == (401, "/problems/revoked")
        assert refused.json["held"] == 4
    phone.post(f"/api/v1/matches/{MATCH}/events", json={"events": LOG[:1]})  # a match it had begun by itself
    assert len(bench.get(url).json["items"]) == 2
    held = bench.get(f"/api/v1/devices/{device}/held").json["items"]
    assert held == [{"match_id": match_id, "events": LOG[2:]}, {"match_id": MATCH, "events": LOG[:1]}]
    listed = next(d for d in bench.get("/api/v1/devices").json["items"] if d["id"] == device)
    assert (listed["held"], listed["revoked_at"] is None) == (5, False)
    taken = bench.post(f"/api/v1/devices/{device}/held/accept").json["items"]
    said = [(one["match_id"], one["accepted"], one["refused"]) for one in taken]
    assert said == [(match_id, 4, 0), (MATCH, 1, 0)]
    assert [item["event"] for item in bench.get(url).json["items"]] == LOG
    assert bench.get(f"/api/v1/matches/{MATCH}").json["us"] == "Quarry Lane"
    assert bench.get(f"/api/v1/devices/{device}/held").json["items"] == []


def test_what_was_held_can_be_discarded_and_stays_where_it_cannot_be_taken(bench, new_device):
    match_id = bench.post("/api/v1/matches", json={}).json["id"]
    phone = joined(bench, new_device)
    device = id_of(phone)
    bench.delete(f"/api/v1/devices/{device}")
    bench.delete(f"/api/v1/matches/{match_id}")
    phone.post(f"/api/v1/matches/{match_id}/events", json={"events": LOG})
    [taken] = bench.post(f"/api/v1/devices/{device}/held/accept").json["items"]
    assert (taken["refused"], taken["problem"]) == (len(LOG), "this match was deleted, with all its events")
    assert bench.delete(f"/api/v1/devices/{device}/held").json == {"discarded": len(LOG)}
    assert bench.get(f"/api/v1/devices/{device}/held").json["items"] == []


def test_only_so_much_is_held_and_nothing_of_who_was_never_let_in_to_log(bench, new_device, monkeypatch):
    monkeypatch.setattr(devices, "MOST_HELD", 3)
    match_id = bench.post("/api/v1/matches", json={}).json["id"]
    other = bench.post("/api/v1/matches", json={}).json["id"]
    phone = joined(bench, new_device, match=match_id)
    view = joined(bench, new_device, role="server", match=match_id)
    for device in (phone, view):
        bench.delete(f"/api/v1/devices/{id_of(device)}")
    assert phone.post(f"/api/v1/matches/{match_id}/events", json={"events": LOG}).json["held"] == 3
    assert phone.post(f"/api/v1/matches/{other}/events", json={"events": LOG}).json["held"] == 0
    assert "held" not in view.post(f"/api/v1/matches/{match_id}/events", json={"events": LOG}).json
    monkeypatch.setattr(devices, "MOST_HELD", 100)
    monkeypatch.setattr(devices, "MOST_HELD_BYTES", 500)
    assert phone.post(f"/api/v1/matches/{match_id}/events", json={"events": LOG}).json["held"] == 3


def test_a_person_who_is_removed_is_out_and_her_devices_with_her(bench, new_device):
    person = accounts.add_person(bench.club, "Tess Marsh", "assistant")
    phone = new_device()
    phone.sign_in(accounts.new_link(person))
    assert phone.get("/api/v1/matches").status_code == 200
    accounts.remove_person(person)
    assert phone.get("/api/v1/session").json["revoked"] is True
    assert [p.name for p in store.people(bench.club)] == ["Ida Brook"]


def test_the_export_holds_everything_of_the_club_but_no_secret(bench, new_coach, new_device):
    match_id = bench.post("/api/v1/matches", json={"name": "Cup"}).json["id"]
    bench.post(f"/api/v1/matches/{match_id}/events", json={"events": LOG})
    bench.put("/api/v1/password", json={"password": PASSWORD})
    joined(bench, new_device)
    token = bench.post("/api/v1/tokens", json={"label": "sheet", "role": "coach"}).json["token"]
    theirs = new_coach("Mill Road", "Ada Stone").post("/api/v1/matches", json={"name": "Theirs"}).json["id"]
    answer = bench.get("/api/v1/club/export")
    assert answer.headers["Content-Disposition"] == 'attachment; filename="club.json"'
    said = json.loads(answer.text)
    assert (said["format"], said["club"]["name"]) == ("cornerwise-club", "Quarry Lane")
    assert said["tables"].keys() == {table.name for table in db.metadata.sorted_tables} - {"club"}
    assert [event["body"] for event in said["tables"]["event"] if event["match_id"] == match_id] == LOG
    assert [person["name"] for person in said["tables"]["person"]] == ["Ida Brook"]
    assert len(said["tables"]["device"]) == 2
    for secret in ("argon2", secrets.hashed(token), "_hash", "Theirs", "Ada Stone", theirs):
        assert secret not in answer.text


def test_deleting_a_club_says_what_it_means_and_leaves_nothing(bench, new_coach, new_device):
    other = new_coach("Mill Road", "Ada Stone")
    bench.post("/api/v1/matches", json={"name": "Cup"})
    phone = joined(bench, new_device)
    before = bench.get("/api/v1/club").json["deleting"]
    assert before.startswith("Quarry Lane would be gone for good, with 1 match, ")
    answer = bench.delete("/api/v1/club").json
    assert answer["text"] == before.replace("would be gone", "is gone")
    for device in (bench, phone):
        assert device.get("/api/v1/matches").status_code == 401
    for table in db.metadata.sorted_tables:
        column = table.c.id if table.name == "club" else table.c.club_id
        left = sa.select(sa.func.count()).select_from(table).where(column == bench.club)
        assert db.session.scalar(left) == 0, table.name
    assert other.get("/api/v1/club").json["name"] == "Mill Road"


def test_a_club_can_be_renamed(bench):
    assert bench.patch("/api/v1/club", json={"name": "Quarry Lane VC"}).json["name"] == "Quarry Lane VC"
    assert bench.get("/api/v1/session").json["who"]["club"]["name"] == "Quarry Lane VC"


def test_the_coach_of_a_new_machine_gets_links_until_she_has_a_password(kept, new_device):
    device = new_device()
    assert device.sign_in(clubs.first_link()).json["who"]["club"]["id"] == clubs.LOCAL_CLUB
    assert device.get("/api/v1/matches").json["items"][0]["demo"] is True
    again = clubs.first_link()
    assert new_device().sign_in(again).status_code == 200
    device.put("/api/v1/password", json={"password": PASSWORD})
    assert clubs.first_link() is None
