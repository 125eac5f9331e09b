"""Tables as CSV: RFC 4180, UTF-8, and no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence

Cell = str | float | int | bool | None

RUN = ("=", "+", "-", "@", "\t", "\r")
"""Texts that begin so are taken for formulas."""


def csv_bytes(columns: Sequence[str], rows: Sequence[Mapping[str, Cell]]) -> bytes:
    """A table.

    columns : in order; a row may leave some out, which are empty then
    Numbers are written in full and stay numbers; yes and no are "true" and "false"; None is an
    empty cell; a text that a spreadsheet would run gets an apostrophe before it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    for row in rows:
        unknown = row.keys() - set(columns)
        if unknown:
            raise ValueError(f"no column {sorted(unknown)}")
        writer.writerow([_cell(row.get(column)) for column in columns])
    return out.getvalue().encode("utf-8", errors="replace")


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(RUN) else value
    return repr(value)
