"""Pieces to cut for a light, and whether a stock yields them."""

from evencast.cutting.count import Piece, StockItem, fits, most_of

__all__ = ["Piece", "StockItem", "fits", "most_of"]
