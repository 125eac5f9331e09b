"""What a scene's programme knows of the stock: bounds that no choice which fits may break."""

from __future__ import annotations

import itertools
import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.scene_light import SceneLight
from evencast.solver.stock import Cut, Group, Limit, Stock

LAYERS = 2
NONE: Floats = np.zeros(0)


@dataclass(frozen=True)
class Bars:
    """A stock of bars of one length each; pieces are lengths, each cut from one bar.

    lengths : by filter
    """

    lengths: Sequence[Sequence[int]]

    def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
        """Every way to share them out is tried."""
        left = [*self.lengths[filter_index], *([8] * more)]
        return _shared(sorted(map(_length, pieces), reverse=True), left)

    def area_m2(self, piece: Hashable) -> float:
        """Its length."""
        return float(_length(piece))

    def room_m2(self, filter_index: int, more: int) -> float:
        """All lengths."""
        return float(sum(self.lengths[filter_index]) + 8 * more)


def _length(piece: Hashable) -> int:
    assert isinstance(piece, int)
    return piece


def _shared(pieces: list[int], left: list[int]) -> bool:
    if not pieces:
        return True
    first, *rest = pieces
    return any(
        _shared(rest, [*left[:at], room - first, *left[at + 1 :]])
        for at, room in enumerate(left)
        if room >= first and room not in left[:at]
    )


def lights(every: Sequence[Sequence[int]]) -> list[SceneLight]:
    """Lights of which nothing counts but the pieces that one sheet takes."""
    return [
        SceneLight(f"light {number}", DEFAULT_ALLOWED["fill"], (), (), (), pieces=tuple(pieces))
        for number, pieces in enumerate(every)
    ]


LENGTHS = st.lists(st.lists(st.integers(1, 8), max_size=3), min_size=1, max_size=2)
OPENINGS = st.lists(st.lists(st.integers(1, 5), max_size=2), min_size=1, max_size=3)


def choices(count: int, filters: int) -> list[list[Ints]]:
    """Every way to give so many lights up to two sheets each; the filter count is none."""
    stacks = [
        np.array(each)
        for each in itertools.combinations_with_replacement(range(filters + 1), LAYERS)
    ]
    return [list(each) for each in itertools.product(stacks, repeat=count)]


def fit(every: Sequence[SceneLight], bars: Bars, members: Sequence[Ints]) -> bool:
    """Whether a choice can be cut, by counting its pieces."""
    for index in range(len(bars.lengths)):
        pieces: tuple[Hashable, ...] = ()
        for light, stack in zip(every, members, strict=True):
            pieces += light.pieces * int((stack == index).sum())
        if not bars.fits(index, pieces, 0):
            return False
    return True


def keeps(limit: Limit, members: Sequence[Ints]) -> bool:
    used = sum(
        weight * int((stack == limit.filter).sum())
        for weight, stack in zip(limit.weights, members, strict=True)
    )
    return used <= limit.most + 1e-9


@given(lengths=LENGTHS, openings=OPENINGS)
def test_what_fits_breaks_no_limit_and_no_cut(
    lengths: list[list[int]], openings: list[list[int]]
) -> None:
    """Every choice of every small scene: limits and cuts strike out nothing that can be cut."""
    every, bars = lights(openings), Bars(lengths)
    stock = Stock(every, len(lengths), LAYERS, bars)
    made = choices(len(every), len(lengths))
    cuts = [cut for members in made for cut in stock.cuts(members)]
    for members in made:
        if fit(every, bars, members):
            assert all(keeps(limit, members) for limit in stock.limits)
            assert not any(cut.lacking(members) == 0 for cut in cuts)
            assert stock.cuts(members) == []


@given(lengths=LENGTHS, openings=OPENINGS)
def test_what_does_not_fit_is_cut(lengths: list[list[int]], openings: list[list[int]]) -> None:
    """Each choice that cannot be cut breaks one of its own cuts, so that none is met twice."""
    every, bars = lights(openings), Bars(lengths)
    stock = Stock(every, len(lengths), LAYERS, bars)
    for members in choices(len(every), len(lengths)):
        if not fit(every, bars, members):
            cuts = stock.cuts(members)
            assert cuts
            assert all(cut.lacking(members) == 0 for cut in cuts)


def test_a_sheet_more_is_a_stock_of_its_own() -> None:
    """One bar holds one piece of 5; a bar more holds another, and the first stock is as it was."""
    every, bars = lights([[5], [5]]), Bars([[8]])
    stock = Stock(every, 1, LAYERS, bars)
    both = [np.array([0, 1]), np.array([0, 1])]
    (cut,) = stock.cuts(both)
    assert cut == Cut(0, (Group((0, 1), 1, 2),))
    assert stock.with_more({0: 1}).cuts(both) == []
    assert stock.cuts(both) == [cut]


