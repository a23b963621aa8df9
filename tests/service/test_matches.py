"""The club of a new machine, and its matches."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from cornerwise.service import clubs, demo, ids, live, matches
from cornerwise.service.errors import IdTaken, MatchDeleted, NoSuchMatch
from cornerwise.store import clubs as club_store
from cornerwise.store import matches as store
from cornerwise.store.tables import Club, Match, db
from sqlalchemy import func, select

from ..engine.review.scripts import script

LOCAL = clubs.LOCAL_CLUB


def listed(club: str = LOCAL) -> list[dict]:
    return matches.page(club, None, 50)["items"]


def test_a_new_machine_has_a_club_with_a_match_to_try(kept):
    clubs.first_link()
    [match] = listed()
    assert match["demo"]
    assert (match["name"], match["status"], match["set_number"]) == (demo.NAME, "in_play", 3)
    assert match["position"] == len(demo.log())


def test_the_first_club_is_made_once_though_many_start_at_once(kept):
    def start(_: int) -> int:
        with kept.app_context():
            clubs.first_link()
            return len(listed())

    with ThreadPoolExecutor(8) as threads:
        assert list(threads.map(start, range(8))) == [1] * 8
    assert db.session.scalar(select(func.count()).select_from(Club)) == 1


def test_the_match_to_try_stays_away_once_it_was_deleted(kept):
    clubs.first_link()
    matches.remove(LOCAL, listed()[0]["id"])
    assert listed() == []
    clubs.first_link()
    assert listed() == []


def test_no_club_is_made_and_nobody_gets_a_link_where_a_host_has_added_clubs(kept):
    clubs.found("Mill Road", "Ada Stone")
    assert clubs.first_link() is None
    assert [club.name for club, _ in club_store.clubs()] == ["Mill Road"]


def test_the_match_to_try_breaks_no_rule_and_holds_what_there_is_to_see():
    log = demo.log()
    said = demo.bridge.replay({"events": log})
    assert said["violations"] == said["contradictions"] == []
    assert said["state"]["serving"] == "us"
    assert said["coming"][0]["request"]
    kinds = {event["type"] for event in log}
    assert kinds >= {
        "match_opened", "set_started", "call_shown", "pass_graded", "rally_won", "server_seen",
        "substituted", "libero_replaced", "time_out_taken", "retracted",
    }  # fmt: skip
    assert demo.log() == log


def test_a_match_of_another_club_is_nobodys_here(kept):
    clubs.first_link()
    other = clubs.found("Mill Road", "Ada Stone").club_id
    match_id = matches.begin(other, name="theirs")[0]["id"]
    assert match_id not in [match["id"] for match in listed()]
    assert match_id in [match["id"] for match in listed(other)]
    for ask in (matches.show, matches.remove, live.state, live.log, live.serves_csv):
        with pytest.raises(NoSuchMatch):
            ask(LOCAL, match_id)
    with pytest.raises(NoSuchMatch):
        live.post(LOCAL, match_id, [])
    with pytest.raises(IdTaken):
        matches.begin(LOCAL, match_id)
    assert matches.show(other, match_id)["name"] == "theirs"


def test_of_a_deleted_match_nothing_is_left_but_that_it_was_there(kept):
    clubs.first_link()
    match_id = matches.begin(LOCAL, name="Friendly")[0]["id"]
    live.post(LOCAL, match_id, script(1, sets=1))
    matches.show(LOCAL, match_id)
    matches.remove(LOCAL, match_id)
    left = db.session.get(Match, match_id)
    assert (left.name, left.us, left.them, left.summary) == (None, None, None, None)
    assert live.store.after(LOCAL, match_id, 0) == []
    for ask in (matches.show, matches.remove, live.state, live.log, matches.begin):
        with pytest.raises(MatchDeleted):
            ask(LOCAL, match_id)


@pytest.mark.parametrize("deleted", [False, True])
def test_a_match_begun_while_the_list_is_made_is_listed_unless_it_is_deleted_too(kept, monkeypatch, deleted):
    clubs.first_link()
    listed()
    begun, of_the_store = ids.new_id(), store.page

    def meanwhile(act: Callable[[], object]) -> None:
        """Do something in another thread, as another request would, with a connection of its own."""

        def request() -> None:
            with kept.app_context():
                act()

        with ThreadPoolExecutor(1) as thread:
            thread.submit(request).result()

    def page(*asked):
        meanwhile(lambda: store.begin(LOCAL, begun, "just now"))
        rows = of_the_store(*asked)
        if deleted:
            meanwhile(lambda: store.remove(LOCAL, begun))
        return rows

    monkeypatch.setattr(store, "page", page)
    found = {match["id"]: match["status"] for match in listed()}
    assert found.get(begun) == (None if deleted else "before")
    assert len(found) == (1 if deleted else 2)


def test_a_new_id_sorts_after_the_older_ones():
    made = [ids.new_id() for _ in range(100)]
    assert sorted(made) == made
    assert {made_id[14] for made_id in made} == {"7"}  # RFC 9562, 5.7: the version
