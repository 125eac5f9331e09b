"""Whether pieces can be cut from a stock: a quick count that never promises too much.

Every item is cut into strips that run across one of its sides, and a strip holds pieces of one
size, all turned one way. Within that the answer is exact, so taking a piece away, or adding an
item, never turns a yes into a no. What is cut this way can be cut on any table: across first,
then each strip into pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

from evencast.cutting.search import Question, search
from evencast.cutting.ways import (
    PER_MM,
    Items,
    Size,
    Ways,
    item_units,
    joined_of,
    piece_units,
    ways,
)

SEARCHED = 1000
"""States that are looked at, beside one for each piece, before the linear programme is asked."""

_ASKED = 1 << 14


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle to cut; it may be turned.

    may_join : whether it may be made of strips that overlap, where no item holds it whole
    """

    width_mm: float
    height_mm: float
    may_join: bool = False

    def __post_init__(self) -> None:
        if not (self.width_mm > 0 and self.height_mm > 0):
            raise ValueError(f"a piece of {self.width_mm} × {self.height_mm} mm")


@dataclass(frozen=True, slots=True)
class StockItem:
    """So many sheets, rolls or offcuts of one size; a roll is a long sheet."""

    width_mm: float
    length_mm: float
    count: int = 1

    def __post_init__(self) -> None:
        if not (self.width_mm > 0 and self.length_mm > 0 and self.count >= 0):
            raise ValueError(f"{self.count} items of {self.width_mm} × {self.length_mm} mm")


def fits(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> bool:
    """Whether all the pieces can be cut from the stock together.

    A pane that may be joined is cut whole from an item that holds it, or made of the fewest
    equal strips that items of one size yield (`ways.MOST_JOINED` at most), each overlapping the
    next by `ways.LAP_MM`.
    Error   a question that even HiGHS gives up is answered with no (see `exact.NODES`); none
            of those tried, with up to 200 pieces and hardly enough stock, was
    """
    wanted = frozenset(Counter(map(_PIECE, pieces)).items())
    return _fits(wanted, items_of(tuple(stock)))


def most_of(piece: Piece, stock: Sequence[StockItem]) -> int:
    """How many pieces of that size the stock yields when nothing else is cut from it."""
    items, counts = items_of(tuple(stock))
    return ways(size_of(piece.width_mm, piece.height_mm, piece.may_join), items, 1).most(counts)


class Joined(NamedTuple):
    """How a pane is made of strips.

    parts     : how many, each overlapping the next by `ways.LAP_MM`
    spare_mm  : what the item has to spare over all of them
    width_mm, height_mm : of one, as the pane stands
    """

    parts: int
    spare_mm: float
    width_mm: float
    height_mm: float


def joined(piece: Piece, item: StockItem) -> Joined | None:
    """Of how many strips of such items the piece is made, and how large they are.

    None where the item holds it whole, or where too many strips would be needed.
    """
    size = size_of(piece.width_mm, piece.height_mm, piece.may_join)
    ((short, long),), _ = items_of((StockItem(item.width_mm, item.length_mm),))
    if not piece.may_join or (size[0] <= short and size[1] <= long):
        return None
    found = joined_of(size, (short, long))
    if found is None:
        return None
    parts, (seam, part) = found
    widest = long if seam <= short else short
    spare_mm = parts * (widest - part) / PER_MM
    sides_mm = seam / PER_MM, part / PER_MM
    if seam != piece_units(piece.width_mm):
        sides_mm = sides_mm[1], sides_mm[0]
    return Joined(parts, spare_mm, *sides_mm)


_PIECE = attrgetter("width_mm", "height_mm", "may_join")


@lru_cache(maxsize=4096)
def size_of(width_mm: float, height_mm: float, may_join: bool) -> Size:
    """Sides of a piece as they are counted, whichever way it lies."""
    short, long = sorted((piece_units(width_mm), piece_units(height_mm)))
    return short, long, may_join


@lru_cache(maxsize=1024)
def items_of(stock: tuple[StockItem, ...]) -> tuple[Items, tuple[int, ...]]:
    """The sizes of the items that there are, and how many of each."""
    found: Counter[tuple[int, int]] = Counter()
    for each in stock:
        short, long = sorted((item_units(each.width_mm), item_units(each.length_mm)))
        found[short, long] += each.count
    kept = sorted((size, count) for size, count in found.items() if count)
    return tuple(size for size, _ in kept), tuple(count for _, count in kept)


@lru_cache(maxsize=_ASKED)
def _fits(
    wanted: frozenset[tuple[tuple[float, float, bool], int]], have: tuple[Items, tuple[int, ...]]
) -> bool:
    sizes: Counter[Size] = Counter()
    for piece, count in wanted:
        sizes[size_of(*piece)] += count
    return _decided(tuple(sorted(sizes.items())), *have)


def able_to(wanted: Sequence[tuple[Size, int]], items: Items) -> list[tuple[Ways, int]]:
    """What each size can do with those items, and how many pieces of it are wanted."""
    return [(ways(size, items, _table(count)), count) for size, count in wanted]


@lru_cache(maxsize=_ASKED)
def _decided(wanted: tuple[tuple[Size, int], ...], items: Items, counts: tuple[int, ...]) -> bool:
    """Quick no by area and by each size alone, quick yes by the search's first way down, else
    all that the search can try, else a linear programme in whole numbers."""
    able = able_to(wanted, items)
    if any(way.most(counts) < count for way, count in able):
        return False
    area = sum(count * short * long for (short, long), count in zip(items, counts, strict=True))
    if sum(way.least_area(count) for way, count in able) > area:
        return False
    question = Question.of(able, items, counts)
    found = search(question, most_states=SEARCHED + sum(count for _, count in wanted))
    if found is not None:
        return found
    from evencast.cutting.exact import decide  # scipy, for the few that are left

    return decide(question)


def _table(count: int) -> int:
    """A size for tables that few different counts ask for."""
    return max(8, 1 << (count - 1).bit_length())
