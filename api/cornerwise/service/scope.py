"""What a device that was let in for one match sees beside its log: our team that plays it, with its players'
names and serves, and its opponent. The screen of a match needs both for names and calls, without a network
too; of other teams, who are often minors, it needs nobody.

Our team is the one that the match had when the coach let the device in: what the device itself logs later
opens no other roster to it.
"""

from __future__ import annotations

from collections.abc import Mapping

from . import matches, opponents, teams
from .accounts import Who
from .errors import CannotBeDone, NoSuchMatch, NoSuchOpponent, NoSuchTeam


def check(who: Who, places: Mapping[str, str]) -> None:
    """Raise what a thing that is not there raises, for one beside the match.

    places : of match_id, team_id, opponent_id those that are asked for
    """
    if places.get("match_id", who.match_id) != who.match_id:
        raise NoSuchMatch
    if "team_id" in places and teams.found(who.club, places["team_id"]).name != our_team(who):
        raise NoSuchTeam
    if "opponent_id" in places and opponents.found(who.club, places["opponent_id"]).name != opponent(who):
        raise NoSuchOpponent


def our_team(who: Who) -> str | None:
    """Return the name of the one team of ours that she may see; None once the match is deleted."""
    return None if who.team is None or _teams(who) is None else teams.tidy(who.team)


def opponent(who: Who) -> str | None:
    """Return the name of the one opponent that she may see, as it is logged."""
    return teams.tidy((_teams(who) or {}).get("them"))


def _teams(who: Who) -> dict[str, str | None] | None:
    try:
        match = matches.caught_up(who.club, who.match_id or "")
    except CannotBeDone:
        return None
    return {"us": match.us, "them": match.them}
