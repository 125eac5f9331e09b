"""Packaged tables: CSV under a provenance header, refused without source and licence."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from evencast.errors import EvencastError
from evencast.quantities import Floats

_DATA = Path(__file__).parent / "data"
REQUIRED = ("title", "source", "licence", "obtained", "quantity", "changed", "checked")


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """A numeric table.

    header  : provenance, key to text
    columns : names, in order
    values  : (rows, columns), read-only
    """

    name: str
    header: Mapping[str, str]
    columns: tuple[str, ...]
    values: Floats

    def column(self, name: str) -> Floats:
        """One column. [(rows,)]"""
        result: Floats = self.values[:, self.columns.index(name)]
        return result


def names() -> list[str]:
    """Every packaged table, sorted."""
    return sorted(each.stem for each in _DATA.glob("*.csv"))


@cache
def read(name: str) -> Table:
    """A numeric table by name."""
    return parse(name, _text(name))


@cache
def read_rows(name: str) -> list[dict[str, str]]:
    """A table of texts by name, one dictionary per row."""
    import csv  # only text tables need it

    text = _text(name)
    split_header(name, text)
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def header(name: str) -> Mapping[str, str]:
    """The provenance of a table."""
    return split_header(name, _text(name))[0]


def parse(name: str, text: str) -> Table:
    """A numeric table from its text.

    Raises  EvencastError where the header lacks a required entry
    """
    provenance, start = split_header(name, text)
    first, _, rows = text[start:].partition("\n")
    values = np.loadtxt(io.StringIO(rows), delimiter=",", ndmin=2)
    values.setflags(write=False)
    return Table(name, provenance, tuple(first.split(",")), values)


def split_header(name: str, text: str) -> tuple[dict[str, str], int]:
    """The header's entries and where the table itself starts.

    Raises  EvencastError naming what is missing: a number without a source is not shipped
    """
    entries: dict[str, str] = {}
    start = 0
    while text.startswith("#", start):
        end = text.index("\n", start) + 1
        key, _, entry = text[start + 1 : end].partition(":")
        entries[key.strip()] = entry.strip()
        start = end
    missing = [key for key in REQUIRED if not entries.get(key)]
    if missing:
        raise EvencastError(
            f"the header lacks {', '.join(missing)}",
            where=f"table {name}",
            remedy=f"Give every one of: {', '.join(REQUIRED)}.",
        )
    return entries, start


def _text(name: str) -> str:
    return (_DATA / f"{name}.csv").read_text("utf-8")


def demo_documents() -> dict[str, str]:
    """The documents of the invented job, by file name."""
    return {each.name: each.read_text("utf-8") for each in sorted((_DATA / "demo").iterdir())}


def documents_folder() -> Path:
    """Where the layouts of the documents lie, for the typesetter to read."""
    return _DATA / "documents"


def fonts_folder() -> Path:
    """Where the fonts of the documents lie, for the typesetter to read."""
    return _DATA / "fonts"


def page_text(name: str) -> str:
    """A layout, style or script of a page in HTML, by its file's name."""
    return (_DATA / "pages" / name).read_text("utf-8")
