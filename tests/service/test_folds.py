"""What a log folds to: carried on as events come in, and always what a replay from its start says."""

from __future__ import annotations

from random import Random

import pytest
from cornerwise.engine.match import parse_log, replay
from cornerwise.service import clubs, folds, live, matches
from cornerwise.service.errors import NoSuchMatch
from flask import Flask

from ..engine.review.scripts import script


@pytest.fixture
def club(kept: Flask) -> str:
    return clubs.found("Quarry Lane", "Ida Brook").club_id


@pytest.mark.parametrize("seed", range(4))
def test_a_log_that_comes_in_by_and_by_folds_as_it_does_at_once(club, seed):
    log, dice = script(seed, sets=2), Random(seed)
    match_id = matches.begin(club)[0]["id"]
    sent = 0
    while sent < len(log):
        batch = log[sent : sent + dice.randint(1, 12)]
        live.post(club, match_id, batch)
        sent += len(batch)
        folded = folds.fold(club, match_id)
        assert folded.position == sent
        assert folded.state == replay(parse_log(log[:sent]))


def test_folds_that_nobody_asks_for_any_more_make_room(club, monkeypatch):
    monkeypatch.setattr(folds, "MOST_KEPT", 2)
    log = script(0, sets=1, rallies=3)
    begun = [matches.begin(club)[0]["id"] for _ in range(4)]
    for match_id in begun:
        live.post(club, match_id, log)
        folds.fold(club, match_id)
    assert [(club, match_id) in folds._kept for match_id in begun] == [False, False, True, True]
    assert folds.fold(club, begun[0]) == folds.fold(club, begun[3])


def test_a_fold_carried_on_is_not_folded_again_from_the_start(club, monkeypatch):
    log = script(0, sets=1, rallies=20)
    match_id = matches.begin(club)[0]["id"]
    read = []
    entries = folds.entries
    monkeypatch.setattr(folds, "entries", lambda rows: read.append(len(rows)) or entries(rows))
    won = [e for e in log if e["type"] in ("match_opened", "set_started", "rally_won")]
    for event in won[:8]:
        live.post(club, match_id, [event])
        folds.fold(club, match_id)
    assert sum(read[-5:]) == 5


def test_a_fold_that_is_kept_is_for_its_own_club_only(club):
    match_id = matches.begin(club)[0]["id"]
    live.post(club, match_id, script(0, sets=1, rallies=3))
    assert folds.fold(club, match_id).position > 0
    other = clubs.found("Mill Road", "Ada Stone").club_id
    assert folds.fold(other, match_id) == folds.NOTHING
    with pytest.raises(NoSuchMatch):
        live.state(other, match_id)
