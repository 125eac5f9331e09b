"""The fewest sheets with which every job can be done.

A job has options, each a stack: how many copies it takes of every item. Packed items serve a job
where one of its options is among them. Jobs are done one after another, so of each item the most
copies count that any one job takes at a time. That is a covering problem; HiGHS solves it by
branch and bound, with its proof: no fewer copies do than its bound.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast.quantities import Floats
from evencast.solver.best import Ints

PATIENCE_S = 60.0
_INTEGRAL = 1e-6
"""How far from a whole number the solver's numbers may lie."""


@dataclass(frozen=True, slots=True, eq=False)
class Cover:
    """What to pack.

    copies : (items,) of each item
    chosen : (jobs,) of each job the option with the least loss that is packed
    bound  : no fewer copies in all can do, whatever is chosen
    """

    copies: Ints
    chosen: Ints
    bound: int

    @property
    def gap(self) -> float:
        """How far the copies may lie above the fewest, as a share of them; 0 is proven best."""
        packed = int(self.copies.sum())
        return (packed - self.bound) / packed if packed else 0.0


def serves(options: Ints, copies: Ints) -> bool:
    """Whether any option of a job is among the packed copies. [(n, items) and (items,)]"""
    return bool((options <= copies).all(axis=1).any())


def cover(
    options: Sequence[Ints],
    losses: Sequence[Floats],
    *,
    items: int,
    patience_s: float = PATIENCE_S,
) -> Cover:
    """The fewest copies that serve every job, and of all such packings one of least total loss.

    items      : how many there are to choose from
    options    : of each job (n, items) copies that an option takes; at least one option
    losses     : of each job (n,) what an option costs
    patience_s : time for each of both searches; where it runs out, the gap tells
    """
    model = _Model(options, losses, items)
    copies, bound = model.fewest(patience_s)
    copies = model.least_loss(copies, patience_s)
    chosen = [
        int(np.argmin(np.where((each <= copies).all(axis=1), loss, np.inf)))
        for each, loss in zip(options, losses, strict=True)
    ]
    return Cover(copies, np.array(chosen, dtype=np.intp), bound)


class _Model:
    """Variables: one for each copy of each item, 1 where it is packed (its second copy, its
    third, are variables of their own), then one for each option of each job, 1 where it is taken.
    """

    def __init__(self, options: Sequence[Ints], losses: Sequence[Floats], items: int) -> None:
        self._options = options
        nothing = np.zeros((1, items), dtype=np.intp)
        self._most = np.concatenate([nothing, *options]).max(axis=0)
        copies = [(item, turn) for item, each in enumerate(self._most) for turn in range(each)]
        self._item = np.array([item for item, _ in copies], dtype=np.intp)
        self._turn = np.array([turn for _, turn in copies], dtype=np.intp)
        taken = sum(len(each) for each in options)
        self._packed = np.r_[np.ones(len(copies)), np.zeros(taken)]
        self._loss = np.r_[np.zeros(len(copies)), *losses]

    def fewest(self, patience_s: float) -> tuple[Ints, int]:
        """Copies of each item, and the bound on their number."""
        if not len(self._item):
            return np.zeros_like(self._most), 0
        solved, bound = self._solve(self._packed, np.inf, patience_s)
        copies = _thinned(self._options, self._most if solved is None else solved)
        lowest = math.ceil(bound - _INTEGRAL) if math.isfinite(bound) else 0
        return copies, min(lowest, int(copies.sum()))

    def least_loss(self, copies: Ints, patience_s: float) -> Ints:
        """As few copies with the least total loss; the same ones where none is found in time."""
        if not len(self._item):
            return copies
        solved, _ = self._solve(self._loss, float(copies.sum()), patience_s)
        return copies if solved is None else solved

    def _solve(self, cost: Floats, most: float, patience_s: float) -> tuple[Ints | None, float]:
        """Copies of each item at the least cost, at most so many in all, and the bound on it."""
        from scipy.optimize import Bounds, LinearConstraint, milp  # slow to import

        matrix, low, high = self._constraints(most)
        found = milp(
            cost,
            constraints=LinearConstraint(matrix, low, high),
            integrality=self._packed,  # given the copies, taking options is linear
            bounds=Bounds(0.0, 1.0),
            options={"mip_rel_gap": 0.0, "time_limit": patience_s},
        )
        bound = -math.inf if found.mip_dual_bound is None else float(found.mip_dual_bound)
        if found.x is None:
            return None, bound
        packed = np.rint(found.x[: len(self._item)]) > 0
        return np.bincount(self._item[packed], minlength=len(self._most)), bound

    def _constraints(self, most: float) -> tuple[object, Floats, Floats]:
        """Each job takes one option; what it takes of a copy is packed; at most so many copies."""
        from scipy.sparse import csr_array, vstack

        blocks, low, high = [csr_array(self._packed[None])], [np.zeros(1)], [np.array([most])]
        width, start = len(self._packed), len(self._item)
        for each in self._options:
            columns = slice(start, start + len(each))
            one = np.zeros((1, width))
            one[0, columns] = 1.0
            takes = each[:, self._item].T > self._turn[:, None]  # (copies, options of the job)
            used = np.flatnonzero(takes.any(axis=1))
            enough = np.zeros((len(used), width))
            enough[np.arange(len(used)), used] = 1.0
            enough[:, columns] = -1.0 * takes[used]
            blocks += [csr_array(one), csr_array(enough)]
            low += [np.ones(1), np.zeros(len(used))]
            high += [np.ones(1), np.full(len(used), np.inf)]
            start += len(each)
        return vstack(blocks, format="csr"), np.concatenate(low), np.concatenate(high)


def _thinned(options: Sequence[Ints], copies: Ints) -> Ints:
    """Copies without those that no job misses, taken out one by one."""
    left = copies.copy()
    for item in range(len(left)):
        while left[item] > 0:
            left[item] -= 1
            if not all(serves(each, left) for each in options):
                left[item] += 1
                break
    return left
