"""A row: a tuple that grows cheaply. Logs may be long, and every event may add to what is told of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")

PIECE = 64  # chosen: a longer piece costs more for each entry, a shorter one more for each piece


@dataclass(frozen=True, slots=True)
class Row(Generic[T]):
    """Entries in the order in which they were added: full pieces and the rest.

    Adding an entry copies one piece and the list of pieces, not all entries. Rows with equal entries
    are equal, since they are cut into the same pieces.
    """

    pieces: tuple[tuple[T, ...], ...] = ()
    rest: tuple[T, ...] = ()

    def plus(self, entry: T) -> Row[T]:
        """Return the row with one more entry at its end."""
        rest = (*self.rest, entry)
        return Row(self.pieces, rest) if len(rest) < PIECE else Row((*self.pieces, rest))

    def __iter__(self) -> Iterator[T]:
        for piece in self.pieces:
            yield from piece
        yield from self.rest
