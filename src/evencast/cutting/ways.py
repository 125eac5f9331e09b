"""How a piece may be cut from an item: strips across one side of it, all pieces of a strip alike.

Lengths are whole tenths of a millimetre here, so that nothing hangs on the last bit of a number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import floor
from typing import NamedTuple

LAP_MM = 25.0
"""Strips of one pane overlap by this much: common practice, no source."""
MOST_JOINED = 6
"""A pane is not patched up from more strips than these."""

LONGEST_MM = 99_999.0
"""A longer item counts as this long; a longer piece fits nowhere."""
PER_MM = 10

Size = tuple[int, int, bool]
"""Shorter side, longer side, and whether it may be joined from strips."""
Items = tuple[tuple[int, int], ...]
"""Shorter and longer side of each size of item."""


class Lay(NamedTuple):
    """One of the two ways to cut an item into strips: all across the one side or the other."""

    item: int
    across: int
    along: int


class Strip(NamedTuple):
    """A strip of equal pieces: how an item must lie for it, its height, how many it holds."""

    lay: int
    height: int
    holds: int
    area: int


class Make(NamedTuple):
    """One way to make a piece: so many equal parts of it, each from one of these strips."""

    parts: int
    strips: tuple[Strip, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """All that a size of piece can do with some sizes of items.

    makes      : whole from any item that holds it, then joined from the items of one size each
    items      : how many sizes of items it can come from
    least      : for each make, the least area of the strips of so many parts, by their number
    area_each  : no piece takes less area of strips, however it is made
    low        : the lowest strip of every lay that one is cut in, by the number of the lay
    yields     : item, parts that one such item yields alone, parts of a piece
    """

    makes: tuple[Make, ...]
    items: int
    least: tuple[tuple[int, ...], ...]
    area_each: int
    low: tuple[tuple[int, int], ...]
    yields: tuple[tuple[int, int, int], ...]

    def least_area(self, count: int) -> int:
        """Strips of so many pieces take at least this area."""
        if len(self.makes) == 1:
            return self.least[0][count * self.makes[0].parts]
        return count * self.area_each

    def most(self, counts: tuple[int, ...]) -> int:
        """How many the items yield when nothing else is cut from them."""
        whole = sum(counts[item] * parts for item, parts, each in self.yields if each == 1)
        return whole + sum(
            counts[item] * parts // each for item, parts, each in self.yields if each > 1
        )


def piece_units(length_mm: float) -> int:
    """A side of a piece in tenths of a millimetre, rounded down: sizes in eighths of an inch
    then still fill an item that they fill by arithmetic."""
    return max(1, floor(min(length_mm, 2 * LONGEST_MM) * PER_MM + 1e-6))


def item_units(length_mm: float) -> int:
    """A side of an item in tenths of a millimetre."""
    return max(1, round(min(length_mm, LONGEST_MM) * PER_MM))


@lru_cache(maxsize=1024)
def lays(items: Items) -> tuple[Lay, ...]:
    """Both lays of every item, one of a square."""
    found: list[Lay] = []
    for place, (short, long) in enumerate(items):
        found.append(Lay(place, short, long))
        if short != long:
            found.append(Lay(place, long, short))
    return tuple(found)


@lru_cache(maxsize=4096)
def ways(size: Size, items: Items, most_pieces: int) -> Ways:
    """What a size can do with those items, with tables for up to so many pieces."""
    short, long, may_join = size
    laid = lays(items)
    whole = _strips((short, long), enumerate(laid))
    makes = [Make(1, whole)] if whole else []
    holding = {laid[strip.lay].item for strip in whole}
    for place, item in enumerate(items):
        if may_join and place not in holding and (joined := joined_of(size, item)) is not None:
            parts, shape = joined
            own = ((at, lay) for at, lay in enumerate(laid) if lay.item == place)
            makes.append(Make(parts, _strips(shape, own)))
    strips = [strip for make in makes for strip in make.strips]
    return Ways(
        makes=tuple(makes),
        items=len({laid[strip.lay].item for strip in strips}),
        least=tuple(_least(make.strips, make.parts * most_pieces) for make in makes),
        area_each=min((_area_each(make) for make in makes), default=0),
        low=tuple(
            (at, min(strip.height for strip in strips if strip.lay == at))
            for at in sorted({strip.lay for strip in strips})
        ),
        yields=tuple(_yields(makes, laid)),
    )


def joined_of(size: Size, item: tuple[int, int]) -> tuple[int, tuple[int, int]] | None:
    """The fewest equal strips that make up a pane, two at least, and the sides of one.

    Of two ways to run the strips the one with the shorter seams. None above `MOST_JOINED`.
    """
    short, long, _ = size
    lap = round(LAP_MM * PER_MM)
    for parts in range(2, MOST_JOINED + 1):
        shapes = [
            (seam, (other + (parts - 1) * lap) // parts)
            for seam, other in ((short, long), (long, short))
        ]
        for shape in shapes:
            if min(shape) <= item[0] and max(shape) <= item[1]:
                return parts, shape
    return None


def _strips(sides: tuple[int, int], laid: Iterable[tuple[int, Lay]]) -> tuple[Strip, ...]:
    """The strips that a rectangle may lie in, without those that are higher and hold no more."""
    found: list[Strip] = []
    for at, lay in laid:
        low, high = (
            Strip(at, height, lay.across // width, height * lay.across)
            for height, width in (sorted(sides), sorted(sides, reverse=True))
        )
        if low.holds and low.height <= lay.along:
            found.append(low)
        if high.holds > low.holds and high.height <= lay.along:
            found.append(high)
    return tuple(found)


def _least(strips: tuple[Strip, ...], most_parts: int) -> tuple[int, ...]:
    """Least area of strips that hold 0, 1, 2 ... parts."""
    least = [0]
    for count in range(1, most_parts + 1):
        least.append(min(area + least[max(0, count - holds)] for _, _, holds, area in strips))
    return tuple(least)


def _area_each(make: Make) -> int:
    return min(make.parts * strip.area // strip.holds for strip in make.strips)


def _yields(makes: list[Make], laid: tuple[Lay, ...]) -> Iterator[tuple[int, int, int]]:
    for make in makes:
        for item in sorted({laid[strip.lay].item for strip in make.strips}):
            alone = (
                _fill([strip for strip in make.strips if strip.lay == at], lay.along)
                for at, lay in enumerate(laid)
                if lay.item == item
            )
            yield item, max(alone), make.parts


def _fill(strips: list[Strip], along: int) -> int:
    """The most parts that strips of one or two heights hold within that length."""
    if len(strips) < 2:
        return sum(along // strip.height * strip.holds for strip in strips)
    rare, often = sorted(strips, key=lambda strip: strip.holds / strip.height)
    # so many of the rarer ones could be swapped for the other at no loss
    most_rare = min(along // rare.height, often.height)
    return max(
        count * rare.holds + (along - count * rare.height) // often.height * often.holds
        for count in range(most_rare + 1)
    )
