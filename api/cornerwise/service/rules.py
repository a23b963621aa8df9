"""The rules of accounts that a request can break, beside those of the game."""

from __future__ import annotations

RULES: dict[str, str] = {
    "way_in": "Somebody signs in by `once`, or by `name` and `password`, not by both.",
    "guessable": "A password is none of the first that somebody would try.",
    "no_person": "A password belongs to somebody who signed in by name or link, not to a device or a script.",
    "server_scope": "A server view sees one team or one match; a team is named for a server view only.",
}
"""Rule name: one sentence."""
