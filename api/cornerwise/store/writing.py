"""Writing what may be refused by the database, because another holds the name."""

from __future__ import annotations

from sqlalchemy import Executable
from sqlalchemy.exc import IntegrityError

from .tables import db


def written(statement: Executable) -> bool:
    """Commit a statement; return False, with nothing changed, where what must be unique is there already."""
    try:
        db.session.execute(statement)
    except IntegrityError:
        db.session.rollback()
        return False
    db.session.commit()
    return True