def test_lights_as_hungry_are_in_the_cut() -> None:
    """Any two of three lights alike are too many, though only two were asked for."""
    stock = Stock(lights([[5], [5], [5], [1]]), 1, LAYERS, Bars([[8]]))
    bare = np.array([1, 1])
    (cut,) = stock.cuts([np.array([0, 1]), np.array([0, 1]), bare, bare])
    assert cut == Cut(0, (Group((0, 1, 2), 1, 2),))
    assert cut.lacking([bare] * 4) == 2


def test_a_cut_holds_no_more_than_is_too_many() -> None:
    """A light whose piece fits beside either is left out of it."""
    stock = Stock(lights([[7], [6], [1]]), 1, LAYERS, Bars([[8]]))
    (cut,) = stock.cuts([np.array([0, 1])] * 3)
    assert cut == Cut(0, (Group((0,), 1, 1), Group((1,), 1, 1)))


def test_lights_alike_stand_for_each_other_in_a_cut_of_several_sizes() -> None:
    """On bars of 8 and 8 a piece of 7 leaves room for two of 4: any one light of the first kind
    and any three of the second are too many, whichever were asked for."""
    stock = Stock(lights([[7], [7], [4], [4], [4], [4]]), 1, LAYERS, Bars([[8, 8]]))
    bare, one = np.array([1, 1]), np.array([0, 1])
    (cut,) = stock.cuts([one, bare, one, one, one, bare])
    assert cut == Cut(0, (Group((0, 1), 1, 1), Group((2, 3, 4, 5), 1, 3)))
    assert cut.lacking([bare, one, one, bare, one, one]) == 0
    assert cut.lacking([bare, one, one, bare, bare, one]) == 1


def test_a_light_that_takes_two_is_counted_among_those_that_take_one() -> None:
    """Bars of 4 and 8 hold three pieces of 4; two before one light and one before two others are
    four."""
    stock = Stock(lights([[4], [4], [4], [3]]), 1, LAYERS, Bars([[4, 8]]))
    two, one, bare = np.array([0, 0]), np.array([0, 1]), np.array([1, 1])
    (cut,) = stock.cuts([two, one, one, bare])
    assert cut == Cut(0, (Group((0, 1, 2), 1, 3), Group((0, 1, 2), 2, 1)))
    assert cut.lacking([one, two, one, bare]) == 0
    assert cut.lacking([one, one, one, bare]) == 1


def test_as_many_go_as_there_are_pieces_for() -> None:
    """Smaller pieces first; what is kept can be cut."""
    stock = Stock(lights([[5], [3], [7], [4]]), 1, LAYERS, Bars([[8]]))
    one = np.array([0, 1])
    assert stock.as_many(0, [one] * 4) == [0, 1, 0, 1]


def test_pieces_of_one_size_are_counted() -> None:
    """Three bars of 8 hold three pieces of 5, though there is room for four by length."""
    stock = Stock(lights([[5, 5], [5]]), 1, LAYERS, Bars([[8, 8, 8]]))
    assert Limit(0, (2.0, 1.0), 3.0) in stock.limits
    assert Limit(0, (10.0, 5.0), 24.0) in stock.limits
    one_each = [np.array([0, 1]), np.array([0, 1])]
    by_number = next(each for each in stock.limits if each.most == 3.0)
    assert stock.is_full(by_number, one_each)
    assert not stock.is_full(by_number, [np.array([0, 1]), np.array([1, 1])])


def test_where_there_is_enough_nothing_is_limited() -> None:
    """Nor where nothing is known of the openings."""
    assert Stock(lights([[5], []]), 1, LAYERS, Bars([[8] * 2])).limits == []
    assert Stock(lights([[], []]), 1, LAYERS, Bars([[]])).limits == []
    assert Stock(lights([[]]), 1, LAYERS, Bars([[]])).cuts([np.array([0, 0])]) == []


def test_what_nobody_counts_has_no_end() -> None:
    """Room without end gives no limit, however large the pieces."""

    class Endless(Bars):
        """All there is."""

        def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
            """Always."""
            return True

        def room_m2(self, filter_index: int, more: int) -> float:
            """Without end."""
            return math.inf

    assert Stock(lights([[10**9]]), 1, LAYERS, Endless([[]])).limits == []
