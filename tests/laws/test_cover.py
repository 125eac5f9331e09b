"""The fewest sheets for a set of jobs, against trying everything."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.cover import Cover, cover, serves

ITEMS, MOST_COPIES = 4, 2

Jobs = tuple[list[Ints], list[Floats]]


@st.composite
def jobs(draw: st.DrawFn) -> Jobs:
    """Up to five jobs of up to five options, each up to two copies of each of four items."""
    copies = st.lists(st.integers(0, MOST_COPIES), min_size=ITEMS, max_size=ITEMS)
    option = st.tuples(copies, st.integers(0, 40))
    drawn = draw(st.lists(st.lists(option, min_size=1, max_size=5), min_size=1, max_size=5))
    options = [np.array([taken for taken, _ in each], dtype=np.intp) for each in drawn]
    losses = [np.array([loss / 10 for _, loss in each]) for each in drawn]
    return options, losses


def every_packing() -> Iterator[Ints]:
    for copies in itertools.product(range(MOST_COPIES + 1), repeat=ITEMS):
        yield np.array(copies, dtype=np.intp)


def total_loss(options: list[Ints], losses: list[Floats], copies: Ints) -> float:
    """Of each job the least loss that the packing allows."""
    return sum(
        min(float(loss) for taken, loss in zip(each, of, strict=True) if (taken <= copies).all())
        for each, of in zip(options, losses, strict=True)
    )


def by_trying_everything(options: list[Ints], losses: list[Floats]) -> tuple[int, float]:
    """Fewest copies that serve every job, and of such packings the least total loss."""
    good = [copies for copies in every_packing() if all(serves(each, copies) for each in options)]
    fewest = min(int(copies.sum()) for copies in good)
    few = [copies for copies in good if copies.sum() == fewest]
    return fewest, min(total_loss(options, losses, copies) for copies in few)


def check(found: Cover, options: list[Ints], losses: list[Floats]) -> None:
    """Every job is done by the option that is named, with what is packed."""
    assert found.copies.shape == (ITEMS,)
    for each, of, row in zip(options, losses, found.chosen, strict=True):
        assert (each[row] <= found.copies).all()
        packed = (each <= found.copies).all(axis=1)
        assert of[row] == of[packed].min()


@settings(max_examples=150, deadline=None)
@given(jobs())
def test_it_is_the_fewest_and_of_these_the_brightest(drawn: Jobs) -> None:
    """Against all 81 packings of four items."""
    options, losses = drawn
    found = cover(options, losses, items=ITEMS)
    check(found, options, losses)
    fewest, least_loss = by_trying_everything(options, losses)
    assert int(found.copies.sum()) == found.bound == fewest
    assert found.gap == 0.0
    chosen = sum(of[row] for of, row in zip(losses, found.chosen, strict=True))
    assert chosen == pytest.approx(least_loss, abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(jobs())
def test_out_of_time_it_still_serves_every_job_and_says_so(drawn: Jobs) -> None:
    """Whatever the solver has by then: no copy too many to miss, and a bound that holds."""
    options, losses = drawn
    found = cover(options, losses, items=ITEMS, patience_s=0.0)
    check(found, options, losses)
    fewest, _ = by_trying_everything(options, losses)
    packed = int(found.copies.sum())
    assert found.bound <= fewest <= packed
    assert found.gap == pytest.approx((packed - found.bound) / packed if packed else 0.0)
    for item in np.flatnonzero(found.copies):
        fewer = found.copies.copy()
        fewer[item] -= 1
        assert not all(serves(each, fewer) for each in options)
