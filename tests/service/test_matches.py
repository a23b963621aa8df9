"""The local club and its matches."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from cornerwise.service import clubs, demo, live, matches
from cornerwise.service.errors import IdTaken, MatchDeleted, NoSuchMatch
from cornerwise.store import matches as store
from cornerwise.store.tables import Club, Match, db
from sqlalchemy import func, select

from ..engine.review.scripts import script


def listed() -> list[dict]:
    return matches.page(None, 50)["items"]


def test_the_first_to_ask_finds_a_match_to_try(kept):
    [match] = listed()
    assert match["demo"]
    assert (match["name"], match["status"], match["set_number"]) == (demo.NAME, "in_play", 3)
    assert match["position"] == len(demo.log())


def test_the_match_to_try_is_made_once_though_many_ask_first(kept):
    def ask(_: int) -> int:
        with kept.app_context():
            return len(listed())

    with ThreadPoolExecutor(8) as threads:
        assert list(threads.map(ask, range(8))) == [1] * 8
    assert db.session.scalar(select(func.count()).select_from(Club)) == 1


def test_the_match_to_try_stays_away_once_it_was_deleted(kept):
    matches.remove(listed()[0]["id"])
    assert listed() == []
    clubs.local_club()
    assert listed() == []


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
    clubs.local_club()
    other, match_id = clubs.new_id(), clubs.new_id()
    db.session.add(Club(id=other, name="Another"))
    db.session.commit()
    store.begin(other, match_id, "theirs")
    assert match_id not in [match["id"] for match in listed()]
    with pytest.raises(NoSuchMatch):
        live.state(match_id)
    with pytest.raises(NoSuchMatch):
        live.post(match_id, [])
    with pytest.raises(IdTaken):
        matches.begin(match_id)


def test_of_a_deleted_match_nothing_is_left_but_that_it_was_there(kept):
    match_id = matches.begin(name="Friendly")[0]["id"]
    live.post(match_id, script(1, sets=1))
    matches.show(match_id)
    matches.remove(match_id)
    left = db.session.get(Match, match_id)
    assert (left.name, left.us, left.them, left.summary) == (None, None, None, None)
    assert live.store.after(match_id, 0) == []
    for ask in (matches.show, matches.remove, live.state, live.log, matches.begin):
        with pytest.raises(MatchDeleted):
            ask(match_id)


@pytest.mark.parametrize("deleted", [False, True])
def test_a_match_begun_while_the_list_is_made_is_listed_unless_it_is_deleted_too(kept, monkeypatch, deleted):
    listed()
    begun, of_the_store = clubs.new_id(), store.page

    def meanwhile(act: Callable[[], object]) -> None:
        """Do something in another thread, as another request would, with a connection of its own."""

        def request() -> None:
            with kept.app_context():
                act()

        with ThreadPoolExecutor(1) as thread:
            thread.submit(request).result()

    def page(*asked):
        meanwhile(lambda: store.begin(clubs.LOCAL_CLUB, begun, "just now"))
        rows = of_the_store(*asked)
        if deleted:
            meanwhile(lambda: store.remove(begun))
        return rows

    monkeypatch.setattr(store, "page", page)
    found = {match["id"]: match["status"] for match in listed()}
    assert found.get(begun) == (None if deleted else "before")
    assert len(found) == (1 if deleted else 2)


def test_a_new_id_sorts_after_the_older_ones():
    made = [clubs.new_id() for _ in range(100)]
    assert sorted(made) == made
    assert {made_id[14] for made_id in made} == {"7"}  # RFC 9562, 5.7: the version
