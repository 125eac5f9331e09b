from __future__ import annotations

import numpy as np
import pytest

from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.cover import cover, serves


def copies(*rows: tuple[int, ...]) -> Ints:
    return np.array(rows, dtype=np.intp)


def loss(*stops: float) -> Floats:
    return np.array(stops)


def test_no_job_needs_nothing() -> None:
    found = cover([], [], items=3)
    assert found.copies.tolist() == [0, 0, 0]
    assert (found.chosen.tolist(), found.bound, found.gap) == ([], 0, 0.0)


def test_jobs_that_are_done_bare_need_nothing() -> None:
    """Even where there is nothing to choose from."""
    assert cover([copies((0, 0))], [loss(0.0)], items=2).copies.tolist() == [0, 0]
    nothing = cover([np.zeros((1, 0), dtype=np.intp)], [loss(0.0)], items=0)
    assert (nothing.copies.tolist(), nothing.chosen.tolist()) == ([], [0])


def test_one_sheet_that_serves_two_jobs_beats_two_sheets() -> None:
    """Though each job alone would rather have its own, which is brighter."""
    options = [copies((1, 0, 0), (0, 0, 1)), copies((0, 1, 0), (0, 0, 1))]
    found = cover(options, [loss(0.5, 1.5), loss(0.5, 1.5)], items=3)
    assert found.copies.tolist() == [0, 0, 1]
    assert found.chosen.tolist() == [1, 1]


def test_a_stack_of_two_alike_needs_two() -> None:
    """And the second one then serves whoever needs one."""
    found = cover([copies((2, 0)), copies((1, 0), (0, 1))], [loss(0.6), loss(0.3, 0.2)], items=2)
    assert found.copies.tolist() == [2, 0]
    assert found.chosen.tolist() == [0, 0]


def test_copies_are_not_added_up_over_jobs() -> None:
    """Jobs are done one after another: two jobs that each take one share it."""
    assert cover([copies((1,)), copies((1,))], [loss(0.3), loss(0.4)], items=1).copies == [1]


@pytest.mark.parametrize("dear", [0, 1])
def test_of_equally_few_the_brighter_is_taken(dear: int) -> None:
    stops = [0.3, 0.3]
    stops[dear] = 1.7
    found = cover([copies((1, 0), (0, 1))], [loss(*stops)], items=2)
    assert found.copies.tolist() == [dear, 1 - dear]


def test_serves() -> None:
    options = copies((2, 0), (0, 1))
    assert serves(options, copies((1, 1))[0])
    assert serves(options, copies((2, 0))[0])
    assert not serves(options, copies((1, 0))[0])
