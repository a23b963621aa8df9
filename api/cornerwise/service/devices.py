"""Devices: let in by a code, listed, revoked; and what a revoked one still sends, held for the coach."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.match import parse_entry
from cornerwise.store import accounts as store
from cornerwise.store.account_tables import ApiToken, Device, JoinCode
from cornerwise.store.tables import now

from . import live, matches
from .accounts import STAYS_SIGNED_IN, Role, Who
from .errors import IdTaken, MatchDeleted, NoSuchDevice, NoSuchToken, NotLetIn, TooMany
from .ids import new_id
from .secrets import TOKEN_START, hashed, new_code, new_token, read_code

CODE_LASTS = timedelta(minutes=10)  # chosen: long enough to walk across the hall
MOST_DEVICES, MOST_CODES, MOST_TOKENS = 500, 50, 50  # of a club; chosen
MOST_HELD, MOST_HELD_BYTES = 2000, 1024 * 1024  # of a device; chosen: some four matches
LOGS: Sequence[Role] = ("assistant", "coach")


def new_join_code(who: Who, role: Role, team: str | None, match_id: str | None) -> dict[str, Any]:
    """Return a code that lets one device in, and until when.

    team, match_id : all that the device will see, if given; a server view needs one of them. With a match an
        assistant's device also gets the match's team of ours, as it is named now: see `scope`

    Raises NoSuchMatch, MatchDeleted, RuleBroken, TooMany.
    """
    if role == "server" and team is None and match_id is None:
        raise RuleBroken(
            "team", None, "a team or a match, for a server view sees nothing else", "server_scope"
        )
    if role != "server" and team is not None:
        raise RuleBroken("team", team, "no team, unless for a server view", "server_scope")
    if role == "coach" and match_id is not None:
        raise RuleBroken("match", match_id, "no match, for a coach sees everything", "server_scope")
    if match_id is not None:
        match = matches.caught_up(who.club, match_id)
        team = match.us if role == "assistant" else team
    store.tidy()
    if store.count(JoinCode, who.club) >= MOST_CODES:
        raise TooMany(f"there are {MOST_CODES} codes waiting: they go within ten minutes")
    code, until = new_code(), now() + CODE_LASTS
    store.add(
        JoinCode(
            code_hash=hashed(code), club_id=who.club, made_by=who.person_id, role=role, team=team,
            match_id=match_id, expires_at=until,
        )
    )  # fmt: skip
    return {"code": code, "expires_at": until.isoformat()}


def join(code: str, label: str) -> str:
    """Let a device in by a code; return the device's token. Raises NotLetIn, TooMany."""
    taken = store.take_code(hashed(read_code(code)))
    if taken is None:
        raise NotLetIn("this code is not good, or not any more: ask for a new one")
    if store.count(Device, taken.club_id) >= MOST_DEVICES:
        raise TooMany(f"the club has {MOST_DEVICES} devices already: revoke some")
    token = new_token()
    store.add(
        Device(
            id=new_id(), club_id=taken.club_id, joined_by=taken.made_by, label=label, role=taken.role,
            team=taken.team, match_id=taken.match_id, token_hash=hashed(token),
            expires_at=now() + STAYS_SIGNED_IN,
        )
    )  # fmt: skip
    return token


def devices(who: Who) -> dict[str, Any]:
    """Return the club's devices, the last to join first."""
    return {
        "items": [
            {
                "id": row.id, "label": row.label, "role": row.role, "team": row.team,
                "match_id": row.match_id, "person": person, "joined_by": joined_by,
                "this": row.id == who.device_id, "created_at": row.created_at.isoformat(),
                "seen_at": row.seen_at.isoformat(), "expires_at": row.expires_at.isoformat(),
                "revoked_at": row.revoked_at and row.revoked_at.isoformat(), "held": held,
            }
            for row, person, joined_by, held in store.devices(who.club, MOST_DEVICES)
        ]
    }  # fmt: skip


def revoke(club: str, device_id: str) -> None:
    """Let a device do nothing any more, from its next contact on. Raises NoSuchDevice."""
    found(club, device_id)
    store.revoke_device(club, device_id)


