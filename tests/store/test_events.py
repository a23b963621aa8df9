"""The log of a match: it only grows, takes each event once, and no reader misses any."""

from __future__ import annotations

import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from random import Random
from threading import Event as Flag

import pytest
from cornerwise.engine.match.logbook import entry_id
from cornerwise.store import events as store
from cornerwise.store.matches import begin, remove
from cornerwise.store.tables import Club, db
from flask import Flask

CLUB = "00000000-0000-7000-8000-00000000000a"
MATCH = "00000000-0000-7000-8000-00000000000b"
OTHER_MATCH = "00000000-0000-7000-8000-00000000000c"
ROOM = 20_000


def event(counter: int, device: int = 0, **fields: object) -> dict[str, object]:
    return {"id": entry_id(counter, device), "counter": counter, **fields}


def ids(events: list[dict]) -> list[str]:
    return [e["id"] for e in events]


@pytest.fixture(autouse=True)
def match(kept: Flask) -> None:
    db.session.add(Club(id=CLUB, name="Quarry Lane"))
    db.session.commit()
    assert begin(CLUB, MATCH, None)
    assert begin(CLUB, OTHER_MATCH, None)


def test_events_get_positions_from_1_on_in_the_order_they_came_in():
    batch = [event(7), event(3), event(5)]
    assert store.append(CLUB, MATCH, batch, ROOM).accepted == dict(zip(ids(batch), (1, 2, 3), strict=True))
    later = store.append(CLUB, MATCH, [event(1)], ROOM)
    assert (later.accepted, later.last_position) == ({entry_id(1): 4}, 4)
    assert [(position, body["counter"]) for position, body in store.after(CLUB, MATCH, 0)] == [
        (1, 7), (2, 3), (3, 5), (4, 1),
    ]  # fmt: skip


def test_sending_twice_equals_sending_once():
    batch = [event(1), event(2)]
    first = store.append(CLUB, MATCH, batch, ROOM)
    again = store.append(CLUB, MATCH, [*batch, event(3)], ROOM)
    assert again.known == first.accepted
    assert again.accepted == {entry_id(3): 3}
    assert len(store.after(CLUB, MATCH, 0)) == 3


def test_a_batch_that_repeats_itself_keeps_the_order_in_which_its_events_came_first():
    store.append(CLUB, MATCH, [event(5), event(1), event(4), event(1), event(5)], ROOM)
    assert [body["counter"] for _, body in store.after(CLUB, MATCH, 0)] == [5, 1, 4]


def test_the_first_of_two_events_with_one_id_is_kept():
    batch = [event(1, winner="us"), event(1, winner="them")]
    assert store.append(CLUB, MATCH, batch, ROOM).accepted == {entry_id(1): 1}
    store.append(CLUB, MATCH, [event(1, winner="nobody")], ROOM)
    assert [body["winner"] for _, body in store.after(CLUB, MATCH, 0)] == ["us"]


def test_each_match_counts_for_itself():
    store.append(CLUB, MATCH, [event(1), event(2)], ROOM)
    assert store.append(CLUB, OTHER_MATCH, [event(2)], ROOM).accepted == {entry_id(2): 1}


def test_a_log_can_be_read_on_from_any_position_in_pages():
    store.append(CLUB, MATCH, [event(n) for n in range(10)], ROOM)
    assert [position for position, _ in store.after(CLUB, MATCH, 4, 3)] == [5, 6, 7]
    assert store.after(CLUB, MATCH, 10) == []


def test_no_event_is_taken_beyond_the_room_there_is():
    store.append(CLUB, MATCH, [event(1), event(2)], 3)
    result = store.append(CLUB, MATCH, [event(2), event(3), event(4)], 3)
    assert (set(result.known), set(result.accepted), result.no_room) == (
        {entry_id(2)}, {entry_id(3)}, (entry_id(4),),
    )  # fmt: skip
    assert result.last_position == len(store.after(CLUB, MATCH, 0)) == 3


def test_a_match_of_nobody_or_of_another_club_or_deleted_takes_nothing():
    assert store.append(CLUB, entry_id(99), [event(1)], ROOM) is None
    assert store.append(MATCH, MATCH, [event(1)], ROOM) is None
    remove(CLUB, MATCH)
    assert store.append(CLUB, MATCH, [event(1)], ROOM) is None
    assert store.after(CLUB, MATCH, 0) == []


def read_on(app: Flask, done: Flag) -> list[tuple[int, str]]:
    """Return what a reader gets who always goes on from the last position she has seen."""
    seen: list[tuple[int, str]] = []
    with app.app_context():
        while True:
            last_time = done.is_set()
            page = store.after(CLUB, MATCH, seen[-1][0] if seen else 0, 40)
            db.session.rollback()
            seen += [(position, body["id"]) for position, body in page]
            if last_time and not page:
                return seen


def batches(writer: int) -> Iterator[list[dict]]:
    """Yield a device's batches: its own 30 events, and among them 60 that all devices send."""
    events = [event(n, writer) for n in range(30)] + [event(n, 99) for n in range(60)]
    Random(writer).shuffle(events)
    for start in range(0, len(events), 7):
        yield events[start : start + 7]
        yield events[start : start + 7]  # as after an answer that was lost


def write(app: Flask, writer: int) -> dict[str, int]:
    """Send a device's batches; return the position of each event by the answers."""
    positions: dict[str, int] = {}
    with app.app_context():
        for batch in batches(writer):
            answer = store.append(CLUB, MATCH, batch, ROOM)
            for said in (answer.accepted, answer.known):
                for event_id, position in said.items():
                    assert positions.setdefault(event_id, position) == position
            time.sleep(0)
    return positions


def test_devices_that_write_at_once_lose_nothing_and_no_reader_misses_anything(kept):
    done = Flag()
    with ThreadPoolExecutor(10) as threads:
        readers = [threads.submit(read_on, kept, done) for _ in range(2)]
        writers = [threads.submit(write, kept, writer) for writer in range(8)]
        try:
            answered = [writer.result() for writer in writers]
        finally:
            done.set()
        read = [reader.result() for reader in readers]
    log = [(position, body["id"]) for position, body in store.after(CLUB, MATCH, 0)]
    assert [position for position, _ in log] == list(range(1, 8 * 30 + 60 + 1))
    assert len({event_id for _, event_id in log}) == len(log)
    assert read == [log, log]
    by_id = {event_id: position for position, event_id in log}
    assert all(by_id[event_id] == position for said in answered for event_id, position in said.items())
