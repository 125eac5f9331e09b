"""The stock of a filter, and in words what it yields."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from evencast.cutting.count import Piece, StockItem, fits, joined, most_of
from evencast.cutting.pieces import area_m2
from evencast.cutting.ways import LAP_MM, MOST_JOINED

if TYPE_CHECKING:
    from evencast.plan.kit import KitFilter


def stock_of(filter_entry: KitFilter) -> tuple[StockItem, ...] | None:
    """What is at hand of a filter; None where the kit says nothing of it: not limited."""
    if not filter_entry.stock:
        return None
    return tuple(
        StockItem(each.width_mm, each.length_mm, each.count) for each in filter_entry.stock
    )


def explain(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> str:
    """In one sentence why the pieces do not fit; or that they do, and which are joined."""
    there = [item for item in stock if item.count]
    if not pieces:
        return "Nothing is to be cut."
    if fits(pieces, stock):
        return _fitting(pieces, there)
    if not there:
        return "Nothing of it is in stock."
    sizes = _sizes(pieces)
    for piece in sizes:
        if not _ever(piece, there):
            return _too_large(piece, there)
    for piece, needed in sizes.items():
        yielded = most_of(piece, there)
        if yielded < needed:
            return (
                f"{_pieces(needed)} of {_said(piece)} {'is' if needed == 1 else 'are'} "
                f"needed{_joined(piece, there)}, and the stock yields {yielded or 'none'}."
            )
    return (
        f"Each size alone would fit, but the {_pieces(len(pieces))} of {len(sizes)} sizes, "
        f"{area_m2(pieces):.2f} m² in all, do not go together into the "
        f"{sum(each.width_mm * each.length_mm * each.count for each in there) / 1e6:.2f} m² in "
        "stock when it is cut in strips."
    )


def _sizes(pieces: Sequence[Piece]) -> Counter[Piece]:
    """How many there are of each size, the largest first."""
    upright = (
        replace(
            piece,
            width_mm=min(piece.width_mm, piece.height_mm),
            height_mm=max(piece.width_mm, piece.height_mm),
        )
        for piece in pieces
    )
    counted = Counter(upright)
    ordered = sorted(counted, key=lambda each: (-each.width_mm * each.height_mm, each.may_join))
    return Counter({piece: counted[piece] for piece in ordered})


def _fitting(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> str:
    said = "The piece fits" if len(pieces) == 1 else f"All {_pieces(len(pieces))} fit"
    if fits([replace(piece, may_join=False) for piece in pieces], stock):
        return f"{said}."
    seamed = [piece for piece in _sizes(pieces) if _joined(piece, stock)]
    listed = "; ".join(f"{_said(piece)}{_joined(piece, stock)}" for piece in seamed)
    return f"{said}: {listed}; every lap of {LAP_MM:g} mm shows as a stripe of double density."


def _joined(piece: Piece, stock: Sequence[StockItem]) -> str:
    """Of how many strips such a piece is made, where it is not cut whole: a part of a sentence."""
    if not piece.may_join:
        return ""
    joins = [found for item in stock if (found := joined(piece, item)) is not None]
    if not joins:
        return ""
    strips = " or ".join(f"{parts}" for parts in sorted({each.parts for each in joins}))
    some = "" if not most_of(replace(piece, may_join=False), stock) else ", as far as none is whole"
    tight = ", with nothing to spare" if min(each.spare_mm for each in joins) < 1 else ""
    return f", each joined from {strips} strips{some}{tight}"


def _ever(piece: Piece, stock: Sequence[StockItem]) -> bool:
    """Whether more of the same items would ever yield such a piece."""
    return most_of(piece, [replace(item, count=MOST_JOINED) for item in stock]) > 0


def _too_large(piece: Piece, stock: Sequence[StockItem]) -> str:
    largest = max(stock, key=lambda item: item.width_mm * item.length_mm)
    join = f", and joining it takes more than {MOST_JOINED} strips" if piece.may_join else ""
    return (
        f"A piece of {_said(piece)} is larger than any item in stock, of which the largest is "
        f"{_mm(largest.width_mm)} × {_mm(largest.length_mm)} mm{join}."
    )


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _said(piece: Piece) -> str:
    return f"{_mm(piece.width_mm)} × {_mm(piece.height_mm)} mm"


def _mm(length_mm: float) -> str:
    return f"{length_mm:.1f}".removesuffix(".0")
