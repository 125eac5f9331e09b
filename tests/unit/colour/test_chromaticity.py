from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import (
    cie_1931_2deg,
    cie_1964_10deg,
    is_real_xy,
    uv,
    uv_of_xy,
    uv_of_xyz,
    xy_of_uv,
    xy_of_xyz,
    xyz,
)
from evencast.lights import builtin, builtin_names
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, planckian

EQUAL_ENERGY: Floats = np.ones_like(GRID_NM)


def test_the_equal_energy_spectrum_is_a_third_and_a_third() -> None:
    """By definition of the observers; their tables at 5 nm hold it to 1e-4."""
    for observer in (cie_1931_2deg(), cie_1964_10deg()):
        x, y = xy_of_xyz(xyz(EQUAL_ENERGY, observer=observer))
        assert (x, y) == pytest.approx((1 / 3, 1 / 3), abs=1e-4)


def test_leading_axes_broadcast() -> None:
    """One spectrum, a stack, a stack of stacks, an empty stack."""
    one = planckian(3200.0)
    stack = np.stack([one, planckian(5600.0)])
    assert xyz(one).shape == (3,)
    assert uv(one).shape == (2,)
    np.testing.assert_allclose(uv(stack)[0], uv(one), rtol=1e-14)
    np.testing.assert_allclose(uv(np.stack([stack, stack]))[1, 0], uv(one), rtol=1e-14)
    assert uv(np.empty((0, 81))).shape == (0, 2)
    assert xyz(np.empty((4, 0, 81))).shape == (4, 0, 3)


def test_no_light_has_no_colour() -> None:
    """nan, without a warning, and its neighbours in a stack are unharmed."""
    dark = np.zeros(81)
    assert np.isnan(uv(dark)).all()
    assert np.isnan(xy_of_xyz(xyz(dark))).all()
    np.testing.assert_array_equal(np.isnan(uv(np.stack([dark, EQUAL_ENERGY])))[:, 0], [True, False])


def test_nan_stays_nan() -> None:
    """A spectrum with a hole has no colour."""
    holed = EQUAL_ENERGY.copy()
    holed[40] = np.nan
    assert np.isnan(uv(holed)).all()
    assert np.isnan(uv_of_xyz(np.array([np.nan, 1.0, 1.0]))).all()


def test_uv_of_xy_and_back() -> None:
    """Over the whole triangle of x and y, to rounding."""
    x, y = np.meshgrid(np.linspace(0.01, 0.7, 40), np.linspace(0.01, 0.8, 40))
    xy = np.stack([x, y], axis=-1)
    np.testing.assert_allclose(xy_of_uv(uv_of_xy(xy)), xy, atol=1e-13)


def test_uv_by_way_of_xy_is_uv() -> None:
    """Two roads from X, Y, Z to u, v."""
    tristimulus = np.random.default_rng(1).uniform(0.01, 1, (100, 3))
    np.testing.assert_allclose(uv_of_xy(xy_of_xyz(tristimulus)), uv_of_xyz(tristimulus), rtol=1e-13)


def test_colours_inside_the_horseshoe_are_real_and_those_outside_are_not() -> None:
    """Every wavelength's colour drawn 1 % towards white, and pushed 1 % away from it."""
    cmf = cie_1931_2deg().cmf
    locus = xy_of_xyz(cmf[cmf.sum(axis=1) > 0.01])
    white = np.array([1 / 3, 1 / 3])
    for place in locus:
        assert is_real_xy(*(white + 0.99 * (place - white)))
        assert not is_real_xy(*(white + 1.01 * (place - white)))


@pytest.mark.parametrize(
    ("x", "y", "real"),
    [
        (0.5, 0.17, True),  # above the purple line, which has y 0.156 there
        (0.5, 0.14, False),
        (0.0, 0.0, False),
        (0.9, 0.9, False),
        (-0.1, 0.3, False),
        (0.3, float("nan"), False),
        (float("nan"), 0.3, False),
    ],
)
def test_the_purple_line_and_impossible_numbers(x: float, y: float, real: bool) -> None:
    """Purple ends at the line from violet to red."""
    assert is_real_xy(x, y) is real


def test_every_built_in_light_is_a_real_colour() -> None:
    """All but low-pressure sodium, one line, which lies on the border of the horseshoe itself."""
    for name in builtin_names():
        if name == "low-pressure sodium":
            continue
        x, y = xy_of_xyz(xyz(builtin(name).power))
        assert is_real_xy(float(x), float(y)), name
