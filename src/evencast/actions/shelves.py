"""The kit's stock as a scene asks for it."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import replace
from typing import cast

from evencast.actions.kit import LoadedKit
from evencast.cutting.count import Piece, StockItem, fits
from evencast.cutting.pieces import area_m2
from evencast.cutting.stock import explain, stock_of
from evencast.filters import Filter


class Shelves:
    """What there is of every filter that a search may pick; nobody counts what the kit is silent
    about. A sheet more is one more of the largest that the kit knows of it."""

    def __init__(self, kit: LoadedKit, filters: Sequence[Filter]) -> None:
        entries = {each.name: each for each in kit.document.filter} if kit.document else {}
        self._stock = [
            stock_of(entries[each.name]) if each.name in entries else None for each in filters
        ]

    def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
        """Whether all these pieces can be cut, with so many sheets more."""
        stock = self._with(filter_index, more)
        return stock is None or fits(cast(tuple[Piece, ...], pieces), stock)

    def area_m2(self, piece: Hashable) -> float:
        """Area of a piece."""
        return area_m2([cast(Piece, piece)])

    def room_m2(self, filter_index: int, more: int) -> float:
        """Area of all sheets; infinite where nobody counts them."""
        stock = self._with(filter_index, more)
        if stock is None:
            return math.inf
        return sum(each.width_mm * each.length_mm * each.count for each in stock) / 1e6

    def explain(self, filter_index: int, pieces: Sequence[Piece]) -> str:
        """In one sentence why pieces do not fit."""
        return explain(pieces, self._stock[filter_index] or ())

    def _with(self, filter_index: int, more: int) -> Sequence[StockItem] | None:
        stock = self._stock[filter_index]
        if not more or stock is None:
            return stock
        largest = max(stock, key=lambda each: each.width_mm * each.length_mm)
        return [*stock, replace(largest, count=more)]
