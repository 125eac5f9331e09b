"""Pieces to cut for a light, and whether a stock yields them."""

from evencast.cutting.count import Piece, StockItem, fits, most_of
from evencast.cutting.pieces import area_m2, pieces_of
from evencast.cutting.stock import explain, stock_of

__all__ = [
    "Piece",
    "StockItem",
    "area_m2",
    "explain",
    "fits",
    "most_of",
    "pieces_of",
    "stock_of",
]
