"""What holds for any pieces and any stock; and the count against strips placed one by one."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from evencast.cutting import Piece, StockItem, exact, fits, most_of
from evencast.cutting.search import Question, search
from evencast.cutting.ways import Size, ways

LAP_MM, MOST_JOINED = 25, 6
Sides = tuple[Fraction, Fraction]
Item = tuple[int, int]
Row = tuple[Fraction, Fraction, int]
"""A strip: its height, the width of its pieces, how many lie in it."""
Bench = tuple[tuple[Item, bool, tuple[Row, ...]], ...]
"""Every item, whether it is turned, and the strips in it."""


def pane_in(piece: Piece, item: Item) -> list[Sides]:
    """The parts a piece is made of from items of that size; none where it cannot be."""
    sides = sorted((Fraction(piece.width_mm), Fraction(piece.height_mm)))
    if sides[0] <= min(item) and sides[1] <= max(item):
        return [(sides[0], sides[1])]
    for parts in range(2, MOST_JOINED + 1):
        for seam, other in (sides, sides[::-1]):
            part = (other + (parts - 1) * LAP_MM) / parts
            low, high = sorted((seam, part))
            if piece.may_join and low <= min(item) and high <= max(item):
                return [(seam, part)] * parts
    return []


def placed(parts: Sequence[tuple[Sides, Item]], bench: Bench, dead: set[object]) -> Bench | None:
    """The bench with every part in a strip of an item of its size, or None."""
    if not parts:
        return bench
    if (len(parts), bench) in dead:
        return None
    (sides, wanted), *others = parts
    for place, (item, turned, rows) in enumerate(bench):
        if item != wanted:
            continue
        for turn in {turned, False} if rows else {False, True}:
            if rows and turn != turned:
                continue
            for more in with_part(rows, sides, item[::-1] if turn else item):
                changed = (*bench[:place], (item, turn, more), *bench[place + 1 :])
                found = placed(others, tuple(sorted(changed)), dead)
                if found is not None:
                    return found
    dead.add((len(parts), bench))
    return None


def with_part(rows: tuple[Row, ...], sides: Sides, item: Item) -> Iterator[tuple[Row, ...]]:
    """Every way to lay one more part: beside its like, or in a new strip, turned or not."""
    across, along = item
    for width, height in {sides, sides[::-1]}:
        for place, (row_height, row_width, count) in enumerate(rows):
            if (row_height, row_width) == (height, width) and (count + 1) * width <= across:
                fuller = (*rows[:place], (height, width, count + 1), *rows[place + 1 :])
                yield tuple(sorted(fuller))
        if width <= across and sum(row[0] for row in rows) + height <= along:
            yield tuple(sorted((*rows, (height, width, 1))))


def by_hand(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> bool:
    """Tries every item for every piece and every place for every part, and looks at the cut."""
    have = [(int(each.width_mm), int(each.length_mm)) for each in stock for _ in range(each.count)]
    items = [(min(item), max(item)) for item in have]
    bench: Bench = tuple(sorted((item, False, ()) for item in items))
    choices = [
        [(item, parts) for item in sorted(set(items)) if (parts := pane_in(piece, item))]
        for piece in pieces
    ]
    for chosen in itertools.product(*choices):
        wanted = sorted((part, item) for item, made in chosen for part in made)
        found = placed(wanted, bench, set())
        if found is not None:
            look_at(found, wanted)
            return True
    return False


def look_at(bench: Bench, parts: Sequence[tuple[Sides, Item]]) -> None:
    """Every part lies inside its item, none on another, and none is missing."""
    cut = []
    for item, turned, rows in bench:
        across, along = item[::-1] if turned else item
        taken: list[tuple[Fraction, Fraction, Fraction, Fraction]] = []
        y = Fraction(0)
        for height, width, count in rows:
            taken += [(n * width, y, (n + 1) * width, y + height) for n in range(count)]
            cut += [(tuple(sorted((width, height))), item)] * count
            y += height
        for left, low, right, high in taken:
            assert 0 <= left < right <= across
            assert 0 <= low < high <= along
        for one, other in itertools.combinations(taken, 2):
            assert (
                one[2] <= other[0]
                or other[2] <= one[0]
                or one[3] <= other[1]
                or (other[3] <= one[1])
            )
    assert sorted(cut) == sorted((tuple(sorted(sides)), item) for sides, item in parts)


steps = st.integers(1, 8).map(lambda n: 25.0 * n)
small_steps = st.integers(1, 5).map(lambda n: 25.0 * n)
tiny_pieces = st.lists(
    st.builds(Piece, small_steps, small_steps, st.booleans()), min_size=2, max_size=3
).flatmap(lambda sizes: st.lists(st.sampled_from(sizes), min_size=3, max_size=7))
tiny_stock = st.lists(
    st.builds(StockItem, st.sampled_from([75.0, 100.0, 125.0]), steps, st.integers(1, 2)),
    min_size=1,
    max_size=2,
)

panes = st.lists(st.builds(Piece, steps, steps, st.just(True)), min_size=1, max_size=2).flatmap(
    lambda sizes: st.lists(st.sampled_from(sizes), min_size=1, max_size=3)
)
scraps = st.lists(
    st.builds(StockItem, small_steps, steps, st.integers(1, 5)), min_size=1, max_size=2
)

sides = st.integers(60, 900).map(float)
piece_lists = st.lists(
    st.builds(Piece, sides, sides, st.booleans()), min_size=1, max_size=5
).flatmap(lambda sizes: st.lists(st.sampled_from(sizes), min_size=1, max_size=14))
long_lists = st.lists(
    st.builds(Piece, sides, sides, st.booleans()), min_size=2, max_size=6
).flatmap(lambda sizes: st.lists(st.sampled_from(sizes), min_size=8, max_size=20))
stocks = st.lists(
    st.builds(
        StockItem,
        st.integers(250, 700).map(float),
        st.integers(300, 1300).map(float),
        st.integers(0, 4),
    ),
    min_size=1,
    max_size=3,
)


@given(tiny_pieces, tiny_stock)
@settings(max_examples=200)
def test_the_count_is_right_where_every_cut_can_be_tried(
    pieces: list[Piece], stock: list[StockItem]
) -> None:
    """One piece after the other: yes just where strips can be placed so that all are cut."""
    kept: list[Piece] = []
    for piece in pieces:
        found = fits([*kept, piece], stock)
        assert found == by_hand([*kept, piece], stock)
        if found:
            kept.append(piece)
    event(f"{len(kept)} of {len(pieces)} fit")


@given(panes, scraps)
@settings(max_examples=300)
def test_the_count_is_right_where_panes_are_joined(
    pieces: list[Piece], stock: list[StockItem]
) -> None:
    """The same for panes that are larger than many items."""
    found = fits(pieces, stock)
    whole = fits([replace(piece, may_join=False) for piece in pieces], stock)
    event(f"fits: {found}, whole: {whole}")
    assert found == by_hand(pieces, stock)


@given(
    st.builds(Piece, small_steps, small_steps, st.booleans()),
    st.lists(st.builds(StockItem, small_steps, steps), min_size=1, max_size=2),
)
def test_most_of_is_the_most_that_can_be_cut(piece: Piece, stock: list[StockItem]) -> None:
    """So many fit by hand and one more does not."""
    most = most_of(piece, stock)
    assume(most <= 8)
    event(f"most: {most}")
    assert by_hand([piece] * most, stock)
    assert not by_hand([piece] * (most + 1), stock)


def filled_up(pieces: Sequence[Piece], stock: Sequence[StockItem]) -> list[Piece]:
    """As many of the pieces, in their order, as fit together."""
    kept: list[Piece] = []
    for piece in pieces:
        if fits([*kept, piece], stock):
            kept.append(piece)
    return kept


@given(long_lists, stocks, st.data())
def test_taking_pieces_away_never_makes_them_not_fit(
    pieces: list[Piece], stock: list[StockItem], data: st.DataObject
) -> None:
    """From a stock that is filled up: each piece in turn, and any part of them."""
    kept = filled_up(pieces, stock)
    event(f"full: {len(kept) < len(pieces)}")
    assert all(fits(kept[:at] + kept[at + 1 :], stock) for at in range(len(kept)))
    assert fits([piece for piece in kept if data.draw(st.booleans())], stock)


@given(long_lists, stocks)
def test_what_does_not_fit_does_not_fit_with_more(
    pieces: list[Piece], stock: list[StockItem]
) -> None:
    """The piece that was too much for a full stock stays too much."""
    kept = filled_up(pieces, stock)
    event(f"full: {len(kept) < len(pieces)}")
    for at, piece in enumerate(pieces):
        before = filled_up(pieces[:at], stock)
        if not fits([*before, piece], stock):
            assert not fits([*kept, piece], stock)


@given(piece_lists, stocks, stocks)
def test_more_stock_never_makes_it_not_fit(
    pieces: list[Piece], stock: list[StockItem], more: list[StockItem]
) -> None:
    """Neither further items nor larger counts; nor does it lessen what one size yields."""
    assert fits(pieces, [*stock, *more]) or not fits(pieces, stock)
    larger = [replace(each, count=each.count + 1) for each in stock]
    assert fits(pieces, larger) or not fits(pieces, stock)
    assert most_of(pieces[0], [*stock, *more]) >= most_of(pieces[0], stock)
    assert most_of(pieces[0], larger) >= most_of(pieces[0], stock)


@given(piece_lists, stocks, st.data())
def test_neither_order_nor_the_way_round_counts(
    pieces: list[Piece], stock: list[StockItem], data: st.DataObject
) -> None:
    """Pieces and items in any order, pieces and items turned, one entry of stock split in two."""
    found = fits(pieces, stock)
    other_pieces = [
        replace(each, width_mm=each.height_mm, height_mm=each.width_mm)
        if data.draw(st.booleans())
        else each
        for each in data.draw(st.permutations(pieces))
    ]
    assert fits(other_pieces, data.draw(st.permutations(stock))) == found
    turned = [StockItem(each.length_mm, each.width_mm, each.count) for each in stock]
    assert fits(pieces, turned) == found
    split = [StockItem(each.width_mm, each.length_mm) for each in stock for _ in range(each.count)]
    assert fits(pieces, split) == found


@given(piece_lists, stocks)
def test_one_size_alone_fits_up_to_what_the_stock_yields(
    pieces: list[Piece], stock: list[StockItem]
) -> None:
    """The two counts agree."""
    most = most_of(pieces[0], stock)
    assert fits([pieces[0]] * most, stock)
    assert not fits([pieces[0]] * (most + 1), stock)


@pytest.mark.parametrize("most_arcs", [0, exact.MOST_ARCS])
@given(data=st.data())
@settings(max_examples=60)
def test_search_and_linear_programme_agree(most_arcs: int, data: st.DataObject) -> None:
    """Two ways to decide the same question, the second with items one by one or together."""
    side = st.integers(600, 9000)
    size = st.tuples(side, side, st.booleans()).map(lambda s: (min(s[:2]), max(s[:2]), s[2]))
    sizes: dict[Size, int] = data.draw(
        st.dictionaries(size, st.integers(1, 4), min_size=1, max_size=5)
    )
    item = st.tuples(st.integers(2500, 7000), st.integers(7000, 13000))
    items = tuple(sorted(data.draw(st.sets(item, min_size=1, max_size=3))))
    counts = tuple(data.draw(st.integers(1, 4)) for _ in items)
    able = [(ways(size, items, 8), count) for size, count in sizes.items()]
    assume(all(way.makes for way, _ in able))
    question = Question.of(able, items, counts)
    searched = search(question, most_states=20_000)
    assume(searched is not None)
    event(f"fits: {searched}")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(exact, "MOST_ARCS", most_arcs)
        assert exact.decide(question) == searched