def found(club: str, device_id: str) -> Device:
    device = store.device_of(club, device_id)
    if device is None:
        raise NoSuchDevice
    return device


def hold(who: Who, match_id: str, batch: list[Any]) -> int:
    """Keep what a revoked device sends of a match; return how many events of this batch are kept.

    Only a device that was let in to log, only for what it might see, only whole events, and only so many.
    """
    if who.device_id is None or who.role not in LOGS or who.match_id not in (None, match_id):
        return 0
    device = found(who.club, who.device_id)
    count, size = store.held_size(device.id)
    known = store.held_ids(device.id, match_id)
    good, kept = [], 0
    for event in filter(_whole, batch):
        length = len(json.dumps(event))
        if event["id"] in known:
            kept += 1
        elif count < MOST_HELD and size + length <= MOST_HELD_BYTES:
            good.append((event, length))
            known.add(event["id"])
            count, size, kept = count + 1, size + length, kept + 1
    store.hold(device, match_id, good)
    return kept


def _whole(event: Any) -> bool:
    try:
        parse_entry(event, "event")
        live.check_text(event, "event")
    except RuleBroken:
        return False
    return True


def held(club: str, device_id: str) -> dict[str, Any]:
    """Return what is held of a device, match by match. Raises NoSuchDevice."""
    found(club, device_id)
    return {
        "items": [
            {"match_id": match, "events": events} for match, events in _by_match(club, device_id).items()
        ]
    }


def _by_match(club: str, device_id: str) -> dict[str, list[dict[str, Any]]]:
    by_match: dict[str, list[dict[str, Any]]] = {}
    for match_id, event in store.held(club, device_id):
        by_match.setdefault(match_id, []).append(event)
    return by_match


def accept(club: str, device_id: str) -> dict[str, Any]:
    """Take what is held of a device into the logs of its matches; return what became of it.

    A match that only this device had begun is begun. What cannot be taken stays held. Raises NoSuchDevice.
    """
    found(club, device_id)
    return {
        "items": [
            _taken(club, device_id, match, events) for match, events in _by_match(club, device_id).items()
        ]
    }


def _taken(club: str, device_id: str, match_id: str, events: list[dict[str, Any]]) -> dict[str, Any]:
    said = {"match_id": match_id, "accepted": 0, "known": 0, "refused": 0, "problem": None}
    try:
        matches.begin(club, match_id)
        answer = live.post(club, match_id, events)
    except (IdTaken, MatchDeleted) as error:
        return {**said, "refused": len(events), "problem": str(error)}
    refused = {one["id"] for one in answer["refused"]}
    store.let_go(club, device_id, match_id, [e["id"] for e in events if e["id"] not in refused])
    problem = answer["refused"][0]["error"]["expected"] if refused else None
    counts = {name: len(answer[name]) for name in ("accepted", "known", "refused")}
    return {**said, **counts, "problem": problem}


def discard(club: str, device_id: str) -> int:
    """Delete what is held of a device; return how many events that were. Raises NoSuchDevice."""
    found(club, device_id)
    return store.let_go(club, device_id)


def new_api_token(who: Who, label: str, role: Role) -> dict[str, Any]:
    """Return a new token for a script, which is shown this once. Raises TooMany."""
    if store.count(ApiToken, who.club) >= MOST_TOKENS:
        raise TooMany(f"the club has {MOST_TOKENS} tokens already: revoke some")
    token = TOKEN_START + new_token()
    row = ApiToken(
        id=new_id(), club_id=who.club, made_by=who.person_id, label=label, role=role, token_hash=hashed(token)
    )
    store.add(row)
    return {**_told(row), "token": token}


def api_tokens(club: str) -> dict[str, Any]:
    return {"items": [_told(row) for row in store.tokens(club, MOST_TOKENS)]}


def _told(row: ApiToken) -> dict[str, Any]:
    return {
        "id": row.id, "label": row.label, "role": row.role, "created_at": row.created_at.isoformat(),
        "seen_at": row.seen_at and row.seen_at.isoformat(),
    }  # fmt: skip


def revoke_api_token(club: str, token_id: str) -> None:
    """Raises NoSuchToken."""
    if not store.remove_token(club, token_id):
        raise NoSuchToken
