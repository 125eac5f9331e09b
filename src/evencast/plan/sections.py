"""Where the tables of a document stand in its text."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Literal

LATEST_LINES = 4096
"""Lines that are remembered as they were read: a change leaves nearly all of a text as it is."""

Place = tuple[str | int, ...]
"""Keys from the top of a document, entries of lists by their number from 0."""


@dataclass(frozen=True, slots=True)
class Section:
    """The stretch of a text below one heading, or above the first.

    place      : of its table
    indent     : white space before its heading
    begin, end : of its keys and remarks, in whole lines; what comes after a blank line or right
                 above the next heading belongs to that
    """

    place: Place
    indent: str
    begin: int
    end: int


def sections(text: str) -> list[Section]:
    """The sections of a text, the one above all headings first.

    text : a sound document, without byte order mark
    """
    found = [Section((), "", 0, 0)]
    counts: dict[Place, int] = {}
    remarks_end = 0
    for kind, begin, end in _pieces(text):
        if kind == "heading":
            line = text[begin:end]
            indent = line[: len(line) - len(line.lstrip())]
            found.append(Section(_place(line, counts), indent, end, end))
            remarks_end = end
        elif kind == "key":
            found[-1] = replace(found[-1], end=end)
            remarks_end = end
        elif kind == "remark" and begin == remarks_end:
            remarks_end = end
        elif kind == "blank":
            found[-1] = replace(found[-1], end=remarks_end)
    if remarks_end == len(text):
        found[-1] = replace(found[-1], end=remarks_end)
    return found


def _pieces(text: str) -> Iterator[tuple[Literal["blank", "remark", "heading", "key"], int, int]]:
    """What a text is made of, in whole lines, a key with all lines of its value: from, to."""
    end = 0
    while end < len(text):
        begin, end = end, _line_end(text, end)
        line = text[begin:end].strip()
        if not line or line.startswith("#"):
            yield ("remark" if line else "blank"), begin, end
        elif line.startswith("["):
            yield "heading", begin, end
        else:
            while end < len(text) and not _is_whole(text[begin:end]):
                end = _line_end(text, end)
            yield "key", begin, end


def _line_end(text: str, at: int) -> int:
    return text.find("\n", at) + 1 or len(text)


@lru_cache(LATEST_LINES)
def _is_whole(piece: str) -> bool:
    """Whether a list or a text over several lines ends here."""
    try:
        tomllib.loads(piece)
    except tomllib.TOMLDecodeError:
        return False
    return True


def _place(heading: str, counts: dict[Place, int]) -> Place:
    """The place of the table that a heading begins.

    counts : entries of each list so far; goes up by one where this is another
    """
    keys, is_entry = _keys(heading)
    place: Place = ()
    for key in keys[:-1]:
        place = (*place, key)
        if place in counts:
            place = (*place, counts[place] - 1)
    place = (*place, keys[-1])
    if is_entry:
        counts[place] = counts.get(place, 0) + 1
        return (*place, counts[place] - 1)
    return place


@lru_cache(LATEST_LINES)
def _keys(heading: str) -> tuple[tuple[str, ...], bool]:
    """The keys of a heading, and whether it begins an entry of a list."""
    keys: tuple[str, ...] = ()
    inside: Any = tomllib.loads(heading)
    while isinstance(inside, dict) and inside:
        ((key, inside),) = inside.items()
        keys = (*keys, key)
    return keys, isinstance(inside, list)
