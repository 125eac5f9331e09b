from __future__ import annotations

import itertools

import numpy as np

from evencast.filters import generic, stack


def test_a_stack_is_the_product_of_its_sheets() -> None:
    """Surface loss once per sheet, since each sheet's spectrum holds its own."""
    one, two = generic("half CTB"), generic("quarter minus green")
    np.testing.assert_allclose(stack([one, two]), one.transmittance * two.transmittance)


def test_two_of_the_same_count_twice() -> None:
    """A repeated sheet is two sheets."""
    each = generic("half CTB")
    np.testing.assert_allclose(stack([each, each]), each.transmittance**2)


def test_the_order_of_the_sheets_does_not_matter() -> None:
    """All 24 orders of four sheets, to rounding."""
    sheets = [generic(name) for name in ("full CTO", "ND 0.6", "half minus green", "light frost")]
    first = stack(sheets)
    for order in itertools.permutations(sheets):
        np.testing.assert_allclose(stack(order), first, rtol=1e-14)


def test_no_filter_passes_everything() -> None:
    """An empty stack is ones, not nothing."""
    np.testing.assert_array_equal(stack([]), np.ones(81))


def test_stacking_leaves_the_sheets_as_they_are() -> None:
    """The product is a new array."""
    each = generic("half CTB")
    before = each.transmittance.copy()
    stack([each])[:] = 0.0
    np.testing.assert_array_equal(each.transmittance, before)
