from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial import cKDTree

from evencast.colour import DUV_LIMIT, cct_duv, mired_duv, uv, uv_of_mired_duv, uv_of_xy
from evencast.colour.temperature import COOLEST_MIRED, WARMEST_MIRED
from evencast.quantities import Floats
from evencast.spectra import planckian


def place(mired: float, duv: float = 0.0) -> Floats:
    """u, v of a mired and Duv."""
    return uv_of_mired_duv(np.array(mired), np.array(duv))


def test_leading_axes_broadcast() -> None:
    """One colour, a stack, a stack of stacks, an empty stack."""
    one = place(300.0, 0.01)
    mired, duv = mired_duv(one)
    assert mired.shape == duv.shape == ()
    assert (float(mired), float(duv)) == pytest.approx((300.0, 0.01), abs=1e-6)
    mired, duv = mired_duv(np.broadcast_to(one, (3, 4, 2)))
    assert mired.shape == duv.shape == (3, 4)
    np.testing.assert_allclose(mired, 300.0, atol=1e-5)
    mired, duv = mired_duv(np.empty((5, 0, 2)))
    assert mired.shape == duv.shape == (5, 0)


def test_more_points_than_a_block_come_out_each_in_its_place() -> None:
    """20 000 points, three blocks, the last one short."""
    wanted = np.linspace(40.0, 900.0, 20_000)
    mired, _ = mired_duv(uv_of_mired_duv(wanted, np.zeros_like(wanted)))
    np.testing.assert_allclose(mired, wanted, atol=1e-5)


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_no_colour_has_no_temperature_and_no_duv(bad: float) -> None:
    """nan and infinity give nan in both, and leave the others alone."""
    points = np.array([[0.25, 0.34], [bad, 0.34], [0.25, bad], [0.25, 0.34]])
    mired, duv = mired_duv(points)
    np.testing.assert_array_equal(np.isnan(mired), [False, True, True, False])
    np.testing.assert_array_equal(np.isnan(duv), [False, True, True, False])
    assert mired[0] == mired[3]


def test_kelvin_and_mired_say_the_same() -> None:
    """The two functions differ in the unit alone."""
    points = uv(np.stack([planckian(k) for k in (1500.0, 3200.0, 9000.0)]))
    cct_k, duv = cct_duv(points)
    mired, again = mired_duv(points)
    np.testing.assert_array_equal(cct_k, 1e6 / mired)
    np.testing.assert_array_equal(duv, again)


@pytest.mark.parametrize("mired", [10.001, 10.0, 999.99, 1000.0])
def test_just_inside_either_end_there_is_a_temperature(mired: float) -> None:
    """100 000 K and 1000 K belong to the range."""
    assert mired_duv(place(mired))[0] == pytest.approx(mired, abs=1e-5)


@pytest.mark.parametrize("mired", [4.0, 9.0, 9.99, 1000.01, 1010.0, 1290.0])
def test_just_outside_either_end_there_is_none(mired: float) -> None:
    """Beyond 100 000 K or below 1000 K: nan, while the Duv can still be told."""
    found, duv = mired_duv(place(mired))
    assert np.isnan(found)
    assert duv == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("mired", [30.0, 150.0, 200.0, 312.5, 450.0])
@pytest.mark.parametrize("side", [1.0, -1.0])
def test_duv_ends_at_five_hundredths(mired: float, side: float) -> None:
    """0.0499 to either side has a temperature, 0.0501 has none and keeps its Duv."""
    near, near_duv = mired_duv(place(mired, side * (DUV_LIMIT - 1e-4)))
    far, far_duv = mired_duv(place(mired, side * (DUV_LIMIT + 1e-4)))
    assert near == pytest.approx(mired, abs=1e-3)
    assert near_duv == pytest.approx(side * (DUV_LIMIT - 1e-4), abs=1e-8)
    assert np.isnan(far)
    assert far_duv == pytest.approx(side * (DUV_LIMIT + 1e-4), abs=1e-6)


def test_greener_is_positive() -> None:
    """More v lies above the locus."""
    u, v = place(200.0)
    assert mired_duv(np.array([u, v + 0.005]))[1] > 0.003
    assert mired_duv(np.array([u, v - 0.005]))[1] < -0.003


@pytest.mark.parametrize("xy", [(0.735, 0.265), (0.17, 0.005), (0.08, 0.83), (0.15, 0.06)])
def test_saturated_colours_have_none(xy: tuple[float, float]) -> None:
    """Red, violet and green of the spectrum, and a display's blue."""
    assert np.isnan(mired_duv(uv_of_xy(np.array(xy)))[0])


def test_a_place_and_back_in_between_nodes() -> None:
    """1000 to 100 000 K in steps that meet no node, Duv within 0.02: 1e-5 mired, 1e-9 Duv."""
    wanted, duv = np.meshgrid(np.arange(33.4, 999.0, 0.37), np.linspace(-0.02, 0.02, 9))
    mired, found = mired_duv(uv_of_mired_duv(wanted, duv))
    np.testing.assert_allclose(mired, wanted, atol=1e-5)
    np.testing.assert_allclose(found, duv, atol=1e-9)


def test_broadcasting_a_place_by_mired_and_duv() -> None:
    """A column of mireds against a row of Duvs."""
    places = uv_of_mired_duv(np.array([[200.0], [300.0]]), np.array([[-0.01, 0.0, 0.01]]))
    assert places.shape == (2, 3, 2)
    np.testing.assert_allclose(places[1, 2], place(300.0, 0.01))


def test_over_the_whole_plane_the_foot_is_the_nearest_point() -> None:
    """Against the nearest of points 0.05 mired apart: the same Duv to 1e-5 wherever the locus goes
    on to either side of that point, a temperature where it lies within 0.05, and no other."""
    along = np.arange(4.0, 1300.0, 0.05)
    nearest = cKDTree(uv_of_mired_duv(along, np.zeros_like(along)))
    plane = np.stack(np.meshgrid(np.arange(0.0, 0.7, 1e-3), np.arange(0.0, 0.5, 1e-3)), axis=-1)
    away, at = nearest.query(plane)
    mired, duv = mired_duv(plane)
    foot = along[at]
    inside = (foot > 5.0) & (foot < 1299.0) & (away < 2 * DUV_LIMIT)
    np.testing.assert_allclose(np.abs(duv[inside]), away[inside], atol=1e-5)
    named = (foot > COOLEST_MIRED + 0.1) & (foot < WARMEST_MIRED - 0.1)
    near = named & (away < DUV_LIMIT - 1e-5)
    np.testing.assert_allclose(mired[near], foot[near], atol=0.3)
    assert np.isnan(mired[away > DUV_LIMIT + 1e-5]).all()
