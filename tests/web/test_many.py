"""Ten clubs of forty teams each, with players, opponents, matches and devices: pages of few questions."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
import sqlalchemy as sa
from cornerwise.engine.match import format_entry
from cornerwise.engine.match.events import MatchOpened, SetStarted
from cornerwise.engine.match.logbook import logged
from cornerwise.service.accounts import STAYS_SIGNED_IN
from cornerwise.store.account_tables import Device as DeviceRow
from cornerwise.store.roster_tables import Opponent, Player, Serve, Team
from cornerwise.store.tables import Club, Event, Match, db, now

CLUBS, TEAMS, PLAYERS, OPPONENTS, MATCHES, DEVICES = 10, 40, 14, 60, 60, 80
LISTS = {
    "teams": TEAMS,
    "opponents": OPPONENTS,
    "matches": MATCHES,
    "matches/opponents": 40,
    "devices": DEVICES + 1,
}
FEW = 6  # questions to the database: who asks, the page, and what belongs to its rows


def ident(*parts: int) -> str:
    return "{:08x}-{:04x}-7000-8000-{:012x}".format(*parts)


def crowd(club: str, c: int, teams: int = TEAMS) -> None:
    """Fill a club."""
    rows: dict[Any, list[dict[str, Any]]] = {
        Team: [],
        Player: [],
        Serve: [],
        Opponent: [],
        Match: [],
        Event: [],
    }
    for t in range(teams):
        team = {"id": ident(c, t, 1), "club_id": club, "name": f"Team {t:02}"}
        rows[Team].append(team)
        for p in range(PLAYERS):
            player = {"id": ident(c, t, 100 + p), "club_id": club, "team_id": team["id"], "number": p}
            rows[Player].append({**player, "name": f"Player {c} {t} {p}"})
            rows[Serve].append({"player_id": player["id"], "club_id": club, "kind": "jump_float", "place": 0})
    for o in range(OPPONENTS):
        rows[Opponent].append({"id": ident(c, o, 2), "club_id": club, "name": f"Opponent {o:02}"})
    for m in range(MATCHES):
        match = ident(c, m, 3)
        log = logged(MatchOpened(us=f"Team {m % TEAMS:02}", them=f"Opponent {m % 40:02}"), SetStarted("us"))
        rows[Match].append({"id": match, "club_id": club, "last_position": len(log)})
        rows[Event] += [
            {
                "match_id": match,
                "club_id": club,
                "position": at,
                "id": str(entry.id),
                "body": format_entry(entry),
            }
            for at, entry in enumerate(log, 1)
        ]
    for table, values in rows.items():
        db.session.execute(sa.insert(table), values)
    db.session.execute(sa.insert(DeviceRow), [
        {"id": ident(c, d, 4), "club_id": club, "label": f"Phone {d}", "role": "assistant",
         "token_hash": f"{c:032x}{d:032x}", "expires_at": now() + STAYS_SIGNED_IN} for d in range(DEVICES)
    ])  # fmt: skip


@contextmanager
def questions() -> Iterator[list[str]]:
    """Count what is asked of the database."""
    asked: list[str] = []

    def note(*given: Any) -> None:
        asked.append(given[2])

    sa.event.listen(db.engine, "before_cursor_execute", note)
    yield asked
    sa.event.remove(db.engine, "before_cursor_execute", note)


@pytest.fixture
def ten_clubs(bench):
    others = [ident(c, 0, 0) for c in range(1, CLUBS)]
    db.session.add_all(Club(id=club, name=f"Club {club}") for club in others)
    db.session.flush()
    for c, club in enumerate([bench.club, *others]):
        crowd(club, c)
    db.session.commit()
    for name in LISTS:
        bench.get(f"/api/v1/{name}")  # the logs of the matches are summed up once
    return bench


def paged(bench: Any, name: str, limit: int = 25) -> tuple[list[dict[str, Any]], list[int]]:
    """Return all of a list, page by page, and how much each page asked of the database."""
    items: list[dict[str, Any]] = []
    counts: list[int] = []
    more = "before" if name == "matches" else "after"
    at: str | None = None
    while True:
        with questions() as asked:
            page = bench.get(f"/api/v1/{name}?limit={limit}{f'&{more}={at}' if at else ''}").json
        counts.append(len(asked))
        assert len(page["items"]) <= limit
        items, at = items + page["items"], page["next"]
        if at is None:
            return items, counts


def test_every_list_is_whole_and_this_clubs_and_a_page_asks_little_however_many_there_are(ten_clubs):
    for name in ("teams", "opponents", "matches"):
        items, counts = paged(ten_clubs, name)
        assert len(items) == LISTS[name]
        assert len({item["id"] for item in items}) == len(items)
        assert {item["id"][:8] for item in items} == {f"{0:08x}"}
        assert max(counts) <= FEW, (name, counts)
        assert len(paged(ten_clubs, name, 5)[1]) == -(-LISTS[name] // 5)
    for name in ("matches/opponents", "devices"):
        with questions() as asked:
            answer = ten_clubs.get(f"/api/v1/{name}")
        assert len(answer.json["items"]) == LISTS[name]
        assert len(asked) <= FEW, (name, asked)


def test_a_page_asks_for_the_same_whatever_is_on_it(ten_clubs):
    """So nothing is asked for row by row."""
    for name in ("teams", "opponents", "matches"):
        counts = []
        for limit in (2, 30):
            with questions() as asked:
                assert len(ten_clubs.get(f"/api/v1/{name}?limit={limit}").json["items"]) == limit
            counts.append(len(asked))
        assert counts[0] == counts[1], name


def test_one_team_is_shown_with_few_questions(ten_clubs):
    with questions() as asked:
        team = ten_clubs.get(f"/api/v1/teams/{ident(0, 7, 1)}").json
    assert [player["number"] for player in team["roster"]] == list(range(PLAYERS))
    assert len(asked) <= FEW


def test_pages_are_found_by_an_index_and_not_by_reading_all_clubs(ten_clubs):
    if db.engine.dialect.name != "sqlite":
        return  # the same tables; its planner reads small ones whole, rightly
    for table, order in (("team", "name, id"), ("opponent", "name, id"), ("match", "created_at, id")):
        plan = db.session.execute(
            sa.text(f"EXPLAIN QUERY PLAN SELECT * FROM {table} WHERE club_id = 'x' ORDER BY {order} LIMIT 9")
        ).all()
        assert any("USING INDEX" in str(row) or "USING COVERING INDEX" in str(row) for row in plan), plan
        assert not any("SCAN" in str(row) for row in plan), plan


def test_the_export_of_one_club_is_streamed_and_holds_no_other(ten_clubs):
    began = time.monotonic()
    text = ten_clubs.get("/api/v1/club/export").text
    assert "Player 0 39 13" in text
    assert not any(f"Player {c} 0 0" in text for c in range(1, CLUBS))
    assert time.monotonic() - began < 60
