"""Whose matches these are. Until there are accounts, one local club owns everything."""

from __future__ import annotations

import uuid_utils

from cornerwise.store import clubs as store

from . import demo

LOCAL_CLUB = "00000000-0000-7000-8000-000000000000"  # chosen: the same everywhere, so that none is made twice


def local_club() -> str:
    """Return the id of the local club; the first time it is made, with a match to try."""
    if not store.exists(LOCAL_CLUB):
        store.found(LOCAL_CLUB, "Local club", new_id(), demo.NAME, demo.log())
    return LOCAL_CLUB


def new_id() -> str:
    """Return a new id, later ones sorting later (UUIDv7, RFC 9562)."""
    return str(uuid_utils.uuid7())
