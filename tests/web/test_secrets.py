"""What lets somebody in: kept as hashes, good once, out of a guesser's reach, no use to another site."""

from __future__ import annotations

import json
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest
import sqlalchemy as sa
from argon2 import PasswordHasher
from cornerwise.service import accounts, devices, secrets
from cornerwise.store import accounts as store
from cornerwise.store.account_tables import Device as Row
from cornerwise.store.account_tables import Person
from cornerwise.store.tables import db
from cornerwise.web.limits import PER_ADDRESS, household

from .test_accounts import PASSWORD, code_for, plain
from .test_rights import CLOSED, ENDS_IT_ALL, ask

AT_ONCE = 6
PLACES = dict.fromkeys(("match_id", "team_id", "player_id", "opponent_id", "device_id", "token_id"))
NOWHERE = {**dict.fromkeys(PLACES, "01900000-0000-7000-8000-00000000dead"), "setter_position": "1"}


def at_once(use: Callable[[], int]) -> list[int]:
    """Return the statuses that several get who use the same secret at the same moment."""
    ready = Barrier(AT_ONCE)

    def one(_: int) -> int:
        ready.wait(20)
        return use()

    db.session.rollback()  # SQLite: a reader of our own must not stand in the way
    with ThreadPoolExecutor(AT_ONCE) as pool:
        return sorted(pool.map(one, range(AT_ONCE)))


def test_of_several_who_use_a_link_or_a_code_at_once_one_gets_in(bench, new_device):
    once, code = accounts.new_link(store.people(bench.club)[0]), code_for(bench)
    before = db.session.scalar(sa.select(sa.func.count()).select_from(Row))
    expected = [200] + [401] * (AT_ONCE - 1)
    assert at_once(lambda: new_device().sign_in(once).status_code) == expected
    assert at_once(lambda: new_device().post("/api/v1/join", json={"code": code}).status_code) == expected
    assert db.session.scalar(sa.select(sa.func.count()).select_from(Row)) == before + 2


def test_a_code_that_is_used_up_lets_nobody_in_who_knows_it(bench, new_device):
    code = code_for(bench)
    assert new_device().post("/api/v1/join", json={"code": code}).status_code == 200
    again = new_device().post("/api/v1/join", json={"code": code})
    never = new_device().post("/api/v1/join", json={"code": "0" * len(code)})
    assert (again.status_code, again.data) == (401, never.data)


def everything_held() -> bytes:
    """Return the bytes of SQLite's files, or every live row of PostgreSQL."""
    db.session.rollback()
    if db.engine.dialect.name == "sqlite":
        return b"".join(file.read_bytes() for file in Path(str(db.engine.url.database)).parent.iterdir())
    rows = [db.session.execute(sa.select(table)).all() for table in db.metadata.sorted_tables]
    return repr(rows).encode()


def test_no_secret_lies_in_the_database_but_its_hash(bench, new_device):
    bench.put("/api/v1/password", json={"password": PASSWORD})
    token = bench.post("/api/v1/tokens", json={"label": "sheet", "role": "assistant"}).json["token"]
    secret = {
        "link": accounts.new_link(store.people(bench.club)[0]),
        "code": code_for(bench),
        "cookie": bench.get_cookie("cornerwise").value,
        "token": token,
    }
    held = everything_held()
    assert PASSWORD.encode() not in held
    for what, value in secret.items():
        assert value.encode() not in held, what
        assert secrets.hashed(value).encode() in held, what  # so that looking finds what is there
    assert token.removeprefix(secrets.TOKEN_START).encode() not in held


def test_passwords_are_hashed_when_somebody_signs_in_or_sets_one_and_never_else(
    bench, new_device, monkeypatch
):
    bench.put("/api/v1/password", json={"password": PASSWORD})
    token = bench.post("/api/v1/tokens", json={"label": "sheet", "role": "coach"}).json["token"]
    done: list[str] = []
    for name in ("hash", "verify"):
        real = getattr(PasswordHasher, name)
        monkeypatch.setattr(
            PasswordHasher, name, lambda *a, _real=real, _n=name: done.append(_n) or _real(*a)
        )
    bearer = {"Authorization": f"Bearer {token}"}
    for name in [one for one in CLOSED if one not in ENDS_IT_ALL | {"PUT /password"}]:
        for device, headers in ((bench, {}), (new_device(), bearer), (new_device(), {})):
            ask(device, name, NOWHERE, headers=headers)
    assert bench.post("/api/v1/join", json={"code": "00000000"}).status_code == 401
    assert done == []
    new_device().post("/api/v1/session", json={"name": "Ida Brook", "password": PASSWORD})
    assert done.count("verify") == 1  # beside it, once for each process, nobody's hash is made


