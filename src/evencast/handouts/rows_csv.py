"""Rows as CSV text: one heading row, numbers with a point, texts that no spreadsheet runs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_RUN = ("=", "+", "-", "@", "\t", "\r")
"""A spreadsheet takes a text that begins so for a formula (common practice, no source)."""


def csv_text(headings: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """CSV in the form of RFC 4180; None is an empty cell.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(headings)
    writer.writerows([_cell(each) for each in row] for row in rows)
    return out.getvalue()


def _cell(value: object) -> object:
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_RUN) else value
    return "" if value is None else value
