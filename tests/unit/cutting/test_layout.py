"""Which sheets pieces come out of, held against arithmetic of areas, sides and counts."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.cutting import Piece, StockItem, fits
from evencast.cutting.count import joined
from evencast.cutting.layout import Taken, layout

SHEET, ROLL, PACK = (530.0, 1220.0), (1220.0, 7620.0), (250.0, 300.0)


def counts(taken: list[Taken]) -> Counter[Piece]:
    """How many pieces come out whole."""
    found: Counter[Piece] = Counter()
    for each in taken:
        found.update(dict(each.whole))
    return found


def test_three_panes_come_from_one_roll() -> None:
    pane = Piece(1150, 1550, may_join=True)
    assert layout([pane] * 3, [StockItem(*ROLL)]) == [Taken(0, ((pane, 3),), ())]


def test_a_roll_stays_whole_where_a_sheet_does() -> None:
    frame = Piece(170, 170)
    stock = [StockItem(*ROLL), StockItem(*SHEET, 3), StockItem(*PACK, 5)]
    assert layout([frame], stock) == [Taken(2, ((frame, 1),), ())]
    assert [each.entry for each in layout([frame] * 21, stock) or ()] == [1]


def test_panes_in_strips() -> None:
    """Two panes of four strips each: eight sheets, one strip a sheet."""
    pane = Piece(1200, 1600, may_join=True)
    taken = layout([pane] * 2, [StockItem(*SHEET, 20)])
    assert taken == [Taken(0, (), ((pane, 1),))] * 8


def test_entries_of_one_size_are_told_apart() -> None:
    """Five sleeves of 1.2 m a sheet: eleven take three sheets, two of the one entry."""
    sleeve = Piece(102, 1200)
    taken = layout([sleeve] * 11, [StockItem(*SHEET, 2), StockItem(1220, 530, 4)])
    assert taken is not None
    assert counts(taken) == {sleeve: 11}
    assert len(taken) == 3


@pytest.mark.parametrize("stock", [[], [StockItem(*PACK, 0)], [StockItem(*PACK, 3)]])
def test_what_does_not_fit_has_no_layout(stock: list[StockItem]) -> None:
    assert layout([Piece(400, 400)], stock) is None
    assert layout([], stock) == []


sides = st.integers(20, 700)


@given(
    st.lists(st.builds(Piece, sides, sides, st.booleans()), max_size=12),
    st.lists(st.builds(StockItem, sides, st.integers(200, 1500), st.integers(0, 4)), max_size=4),
)
@settings(max_examples=150)
def test_every_layout_can_be_cut(pieces: list[Piece], stock: list[StockItem]) -> None:
    """Nothing is lost, no entry gives more items than it has, and what is said to come out of an
    item fits into that item alone."""
    taken = layout(pieces, stock)
    if taken is None:
        assert not fits(pieces, stock)
        return
    used = Counter(each.entry for each in taken)
    assert all(count <= stock[entry].count for entry, count in used.items())
    made: Counter[tuple[float, ...]] = Counter()
    for each in taken:
        item = StockItem(stock[each.entry].width_mm, stock[each.entry].length_mm)
        cut = [_whole(piece) for piece, count in each.whole for _ in range(count)]
        made.update(_sides(piece) for piece, count in each.whole for _ in range(count))
        for piece, count in each.parts:
            strips = joined(piece, item)
            assert strips is not None
            cut += [Piece(strips.width_mm, strips.height_mm)] * count
            made[_sides(piece)] += Fraction(count, strips.parts)  # type: ignore[assignment]
        assert fits(cut, [item])
    assert made == Counter(_sides(piece) for piece in pieces)


def _whole(piece: Piece) -> Piece:
    return Piece(piece.width_mm, piece.height_mm)


def _sides(piece: Piece) -> tuple[float, ...]:
    return (*sorted((piece.width_mm, piece.height_mm)), piece.may_join)