def test_a_name_without_a_password_costs_what_a_wrong_one_does(bench, new_device, monkeypatch):
    """Nobody learns from the time an answer takes who is here: one hash is compared, whoever is asked for."""
    accounts.add_person(bench.club, "Tess Marsh", "assistant")
    bench.put("/api/v1/password", json={"password": PASSWORD})
    compared: list[str] = []
    real = PasswordHasher.verify
    monkeypatch.setattr(PasswordHasher, "verify", lambda *a: compared.append(a[1]) or real(*a))
    answers = [
        new_device().post("/api/v1/session", json={"name": name, "password": "some guess or other"})
        for name in ("Ida Brook", "Tess Marsh", "Nobody")
    ]
    assert len({(answer.status_code, answer.data) for answer in answers}) == 1
    work = [kept.rsplit("$", 2)[0] for kept in compared]
    assert (len(work), len(set(work))) == (3, 1)  # the same algorithm, version and cost each time


FORMS = ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x")


@pytest.mark.parametrize("kind", FORMS)
@pytest.mark.parametrize("headers", [{}, {"Origin": "https://elsewhere.example"}, {"Origin": "null"}])
def test_a_form_of_another_site_changes_nothing(bench, kind, headers):
    """What a page may send elsewhere without asking: Fetch Standard, "CORS-safelisted request-header"."""
    body = json.dumps({"name": "Taken over", "label": "spy", "role": "coach"})
    victim = plain(bench)
    for method, path in (
        ("POST", "tokens"),
        ("POST", "devices/codes"),
        ("POST", "teams"),
        ("POST", "matches"),
    ):
        answer = victim.open(f"/api/v1/{path}", method=method, data=body, content_type=kind, headers=headers)
        assert answer.status_code == 403, path
        own = {"Sec-Fetch-Site": "same-origin"}
        assert (
            victim.open(
                f"/api/v1/{path}", method=method, data=body, content_type=kind, headers=own
            ).status_code
            == 415
        )
    assert bench.get("/api/v1/tokens").json["items"] == []
    assert bench.get("/api/v1/teams").json["items"] == []


def test_no_answer_invites_another_site_to_read_it(bench):
    elsewhere = {"Origin": "https://elsewhere.example", "Sec-Fetch-Site": "cross-site"}
    for method in ("GET", "OPTIONS"):
        answer = bench.open("/api/v1/club", method=method, headers=elsewhere)
        assert not [name for name, _ in answer.headers if name.startswith("Access-Control-Allow")]


def test_a_network_of_ipv6_counts_as_one_address(bench, new_device):
    """RFC 6177, 2: a site gets a /64 or more; counting each address would let a guesser go on for ever."""
    assert household("2001:db8:1:2:3:4:5:6") == household("2001:db8:1:2::9") == "2001:db8:1:2::"
    assert household("2001:db8:1:3::9") != household("2001:db8:1:2::9")
    assert household("::ffff:192.0.2.7") == household("192.0.2.7") == "192.0.2.7"
    assert household("192.0.2.8") != household("192.0.2.7")

    def tried(address: str) -> int:
        return (
            new_device()
            .post("/api/v1/join", json={"code": "AAAAAAAA"}, environ_base={"REMOTE_ADDR": address})
            .status_code
        )

    assert [tried(f"2001:db8:1:2::{n:x}") for n in range(31)] == [401] * 30 + [429]
    assert tried("2001:db8:1:3::1") == 401


def test_a_code_is_out_of_reach_of_a_thousand_guessers_for_all_of_its_ten_minutes():
    """Ten clubs, each with as many codes waiting as it may have; each guesser with an address of its own."""
    codes = len(secrets.CROCKFORD) ** secrets.CODE_LENGTH
    assert codes == 2**40
    minutes = PER_ADDRESS.multiples or 1
    tries = 1000 * PER_ADDRESS.amount * (devices.CODE_LASTS.total_seconds() / 60 / minutes + 1)
    assert tries * 10 * devices.MOST_CODES / codes < 1e-4
    made = {secrets.new_code() for _ in range(2000)}
    assert len(made) == 2000
    assert {letter for code in made for letter in code} == set(secrets.CROCKFORD)


def test_a_person_who_is_removed_leaves_nobody_a_way_in(bench, new_device):
    person = accounts.add_person(bench.club, "Tess Marsh", "coach")
    theirs = new_device()
    once = accounts.new_link(person)
    assert theirs.sign_in(once).status_code == 200
    made = theirs.post("/api/v1/tokens", json={"label": "hers", "role": "coach"}).json["token"]
    code, link = code_for(theirs), accounts.new_link(person)
    accounts.remove_person(db.session.get(Person, person.id))
    assert new_device().get("/api/v1/matches", headers={"Authorization": f"Bearer {made}"}).status_code == 401
    assert new_device().post("/api/v1/join", json={"code": code}).status_code == 401
    assert new_device().sign_in(link).status_code == 401
