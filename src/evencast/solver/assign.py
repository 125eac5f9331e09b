"""One option for every light at one balance, as an integer programme.

Variables are one for every option, one for every trim, and for every level judged what it is
too dark and too bright. Rows say that every light has one option, that no size of piece is
wanted more often than there can be, and that levels hold. A choice whose pieces still do not
lie on the sheets gives a cut, "not all of these together", shared by every balance and said of
all lights with the same pieces; it is valid because pieces that do not fit never fit with more
beside them. Options that the relaxed programme shows to be too dear are struck out first.

Source  HiGHS by `scipy.optimize`; cuts as in J. N. Hooker, G. Ottosson, Mathematical
        Programming 96 (2003) 33-60 (logic-based Benders decomposition)
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.options import Options
from evencast.solver.patience import Patience
from evencast.solver.prices import Weights
from evencast.solver.scene_light import SceneLight
from evencast.solver.stock import Cut, Stock
from evencast.solver.table import Table

_TIE = 1e-9
_SOLVER_SLACK = 1e-6
FIRST_S = 60.0
"""A table for which no choice at all was found in time is given so long once more."""
REACHES = (0.5, 5.0, math.inf)
"""A choice that costs little more than the relaxed programme is looked for first: few options can
be part of one."""
MOST_ROUNDS = 40
"""After so many choices whose pieces do not lie on the sheets one is made of those that do."""


@dataclass(frozen=True, slots=True, eq=False)
class Choice:
    """What a programme found: by light the option and the trim; its cost, and a bound.

    short : filters of which there was no piece more
    """

    rows: Ints
    trims: Ints
    cost: float
    bound: float
    short: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Relaxed:
    """The programme with shares of options in place of options.

    bound : no choice costs less
    worth : (lights,) an option that is not among them must cost less than this, and by more
            than what is still open, to be of use
    per_stop : (lights,) by how much it is worth more or less for each stop that its sheets take
    extra : by light what each option costs more than it is worth, (n,)
    """

    bound: float
    worth: Floats
    per_stop: Floats
    extra: Sequence[Floats]


class NothingFitsError(Exception):
    """No choice at all keeps to the rows."""


class Program:
    """The choice at one balance."""

    def __init__(
        self,
        lights: Sequence[SceneLight],
        options: Sequence[Options],
        at_hand: Mapping[str, int],
        key: int | None,
        weights: Weights,
        patience: Patience,
    ) -> None:
        self._lights = lights
        self.options = options
        self._at_hand = at_hand
        self._key = key
        self._weights = weights
        self._patience = patience
        self.least = sum(float(each.cost.min()) for each in options)

    def cheapest_of_each(self, stock: Stock) -> Choice | None:
        """Every light's own cheapest, if nothing ties the lights together."""
        levels = any(
            light.level is not None or any(view.level is not None for view in light.views)
            for light in self._lights
        )
        rows = np.array([int(np.argmin(each.cost)) for each in self.options], dtype=int)
        if levels or self._over_used(rows) or stock.cuts(self._members(rows)):
            return None
        return Choice(rows, np.zeros(len(rows), int), self.least, self.least, ())

    def relaxed(self, stock: Stock, cuts: Sequence[Cut]) -> Relaxed:
        """A bound, and what each light's options are worth to it.

        Raises  NothingFitsError, which cannot be while every light may be left bare
        """
        from scipy.optimize import linprog

        table = self._table(stock, cuts, None)
        ends = table.ends()
        bounds = np.stack([np.zeros(len(table.cost)), table.upper()], axis=1)
        result = linprog(
            table.cost,
            A_ub=ends.matrix,
            b_ub=ends.most,
            A_eq=table.one_each,
            b_eq=np.ones(table.one_each.shape[0]),
            bounds=bounds,
            method="highs",
        )
        if result.status == 2:
            raise NothingFitsError
        if result.x is None:
            raise _unsolved(result.message)
        extra = result.lower.marginals + result.upper.marginals
        worth = result.eqlin.marginals[: len(self._lights)]
        per_stop = table.per_stop(result.ineqlin.marginals)
        return Relaxed(float(result.fun), np.asarray(worth), per_stop, table.by_light(extra))

    def best(
        self, stock: Stock, cuts: list[Cut], relaxed: Relaxed, *, below: float
    ) -> Choice | None:
        """The cheapest choice, or None if none is cheaper than `below`; new cuts are added. Where
        that took too many of them, or too long, a choice that may cost more, with its bound."""
        rounds, reaches = 0, iter(REACHES)
        most = min(below, relaxed.bound + next(reaches))
        while True:
            found = self._cheaper_than(most, relaxed, stock, cuts, is_last=most == below)
            if found is None:
                if most == below:
                    return None
                most = min(below, relaxed.bound + next(reaches))
                continue
            found = replace(found, bound=max(found.bound, min(relaxed.bound, found.cost)))
            members = self._members(found.rows)
            new = [each for each in stock.cuts(members) if each not in cuts]
            if not new:
                full = {each.filter for each in stock.limits if stock.is_full(each, members)}
                full |= {each.filter for each in cuts if each.lacking(members) <= 1}
                return replace(found, short=tuple(sorted(full)))
            cuts += new
            rounds += 1
            if rounds == MOST_ROUNDS or self._patience.is_over:
                return self._within(stock, cuts, found)

    def _cheaper_than(
        self, most: float, relaxed: Relaxed, stock: Stock, cuts: Sequence[Cut], *, is_last: bool
    ) -> Choice | None:
        """The cheapest choice; None where none is cheaper than `most`."""
        useful = [each <= most - relaxed.bound + _SOLVER_SLACK for each in relaxed.extra]
        if not all(each.any() for each in useful):
            return None
        return self._solved(self._table(stock, cuts, useful), most, is_last=is_last)

    def _within(self, stock: Stock, cuts: list[Cut], over: Choice) -> Choice | None:
        """A choice whose pieces do lie on the sheets, near one whose do not, which bounds it:
        a filter that is too few goes before those lights alone that it was found to be enough for.
        None where every choice needs more."""
        found: Choice | None = over
        useful = [np.ones(len(each.cost), dtype=bool) for each in self.options]
        short = set[int]()
        while found is not None:
            members = self._members(found.rows)
            wanting = {each.filter for each in stock.cuts(members)}
            if not wanting:
                bound = min(over.bound, found.cost)
                return replace(found, bound=bound, short=tuple(sorted(short)))
            short |= wanting
            for index in wanting:
                for light, most in enumerate(stock.as_many(index, members)):
                    sheets = (self.options[light].found.members == index).sum(axis=1)
                    useful[light] &= sheets <= most
            found = self._solved(self._table(stock, cuts, useful), math.inf)
        return None

    def _table(
        self, stock: Stock, cuts: Sequence[Cut], useful: Sequence[NDArray[np.bool_]] | None
    ) -> Table:
        table = Table(self._lights, self.options, self._weights, useful)
        table.add_levels(self._key)
        table.add_limits(stock.limits)
        table.add_cuts(cuts)
        table.add_at_hand(self._at_hand)
        return table

    def _solved(self, table: Table, below: float, *, is_last: bool = True) -> Choice | None:
        """The cheapest choice of a table; None where it is proven that none is cheaper than
        `below`, and where none was found in time but a wider table is to follow."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        ends = table.ends()
        each = np.ones(table.one_each.shape[0])
        for seconds in (self._patience.left_s, FIRST_S)[: 1 + is_last]:
            result = milp(
                np.array(table.cost),
                integrality=np.array(table.whole),
                bounds=Bounds(0.0, table.upper()),
                constraints=[
                    LinearConstraint(table.one_each, each, each),
                    LinearConstraint(ends.matrix, -np.inf, ends.most),
                ],
                options={"mip_rel_gap": 0.0, "time_limit": seconds},
            )
            if result.status == 2:  # infeasible: nothing useful is left
                return None
            if result.x is not None:
                break
        else:
            if not is_last:
                return None
            raise _unsolved(result.message)
        rows, trims = table.read(result.x)
        cost = table.cost_of(rows, trims, result.x)
        bound = min(cost, cost if result.mip_dual_bound is None else float(result.mip_dual_bound))
        return None if bound >= below - _TIE else Choice(rows, trims, cost, bound, ())

    def _over_used(self, rows: Ints) -> bool:
        used: dict[str, int] = {}
        for light, options, row in zip(self._lights, self.options, rows, strict=True):
            uses = light.ways[options.way[row]].uses
            if uses is not None:
                used[uses[0]] = used.get(uses[0], 0) + uses[1]
        return any(count > self._at_hand.get(name, count) for name, count in used.items())

    def _members(self, rows: Ints) -> list[Ints]:
        return [each.found.members[row] for each, row in zip(self.options, rows, strict=True)]


def _unsolved(message: str) -> EvencastError:
    return EvencastError(
        f"the scene could not be solved: {message}",
        where="solve",
        remedy="Take fewer balances or fewer layers, and please report the plan.",
    )
