"""Runs the migrations on the app's own connection."""

from __future__ import annotations

from typing import Any, Literal

from alembic import context
from cornerwise.store.tables import Utc, db


def rendered(kind: str, value: Any, _: Any) -> str | Literal[False]:
    """Write our own types into a new migration as what they are in the database."""
    return "sa.DateTime(timezone=True)" if kind == "type" and isinstance(value, Utc) else False


with db.engine.connect() as connection:
    context.configure(
        connection=connection,
        target_metadata=db.metadata,
        render_item=rendered,
        render_as_batch=True,  # SQLite alters a table by copying it
    )
    with context.begin_transaction():
        context.run_migrations()
