"""Tables as spreadsheets write them: read from text or bytes, and cells that no spreadsheet runs."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cornerwise.engine.errors import RuleBroken
from cornerwise.engine.review import cell

DELIMITERS = (",", ";", "\t")
MOST_ROWS = 500  # chosen: a team of 60 with all seven kinds of serve
MOST_COLUMNS = 60  # chosen
LONGEST_CELL = 500  # characters; chosen


@dataclass(frozen=True, slots=True)
class Table:
    """A table: its header, and the rows that are not empty, each with its number in the spreadsheet."""

    delimiter: str
    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def decoded(body: bytes) -> str:
    """Return the text of a file. UTF-8, with or without a mark, and UTF-16 with one, as spreadsheets save it.

    Raises ValueError for anything else.
    """
    if body.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return body.decode("utf-16")
    return body.decode("utf-8-sig")


def read(text: str) -> Table:
    """Return the table that a text holds. Raises RuleBroken, rule `table`, for what is none."""
    lines = text.removeprefix("\ufeff")
    first, delimiter, skipped = lines.split("\n", 1)[0].strip(), None, 0
    if first.lower().startswith("sep=") and first[4:5] in DELIMITERS:  # how a spreadsheet says it
        delimiter, skipped, lines = first[4], 1, lines.partition("\n")[2]
    delimiter = delimiter or guessed_delimiter(lines)
    try:
        records = list(_records(lines, delimiter))
    except csv.Error as error:
        raise RuleBroken("text", f"{error}", "a table: rows of cells, quotes closed", "table") from None
    numbered = [(number, row) for number, row in enumerate(records, 1 + skipped) if any(row)]
    if not numbered:
        raise RuleBroken("text", "", "a first row with the names of the columns", "table")
    (_, header), rows = numbered[0], numbered[1:]
    if len(rows) > MOST_ROWS:
        raise RuleBroken("text", len(rows), f"at most {MOST_ROWS} rows below the header", "table")
    if max(len(row) for _, row in numbered) > MOST_COLUMNS:
        raise RuleBroken("text", len(header), f"at most {MOST_COLUMNS} columns", "table")
    for number, row in numbered:
        for value in row:
            if len(value) > LONGEST_CELL or "\0" in value:
                expected = f"cells of at most {LONGEST_CELL} characters, without U+0000, also in row {number}"
                raise RuleBroken("text", value[:20], expected, "table")
    return Table(delimiter, header, tuple(rows))


def _records(text: str, delimiter: str) -> Iterable[tuple[str, ...]]:
    for record in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter):
        yield tuple(unquoted(value.strip()) for value in record)


def guessed_delimiter(text: str) -> str:
    """Return which delimiter stands most often in the first line that is not empty; a comma if none does."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(DELIMITERS, key=first.count)


def unquoted(value: str) -> str:
    """Return a cell as it was before `cell_of` made it safe."""
    kept = value[1:]
    return kept if value.startswith("'") and (kept.startswith("'") or cell(kept) != kept) else value


def cell_of(value: object) -> object:
    """Return a value as a cell that no spreadsheet runs as a formula and that `unquoted` gives back."""
    if isinstance(value, str) and value.startswith("'"):
        return f"'{value}"
    return cell(value)


def written(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return a table as text: commas, one row a line."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(header)
    writer.writerows([cell_of(value) for value in row] for row in rows)
    return text.getvalue()
