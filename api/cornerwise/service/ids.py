"""Ids made by the server."""

from __future__ import annotations

import uuid_utils


def new_id() -> str:
    """Return a new id, later ones sorting later (UUIDv7, RFC 9562)."""
    return str(uuid_utils.uuid7())
