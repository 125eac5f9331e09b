"""The same question as a linear programme in whole numbers, for what the search leaves open.

Items of one size that strips fill in few different ways are counted together: a lay is a graph
whose nodes are the lengths that strips fill and whose arcs are strips, and so many items are so
many paths through it (the arc-flow model of Valério de Carvalho 1999, Annals of Operations
Research 86, 629-659, cited from memory). The other items, long ones as a rule and so few, are
filled one by one. HiGHS solves it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from evencast.cutting.search import Question
from evencast.cutting.ways import Strip

MOST_ARCS = 2000
"""A lay with more arcs is left to items one by one."""
NODES = 10_000
"""Nodes of the tree that HiGHS may look at; a question that takes more is answered with no."""

Holder = tuple[int, Strip, int]
"""A row that counts parts, a strip whose parts it counts, and how many of it are of use."""
Arc = tuple[int, int, Holder]
"""From one filled length to another by a strip."""


@dataclass(slots=True)
class _Programme:
    """Rows and columns as they are gathered; a column is a whole number of at least 0."""

    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    most: list[int] = field(default_factory=list)
    entries: list[tuple[int, int, int]] = field(default_factory=list)

    def row(self, low: float, high: float) -> int:
        self.low.append(low)
        self.high.append(high)
        return len(self.low) - 1

    def column(self, entries: Iterable[tuple[int, int]], most: int) -> int:
        self.entries += [(row, len(self.most), factor) for row, factor in entries]
        self.most.append(most)
        return len(self.most) - 1

    def has_solution(self) -> bool:
        rows, columns, factors = np.array(self.entries).T
        shape = (len(self.low), len(self.most))
        answer = milp(
            np.zeros(len(self.most)),
            integrality=np.ones(len(self.most)),
            bounds=Bounds(0, np.array(self.most)),
            constraints=LinearConstraint(
                coo_array((factors, (rows, columns)), shape=shape).tocsr(), self.low, self.high
            ),
            options={"node_limit": NODES},
        )
        return bool(answer.status == 0)


def decide(question: Question) -> bool:
    """Whether all pieces can be cut.

    Error   lengths are whole numbers below 1e6, so that the tolerance of 1e-6 of HiGHS in each
            whole number adds up to less than one of them
    """
    programme = _Programme()
    holders = _demands(programme, question)
    most_parts = sum(n * max(make.parts for make in way.makes) for way, n in question.able)
    for item, there in enumerate(question.counts):
        count = min(there, most_parts)
        laid = [
            (lay.along, [holder for holder in holders if holder[1].lay == at])
            for at, lay in enumerate(question.lays)
            if lay.item == item
        ]
        arcs = [_arcs(along, own) for along, own in laid]
        if all(len(each) <= MOST_ARCS for each in arcs):
            _together(programme, arcs, count)
        else:
            for _ in range(count):
                _alone(programme, laid)
    return programme.has_solution()


def _demands(programme: _Programme, question: Question) -> list[Holder]:
    """A row for the parts of every make: as many as the pieces that are made so want."""
    holders: list[Holder] = []
    for way, count in question.able:
        pieces = programme.row(count, inf)
        for make in way.makes:
            parts = programme.row(0, inf)
            programme.column([(pieces, 1), (parts, -make.parts)], count)
            wanted = count * make.parts
            holders += [
                (parts, strip._replace(holds=min(strip.holds, wanted)), -(-wanted // strip.holds))
                for strip in make.strips
            ]
    return holders


def _arcs(along: int, holders: list[Holder]) -> set[Arc]:
    """All arcs from the empty length on, the highest strips first; or more than `MOST_ARCS`."""
    arcs: set[Arc] = set()
    filled = {0}
    for holder in sorted(holders, key=lambda each: -each[1].height):
        _, strip, most = holder
        for start in sorted(filled):
            for end in range(start + strip.height, along + 1, strip.height)[:most]:
                arcs.add((end - strip.height, end, holder))
                filled.add(end)
        if len(arcs) > MOST_ARCS:
            break
    return arcs


def _together(programme: _Programme, laid: list[set[Arc]], count: int) -> None:
    """So many items as paths: what enters a filled length leaves it by a strip or at the end."""
    begun = programme.row(0, count)
    for arcs in laid:
        nodes = {0: programme.row(-inf, 0)}
        programme.column([(begun, 1), (nodes[0], -1)], count)
        for end in sorted({end for _, end, _ in arcs}):
            nodes[end] = programme.row(-inf, 0)
        for start, end, (parts, strip, _) in sorted(arcs):
            programme.column([(nodes[start], 1), (nodes[end], -1), (parts, strip.holds)], count)


def _alone(programme: _Programme, laid: list[tuple[int, list[Holder]]]) -> None:
    """One item: strips of one of its lays, not longer than it together."""
    one_lay = programme.row(0, 1)
    for along, holders in laid:
        length = programme.row(-inf, 0)
        programme.column([(one_lay, 1), (length, -along)], 1)
        for parts, strip, most in holders:
            entries = [(length, strip.height), (parts, strip.holds)]
            programme.column(entries, min(most, along // strip.height))
