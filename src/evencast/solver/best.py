"""The cheapest of many: what a search keeps while it looks at everything."""

from __future__ import annotations

import math
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from evencast.quantities import Floats

Ints = NDArray[np.intp]
Members = tuple[Ints, Ints, Ints, Ints]


class Best:
    """The cheapest `size` stacks offered so far."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._cost: list[Floats] = []
        self._members: list[Ints] = []
        self._held = 0
        self._lock = Lock()
        self.worst = math.inf

    def offer(self, cost: Floats, members: Members) -> None:
        """Take in candidates given as rows of a left and a right table of members."""
        with self._lock:
            self._take(cost, members)

    def _take(self, cost: Floats, members: Members) -> None:
        chosen = np.flatnonzero(cost < self.worst)
        if len(chosen) > self._size:
            chosen = chosen[np.argpartition(cost[chosen], self._size - 1)[: self._size]]
        if not len(chosen):
            return
        left, row, right, column = members
        self._cost.append(cost[chosen])
        self._members.append(np.hstack([left[row[chosen]], right[column[chosen]]]))
        self._held += len(chosen)
        if self._held > 4 * self._size or (math.isinf(self.worst) and self._held >= self._size):
            self._trim()

    def members(self) -> list[Ints]:
        """The stacks held, as one array of (n, layers), or nothing."""
        self._trim()
        return self._members

    def _trim(self) -> None:
        if not self._held:
            return
        cost, members = np.concatenate(self._cost), np.vstack(self._members)
        if len(cost) > self._size:
            keep = np.argpartition(cost, self._size - 1)[: self._size]
            cost, members = cost[keep], members[keep]
        self._cost, self._members, self._held = [cost], [members], len(cost)
        if len(cost) == self._size:
            self.worst = float(cost.max())
