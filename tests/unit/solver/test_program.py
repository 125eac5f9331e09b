"""The choice at one balance where the pieces decide, held against every choice there is."""

from __future__ import annotations

import itertools
import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
import scipy.optimize
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import OptimizeResult

from evencast.quantities import Floats
from evencast.solver.assign import Choice, Program
from evencast.solver.best import Ints
from evencast.solver.options import Options
from evencast.solver.patience import Patience
from evencast.solver.prices import Weights
from evencast.solver.scene_light import SceneLight
from evencast.solver.stock import Cut, Stock
from tests.unit.solver.test_stock import LAYERS, Bars, fit, lights
from tests.unit.solver.test_table import CLEAR, WAYS, options

STACKS: list[tuple[int, ...]] = [(), (0,), (0, 0), (1,), (0, 1)]

lengths = st.lists(st.lists(st.integers(4, 9), min_size=1, max_size=3), min_size=2, max_size=2)
pieces = st.lists(st.sampled_from([(3,), (4,), (5,), (3, 3)]), min_size=3, max_size=4)
costs = st.lists(st.integers(0, 60), min_size=5 * 4, max_size=5 * 4)


@dataclass(frozen=True)
class Case:
    """Lights that each may take one of five stacks at a price, on a stock of bars."""

    lights: Sequence[SceneLight]
    bars: Bars
    options: Sequence[Options]

    @property
    def stock(self) -> Stock:
        return Stock(self.lights, 2, LAYERS, self.bars)

    @property
    def program(self) -> Program:
        return Program(self.lights, self.options, {}, None, Weights(), Patience(60.0))

    def members(self, rows: Sequence[int]) -> list[Ints]:
        return [each.found.members[row] for each, row in zip(self.options, rows, strict=True)]

    def fits(self, rows: Sequence[int]) -> bool:
        stacks = [np.where(each == CLEAR, 2, each) for each in self.members(rows)]
        return fit(self.lights, self.bars, stacks)

    def cost(self, rows: Sequence[int]) -> float:
        return float(sum(o.cost[row] for o, row in zip(self.options, rows, strict=True)))

    def least(self) -> float:
        every = itertools.product(range(len(STACKS)), repeat=len(self.lights))
        return min(self.cost(rows) for rows in every if self.fits(rows))


def case(
    lengths: Sequence[Sequence[int]], pieces: Sequence[Sequence[Hashable]], prices: Sequence[int]
) -> Case:
    plain = options([0] * len(STACKS), STACKS, [0.0] * len(STACKS))
    table: Floats = np.array(prices, dtype=float).reshape(4, -1)
    given = [replace(plain, cost=table[number]) for number in range(len(pieces))]
    made = [replace(each, ways=WAYS) for each in lights(pieces)]  # type: ignore[arg-type]
    return Case(made, Bars(lengths), given)


def chosen(case: Case) -> tuple[Choice, list[Cut]]:
    stock, program, cuts = case.stock, case.program, list[Cut]()
    found = program.best(stock, cuts, program.relaxed(stock, cuts), below=math.inf)
    assert found is not None
    assert case.fits(found.rows.tolist())
    assert found.cost == pytest.approx(case.cost(found.rows.tolist()))
    return found, cuts


@given(lengths=lengths, pieces=pieces, prices=costs)
def test_the_cheapest_that_can_be_cut_is_found(
    lengths: list[list[int]], pieces: list[tuple[int, ...]], prices: list[int]
) -> None:
    made = case(lengths, pieces, prices)
    found, _ = chosen(made)
    assert found.cost == pytest.approx(made.least())
    assert found.bound == pytest.approx(found.cost)


@given(lengths=lengths, pieces=pieces, prices=costs)
def test_after_too_many_rounds_what_is_chosen_can_be_cut_and_its_bound_holds(
    lengths: list[list[int]], pieces: list[tuple[int, ...]], prices: list[int]
) -> None:
    made = case(lengths, pieces, prices)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("evencast.solver.assign.MOST_ROUNDS", 1)
        found, cuts = chosen(made)
    assert len(cuts) <= 2
    assert found.bound <= made.least() + 1e-6
    assert made.least() <= found.cost + 1e-6


def test_a_narrow_table_that_runs_out_of_time_is_followed_by_a_wider_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """No sheet is worth three: the narrow table has one option of each light, the next one two."""
    made = case([[5], [5]], [(4,), (3,), (3,)], [0, 3, 30, 40, 50] * 4)
    asked = []

    def milp(cost: Floats, **given: Any) -> OptimizeResult:
        asked.append(len(cost))
        if len(asked) > 1:
            return real(cost, **given)
        return OptimizeResult(status=1, x=None, message="time limit", mip_dual_bound=None)

    real = scipy.optimize.milp
    monkeypatch.setattr(scipy.optimize, "milp", milp)
    found, _ = chosen(made)
    assert found.cost == pytest.approx(made.least())
    assert asked == [3, 6]


def test_what_may_cost_more_says_so() -> None:
    """Two bars of 5 are long enough for pieces of 4, 3 and 3, and hold but two of them. Without
    the sheet the lights cost 10, 9 and 9; the smallest first leaves out the dearest."""
    prices = [price for bare in (10, 9, 9, 0) for price in (bare, 0, 99, 99, 99)]
    made = case([[5, 5], [4]], [(4,), (3,), (3,)], prices)
    best, cuts = chosen(made)
    assert (best.cost, best.bound, len(cuts)) == (9.0, 9.0, 1)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("evencast.solver.assign.MOST_ROUNDS", 1)
        found, _ = chosen(made)
    assert (found.bound, found.cost, found.short) == (0.0, 10.0, (0,))


def test_what_is_not_proven_in_time_is_not_taken_for_proven(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Stopped early with the dearest choice in hand: it says nothing about cheaper ones, so it is
    handed on with the bound that was reached, which is never below that of the relaxed table."""
    import scipy.optimize

    solve = scipy.optimize.milp

    def stopped(costs: Floats, **more: Any) -> Any:
        found = solve(-costs, **more)
        found.status, found.mip_dual_bound = 1, -math.inf
        return found

    prices = [price for bare in (10, 9, 9, 0) for price in (bare, 0, 99, 99, 99)]
    made = case([[5, 5], [4]], [(4,), (3,), (3,)], prices)
    monkeypatch.setattr(scipy.optimize, "milp", stopped)
    stock, program = made.stock, made.program
    relaxed = program.relaxed(stock, [])
    found = program.best(stock, [], relaxed, below=9.5)
    assert found is not None
    assert found.cost > 9.5
    assert found.bound == pytest.approx(relaxed.bound)
    assert program.best(stock, [], relaxed, below=relaxed.bound - 1.0) is None
