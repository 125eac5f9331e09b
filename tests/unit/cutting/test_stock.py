from __future__ import annotations

import pytest

from evencast.cutting import Piece, StockItem, explain, fits, stock_of
from evencast.plan.kit import KitFilter

SHEETS = StockItem(530, 1220, 23)
ROLL = StockItem(1220, 7620)
PANE = Piece(1200, 1600, may_join=True)


def entry(*stock: dict[str, object]) -> KitFilter:
    return KitFilter.model_validate(
        {"name": "full CTO", "role": "correction", "generic": "full CTO", "stock": list(stock)}
    )


def test_stock_of_a_filter() -> None:
    """Sheets, rolls and offcuts alike; none left is not the same as nothing said."""
    sheet = {"form": "sheet", "width_mm": 530, "length_mm": 1220, "count": 2}
    roll = {"form": "roll", "width_m": 1.22, "length_m": 7.62}
    gone = {"form": "offcut", "width_mm": 300, "length_mm": 200, "count": 0}
    assert stock_of(entry(sheet, roll, gone)) == (
        StockItem(530, 1220, 2),
        StockItem(1220, 7620, 1),
        StockItem(300, 200, 0),
    )
    assert stock_of(entry(gone)) == (StockItem(300, 200, 0),)
    assert stock_of(entry()) is None


@pytest.mark.parametrize(
    ("pieces", "stock", "sentence"),
    [
        (
            [Piece(700, 900)],
            [StockItem(250, 300, 9), SHEETS],
            "A piece of 700 × 900 mm is larger than any item in stock, of which the largest is "
            "530 × 1220 mm.",
        ),
        (
            [Piece(170, 170), PANE],
            [StockItem(250, 300, 999)],
            "A piece of 1200 × 1600 mm is larger than any item in stock, of which the largest is "
            "250 × 300 mm, and joining it takes more than 6 strips.",
        ),
        (
            [Piece(170, 170)] * 22,
            [StockItem(530, 1220)],
            "22 pieces of 170 × 170 mm are needed, and the stock yields 21.",
        ),
        (
            [Piece(200, 170), Piece(170, 200.5)] + [Piece(170, 200)] * 20,
            [StockItem(530, 1220)],
            "21 pieces of 170 × 200 mm are needed, and the stock yields 18.",
        ),
        (
            [PANE] * 6,
            [SHEETS],
            "6 pieces of 1200 × 1600 mm are needed, each joined from 4 strips, and the stock "
            "yields 5.",
        ),
        (
            [PANE],
            [StockItem(530, 1220, 3)],
            "1 piece of 1200 × 1600 mm is needed, each joined from 4 strips, and the stock yields "
            "none.",
        ),
        (
            [Piece(170, 170)] * 12 + [Piece(350, 350)] * 2,
            [StockItem(530, 1220)],
            "Each size alone would fit, but the 14 pieces of 2 sizes, 0.59 m² in all, do not go "
            "together into the 0.65 m² in stock when it is cut in strips.",
        ),
        ([PANE], [StockItem(1220, 7620, 0)], "Nothing of it is in stock."),
        ([PANE], [], "Nothing of it is in stock."),
        ([], [], "Nothing is to be cut."),
        ([PANE], [ROLL], "The piece fits."),
        ([PANE] * 4, [ROLL], "All 4 pieces fit."),
        (
            [PANE] * 5,
            [SHEETS],
            "All 5 pieces fit: 1200 × 1600 mm, each joined from 4 strips; every lap of 25 mm "
            "shows as a stripe of double density.",
        ),
        (
            [PANE] * 6,
            [ROLL, SHEETS],
            "All 6 pieces fit: 1200 × 1600 mm, each joined from 4 strips, as far as none is "
            "whole; every lap of 25 mm shows as a stripe of double density.",
        ),
        (
            [Piece(1140, 1540, may_join=True), Piece(170, 170)],
            [SHEETS],
            "All 2 pieces fit: 1140 × 1540 mm, each joined from 3 strips, with nothing to spare; "
            "every lap of 25 mm shows as a stripe of double density.",
        ),
    ],
)
def test_in_words(pieces: list[Piece], stock: list[StockItem], sentence: str) -> None:
    """Why it does not fit, the first reason that holds; or what fitting costs."""
    assert explain(pieces, stock) == sentence
    assert fits(pieces, stock) == (
        "fit:" in sentence or sentence.endswith(("fit.", "fits.", "cut."))
    )
