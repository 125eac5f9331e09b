"""Keys that nobody knows: kept as they are, with a word where one looks like a slip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from evencast.errors import Problem
from evencast.plan.faults import part_in
from evencast.plan.part import Part
from evencast.plan.place import Loc, place, quoted
from evencast.quantities import listed

_UNITS = ("_k", "_hz", "_s", "_deg", "_stops", "_mm", "_cm", "_m", "_in", "_ft")


def slips(model: type[Part], data: Mapping[str, Any], *, where: str) -> list[Problem]:
    """A warning for each unknown key that is nearly a known one, or stands in the wrong table."""
    missing = [key for key in model.known_keys() if key not in data]
    return [
        Problem("warning", place(where, data, loc), message, remedy)
        for loc, part, table in _tables(model, data, ())
        for key in table
        if key not in part.known_keys()
        for message, remedy in _said(key, part, loc=loc, missing=missing)
    ]


def _tables(
    model: type[Part], data: Mapping[str, Any], loc: Loc
) -> Iterator[tuple[Loc, type[Part], Mapping[str, Any]]]:
    """Every table of the document that has a model, with its place."""
    if model.model_config.get("extra") != "forbid":
        yield loc, model, data
    for name, inner in _tables_in(model):
        value = data.get(name)
        if isinstance(value, Mapping):
            yield from _tables(inner, value, (*loc, name))
        elif isinstance(value, list):
            for index, entry in enumerate(value):
                if isinstance(entry, Mapping):
                    yield from _tables(inner, entry, (*loc, name, index))


@cache
def _tables_in(model: type[Part]) -> tuple[tuple[str, type[Part]], ...]:
    """Keys of a table that hold tables, and of which kind."""
    every = ((name, part_in(field.annotation)) for name, field in model.model_fields.items())
    return tuple((name, inner) for name, inner in every if inner is not None)


def _said(
    key: str, part: type[Part], *, loc: Loc, missing: Sequence[str]
) -> Iterator[tuple[str, str]]:
    close = _close(key, part.known_keys())
    if close:
        meant = listed([f'"{each}"' for each in close], "or")
        yield f"{quoted(key)} is not known here and is kept unread", f"Did you mean {meant}?"
    elif loc and key in missing:
        heading = ".".join(step for step in loc if isinstance(step, str))
        yield (
            f'"{key}" is not known here and is kept unread',
            f"It belongs above the first heading, not below [{heading}]: everything below a "
            "heading is part of it.",
        )


def _close(key: str, known: Sequence[str]) -> list[str]:
    """The known keys that this one may stand for: its unit forgotten, or nearest in letters."""
    folded = key.casefold()
    without_unit = [each for each in known for unit in _UNITS if each == folded + unit]
    if without_unit:
        return without_unit
    most = 1 if len(key) <= 4 else 2
    similar = [each for each in known if abs(len(each) - len(key)) <= most]
    near = [(distance(folded, each.casefold()), each) for each in similar]
    best = min(near, default=(most + 1, ""))
    return [best[1]] if best[0] <= most else []


def distance(one: str, other: str) -> int:
    """Letters to insert, delete, replace or swap with their neighbour to get from one to the other.

    Source  optimal string alignment, after Damerau (1964), doi:10.1145/363958.363994
    """
    above: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, start=1):
        two_above, above, row = above, row, [i]
        for j, against in enumerate(other, start=1):
            least = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (letter != against))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == against:
                least = min(least, two_above[j - 2] + 1)
            row.append(least)
    return row[-1]
