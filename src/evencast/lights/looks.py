"""Looks: colours wanted on purpose, each an offset from the camera's balance."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from evencast import tables
from evencast.errors import EvencastError, nearest

Ends = tuple[float, float]
"""Least and most of what practice calls by this name."""


@dataclass(frozen=True, slots=True)
class Look:
    """A colour wanted on purpose. Common practice, no source.

    mired_ends : offset from the balance, + warmer
    duv_ends   : offset from the balance, + greener
    stops_ends : level against the key, + brighter; None where practice leaves it open
    how        : how it is made, in words
    note       : what to know of it, or ""
    minds      : what to mind with it: "flicker", "heat"
    """

    name: str
    mired_ends: Ends
    duv_ends: Ends
    stops_ends: Ends | None
    how: str
    note: str
    minds: tuple[str, ...]

    @property
    def mired(self) -> float:
        """The offset to begin with: the middle of its range. [mired; + warmer]"""
        return _middle(self.mired_ends)

    @property
    def duv(self) -> float:
        """The same in Duv. [CIE 1960 u, v; + greener]"""
        return _middle(self.duv_ends)

    @property
    def stops(self) -> float | None:
        """The level to begin with, against the key. [stop; + brighter]"""
        return None if self.stops_ends is None else _middle(self.stops_ends)


def look_names() -> list[str]:
    """Names of the looks in the order of their table."""
    return list(_looks())


def look(name: str) -> Look:
    """The look of that name: upper or lower case, commas or none, or enough of its words.

    Raises  EvencastError naming the nearest, or those that the words fit
    """
    wanted = _words(name)
    fitting = [each for each in _looks().values() if set(wanted) <= set(_words(each.name))]
    exact = [each for each in fitting if _words(each.name) == wanted]
    found = exact or fitting
    if wanted and len(found) == 1:
        return found[0]
    if wanted and found:
        raise EvencastError(
            f'"{name}" may be any of {len(found)} looks',
            where="looks",
            remedy=f"Write {' or '.join(each.name for each in found)}.",
        )
    close = nearest(name, look_names())
    raise EvencastError(
        f'no look is called "{name}"',
        where="looks",
        remedy=(f"Did you mean {' or '.join(close)}? " if close else "")
        + "`evencast looks` lists them.",
    )


@cache
def _looks() -> dict[str, Look]:
    return {row["name"]: _built(row) for row in tables.read_rows("looks")}


def _built(row: dict[str, str]) -> Look:
    return Look(
        name=row["name"],
        mired_ends=(float(row["mired_low"]), float(row["mired_high"])),
        duv_ends=(float(row["duv_low"]), float(row["duv_high"])),
        stops_ends=(float(row["stops_low"]), float(row["stops_high"]))
        if row["stops_low"]
        else None,
        how=row["how"],
        note=row["note"],
        minds=tuple(each.strip() for each in row["minds"].split(";") if each.strip()),
    )


def _middle(ends: Ends) -> float:
    return (ends[0] + ends[1]) / 2.0


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())
