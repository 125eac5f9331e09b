"""Which sheets pieces come out of: the strips that the count found, item by item."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import repeat

from evencast.cutting.count import Piece, StockItem, able_to, fits, items_of, size_of
from evencast.cutting.search import Question, Trail, find
from evencast.cutting.ways import MOST_JOINED, Items, Size

LOOKED_AT = 20_000
"""States that are looked at for a layout; more take seconds, and the count said yes already."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One sheet, roll or offcut, and what comes out of it.

    entry : place of its entry in the stock
    whole : pieces that are cut from it whole
    parts : panes of which strips come out of it, and how many strips
    """

    entry: int
    whole: tuple[tuple[Piece, int], ...]
    parts: tuple[tuple[Piece, int], ...]


def layout(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> list[Taken] | None:
    """Items that yield all the pieces, of these as few and as small as can be left.

    The largest items are left out first, so that a roll stays whole where sheets do, as long as
    the pieces still fit.
    Returns None where they do not fit, or where the search gives up on how
    """
    if not fits(pieces, stock):
        return None
    return _laid(pieces, _needed(pieces, stock)) or _laid(pieces, stock)


def _needed(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> list[StockItem]:
    """The stock with counts down to what the pieces need."""
    kept = list(stock)
    order = sorted(range(len(kept)), key=lambda at: -kept[at].width_mm * kept[at].length_mm)
    for at in order:
        low, high = 0, min(kept[at].count, _most_parts(pieces))
        while low < high:
            half = (low + high) // 2
            if fits(pieces, [*kept[:at], replace(kept[at], count=half), *kept[at + 1 :]]):
                high = half
            else:
                low = half + 1
        kept[at] = replace(kept[at], count=high)
    return kept


def _most_parts(pieces: Sequence[Piece]) -> int:
    """No more items than these are ever cut: one for each part of each piece."""
    return len(pieces) * MOST_JOINED


def _laid(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> list[Taken] | None:
    of_size: dict[Size, Piece] = {}
    wanted: Counter[Size] = Counter()
    for piece in pieces:
        size = size_of(piece.width_mm, piece.height_mm, piece.may_join)
        of_size.setdefault(size, piece)
        wanted[size] += 1
    items, counts = items_of(tuple(stock))
    able = able_to(sorted(wanted.items()), items)
    piece_of = {id(way): of_size[size] for (way, _), size in zip(able, sorted(wanted), strict=True)}
    question = Question.of(able, items, counts)
    found, trail = find(question, most_states=LOOKED_AT)
    if not found:
        return None
    entries = _entries(stock, items)
    opened = _opened(question, trail, piece_of)
    return [_taken(next(entries[item]), cuts) for item, cuts in opened]


@dataclass(frozen=True, slots=True)
class _Cut:
    """A strip: so many pieces of a size, or parts of them where each is made of several."""

    piece: Piece
    parts: int
    count: int


def _opened(
    question: Question, trail: Trail | None, piece_of: Mapping[int, Piece]
) -> list[tuple[int, list[_Cut]]]:
    """Every item that was begun, by the number of its size, with the strips cut from it.

    piece_of : by the identity of what its size can do
    """
    opened: list[tuple[int, list[_Cut]]] = []
    rests: list[tuple[int, int]] = []
    for step in _in_order(trail):
        lay = question.lays[step.strip.lay]
        if step.rest is None:
            at, rest = len(opened), lay.along
            opened.append((lay.item, []))
            rests.append((step.strip.lay, rest))
        else:
            at, rest = rests.index((step.strip.lay, step.rest)), step.rest
        rests[at] = (step.strip.lay, rest - step.strip.height)
        way = question.able[step.state.size][0]
        count = min(step.strip.holds, step.state.need)
        parts = way.makes[step.state.make].parts
        opened[at][1].append(_Cut(piece_of[id(way)], parts, count))
    return opened


def _in_order(trail: Trail | None) -> Iterator[Trail]:
    steps = []
    while trail is not None:
        steps.append(trail)
        trail = trail.before
    return reversed(steps)


def _entries(stock: Sequence[StockItem], items: Items) -> list[Iterator[int]]:
    """For every size of item the places of the entries that have it, once for each item."""

    def places(size: tuple[int, int]) -> Iterator[int]:
        for at, each in enumerate(stock):
            if each.count and items_of((each,))[0] == (size,):
                yield from repeat(at, each.count)

    return [places(size) for size in items]


def _taken(entry: int, cuts: Sequence[_Cut]) -> Taken:
    whole: Counter[Piece] = Counter()
    parts: Counter[Piece] = Counter()
    for cut in cuts:
        (whole if cut.parts == 1 else parts)[cut.piece] += cut.count
    return Taken(entry, tuple(whole.items()), tuple(parts.items()))
