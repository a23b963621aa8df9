"""Matches: begun, listed, shown, renamed, deleted; the opponents met before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from cornerwise.engine.bridge.hands import check_code, starting_code
from cornerwise.engine.bridge.live import sheet
from cornerwise.engine.match.report import format_state
from cornerwise.store import clubs as club_store
from cornerwise.store import matches as store
from cornerwise.store.tables import Match

from .errors import IdTaken, MatchDeleted, NoSuchMatch
from .folds import fold
from .ids import new_id

SUMMED_UP = ("level", "status", "winner", "set_number", "sets", "points", "set_scores")
OVER = ("match_over", "abandoned", "forfeited")
LOOKED_THROUGH = 20  # chosen: matches, for the one a team is playing
MOST_OPPONENTS = 200  # chosen: more than a club meets in some seasons


def begin(club: str, match_id: str | None = None, name: str | None = None) -> tuple[dict[str, Any], bool]:
    """Begin a match of a club; return it, and whether it is new.

    match_id : made by the device, so that asking twice begins one match; made here if not given

    Raises IdTaken, and MatchDeleted for the id of a match that was deleted.
    """
    match_id = match_id or new_id()
    new = store.begin(club, match_id, name)
    try:
        return show(club, match_id), new
    except NoSuchMatch:
        raise IdTaken from None


def found(club: str, match_id: str) -> Match:
    """Return a match of a club. Raises NoSuchMatch, MatchDeleted."""
    match = store.find(club, match_id)
    if match is None:
        raise NoSuchMatch
    if match.deleted_at is not None:
        raise MatchDeleted
    return match


def page(club: str, before: str | None, limit: int, only: str | None = None) -> dict[str, Any]:
    """Return matches, newest first, with the id to go on from, null at the end.

    only : the one match that may be seen
    """
    catch_up(store.behind(club))
    rows = store.page(club, before, limit + 1, only)
    more = rows[limit - 1].id if len(rows) > limit else None
    return {"items": [described(match) for match in summed_up(rows[:limit])], "next": more}


def show(club: str, match_id: str) -> dict[str, Any]:
    """Return one match, with the code of its team's hands."""
    match = caught_up(club, match_id)
    return {**described(match), "signals": signals(match.club_id, match.us)}


def change(club: str, match_id: str, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Rename a match, or change the code of its team's hands; return it.

    Raises RuleBroken when two signals would look the same.
    """
    match = caught_up(club, match_id)
    if "signals" in changes:
        check_code(changes["signals"], "signals")
        club_store.keep_signals(match.club_id, match.us or "", changes["signals"])
    if "name" in changes:
        store.rename(match, changes["name"])
    return show(club, match_id)


def remove(club: str, match_id: str) -> dict[str, Any]:
    """Delete a match with its events; return what that came to."""
    match = found(club, match_id)
    removed = store.remove(club, match.id)
    return {"id": match_id, "events_removed": removed, "text": consequence(removed, done=True)}


def opponents(club: str) -> dict[str, Any]:
    """Return the opponents with a name, the last met first, each as it started its last set."""
    catch_up(store.behind(club))
    return {
        "items": [
            {"name": m.them, "match_id": m.id, "level": m.summary["level"], "sheet": m.summary["sheet"]}
            for m in store.last_against_each(club, MOST_OPPONENTS)
        ]
    }


def caught_up(club: str, match_id: str) -> Match:
    """Return a match, its log summed up. Raises NoSuchMatch, MatchDeleted."""
    match = found(club, match_id)
    if match.summary_position < match.last_position:
        catch_up([match])
        match = found(club, match_id)
    return match


def summed_up(matches: Sequence[Match]) -> list[Match]:
    """Return matches whose logs are summed up, also those that somebody began or changed just now.

    Without those that somebody deleted just now.
    """
    catch_up([match for match in matches if match.summary_position < match.last_position])
    return [match for match in matches if match.summary is not None]


def catch_up(matches: Iterable[Match]) -> None:
    """Sum up logs that have grown since they were summed up."""
    for match in matches:
        folded = fold(match.club_id, match.id)
        state = format_state(folded.state)
        summary = {name: state[name] for name in SUMMED_UP} | {"sheet": sheet(state["sides"]["them"])}
        teams = state["teams"]
        store.sum_up(match.club_id, match.id, folded.position, teams["us"], teams["them"], summary)


def now_playing(club: str, team: str) -> str | None:
    """Return the id of a team's latest match that is not over, by the team's name as logged."""
    catch_up(store.behind(club))
    latest = store.last_of_team(club, team, LOOKED_THROUGH)
    return next((match.id for match in latest if match.summary and match.summary["status"] not in OVER), None)


def described(match: Match) -> dict[str, Any]:
    """Return a match that was summed up, as plain values."""
    assert match.summary is not None  # caught up before
    return {
        "id": match.id,
        "name": match.name,
        "demo": match.demo,
        "us": match.us,
        "them": match.them,
        **{name: match.summary[name] for name in SUMMED_UP},
        "position": match.last_position,
        "created_at": match.created_at.isoformat(),
        "changed_at": match.changed_at.isoformat(),
        "deleting": consequence(match.last_position, done=False),
    }


def consequence(events: int, *, done: bool) -> str:
    """Return what deleting a match means, or meant, in words."""
    what, were = ("1 event", "was") if events == 1 else (f"{events} events", "were")
    return (
        f"{what} {were if done else 'would be'} removed for good, here and for every device: this cannot be "
        "undone, and what a device has not sent yet cannot be sent any more."
    )


def signals(club: str, team: str | None) -> dict[str, Any]:
    """Return the code of a team's hands, the one to start with if it has none of its own."""
    return club_store.signals(club, team or "") or starting_code()
