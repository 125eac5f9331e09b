"""The smoothest density: least indeed, within rounding, and what tells of a slip."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from evencast.filters.declared import CLEAREST
from evencast.filters.printed import CLEAREST_DENSITY, Printed, PrintedColour, printed
from evencast.filters.smoothest import MET, STRAIN_LIMIT, smoothest
from evencast.filters.xyy import from_xyy
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

NAMES = ("A", "D65", "FL11")
amounts = st.floats(0.0, 1.0)


def print_of(
    transmittance: Floats, names: tuple[str, ...], *, decimals: int = 4
) -> list[PrintedColour]:
    """The numbers of a sheet to so many decimals of x and y, three fewer of the percentage."""
    half_xy, half_percent = 0.5 * 10.0**-decimals, 0.5 * 10.0 ** (3 - decimals)
    found = []
    for name in names:
        bare = PrintedColour(name, 1 / 3, 1 / 3, 100.0, half_xy, half_percent)
        x, y, Y = printed([bare]).numbers(transmittance)
        digits = round(float(x), decimals), round(float(y), decimals)
        percent = round(100.0 * float(Y), decimals - 3)
        found.append(PrintedColour(name, *digits, percent, half_xy, half_percent))
    return found


def hills(heights: tuple[float, ...], *, width_nm: float = 45.0) -> Floats:
    """A sheet whose density is a sum of hills, none clearer than a clear sheet."""
    centres = np.linspace(400.0, 700.0, len(heights))
    shapes = np.exp(-0.5 * ((GRID_NM - centres[:, None]) / width_nm) ** 2)
    result: Floats = CLEAREST * 10.0 ** -(np.array(heights) @ shapes)
    return result


@given(st.tuples(amounts, amounts, amounts, amounts, amounts), st.integers(1, 3))
def test_smooth_sheets_come_back_within_the_rounding(
    heights: tuple[float, ...], illuminants: int
) -> None:
    """Any smooth sheet, printed under one to three illuminants: the density found has every
    number within its rounding and a tenth, is nowhere clearer than clear, and is not told a
    slip."""
    numbers = printed(print_of(hills(heights), NAMES[:illuminants]))
    found = smoothest(numbers)
    assert found.reached
    assert np.abs(numbers.miss(10.0**-found.density)).max() <= MET
    assert found.density.min() >= CLEAREST_DENSITY - 1e-12
    assert np.abs(found.strain).max() < STRAIN_LIMIT


def test_a_sheet_that_only_eats_red_is_met_closely_enough() -> None:
    """Clear over most of the spectrum: 1.01 roundings are no contradiction."""
    numbers = printed(print_of(hills((0.0, 0.0, 0.0, 0.0, 0.8125)), NAMES[:2]))
    found = smoothest(numbers)
    assert 1.0 < np.abs(found.miss).max() <= MET
    assert found.reached


def rough(density: Floats) -> float:
    """Squared bends, and squared slopes at 3 in 100."""
    return float((np.diff(density, 2) ** 2).sum() + 0.03 * (np.diff(density) ** 2).sum())


def test_no_density_with_the_same_numbers_is_smoother() -> None:
    """At the density found, a least-squares solver of scipy's finds no smoother one that has the
    same X, Y, Z to first order and is nowhere clearer than clear; the bound is met in places."""
    numbers = printed(print_of(hills((0.0, 0.0, 0.0, 1.2, 1.2)), NAMES[:2]))
    density = smoothest(numbers).density
    passed = numbers.weights * 10.0**-density
    slope = passed / passed.sum(axis=1)[:, None]
    unit = np.eye(len(density))
    rows = np.concatenate(
        [np.diff(unit, 2, axis=0), np.sqrt(0.03) * np.diff(unit, axis=0), 1e5 * slope]
    )
    sides = np.concatenate([np.zeros(79 + 80), 1e5 * slope @ density])
    other = lsq_linear(rows, sides, bounds=(CLEAREST_DENSITY, np.inf), tol=1e-14).x
    np.testing.assert_allclose(slope @ other, slope @ density, atol=1e-6)
    assert (density < CLEAREST_DENSITY + 1e-9).any()
    assert rough(density) == pytest.approx(rough(other), rel=2e-3)


def rms_members(numbers: Printed, possible: Floats) -> float:
    return float(np.sqrt((numbers.miss(possible) ** 2).mean()))


@pytest.mark.parametrize("decimals", [3, 4])
@pytest.mark.parametrize("names", [NAMES[:1], NAMES[:2], NAMES])
def test_members_fill_the_rounding(names: tuple[str, ...], decimals: int) -> None:
    """Their numbers are spread over it, not all at the printed ones nor all at its edge, and
    three in four at least are spectra of their own."""
    colours = print_of(hills((0.2, 0.2, 0.5, 0.7, 0.3)), names, decimals=decimals)
    sheet = from_xyy(colours, key="members", where="xyy")
    assert np.abs(sheet.printed.miss(sheet.possible)).max() <= 1.05
    assert 0.3 < rms_members(sheet.printed, sheet.possible) < 0.75
    assert len(np.unique(sheet.possible, axis=0)) > 180
    assert sheet.possible.max() <= CLEAREST
    assert sheet.possible.min() > 0.0


def test_draws_are_the_same_for_the_same_key_alone() -> None:
    colours = print_of(hills((0.2, 0.2, 0.5, 0.7, 0.3)), NAMES[:2])
    one, again, other = (from_xyy(colours, key=key, where="xyy") for key in ("a", "a", "b"))
    np.testing.assert_array_equal(one.possible, again.possible)
    np.testing.assert_array_equal(one.transmittance, other.transmittance)
    assert (one.possible != other.possible).any()


def test_a_slip_of_digits_strains_the_sheet() -> None:
    """Twenty units of the third decimal, as in 0.327 read as 0.347."""
    right = print_of(hills((0.2, 0.2, 0.5, 0.7, 0.3)), NAMES[:2], decimals=3)
    first, second = right
    slipped = PrintedColour(
        second.illuminant,
        second.x + 0.02,
        second.y,
        second.Y_percent,
        second.rounding_xy,
        second.rounding_Y_percent,
    )
    assert np.abs(smoothest(printed(right)).strain).max() < STRAIN_LIMIT
    assert np.abs(smoothest(printed([first, slipped])).strain).max() > STRAIN_LIMIT
