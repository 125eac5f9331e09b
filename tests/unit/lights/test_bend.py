from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import mired_duv, uv, uv_of_mired_duv, white, xyz
from evencast.lights import builtin
from evencast.lights.bend import STEEPEST, bend, bend_members
from evencast.spectra import GRID_NM


def place(cct_k: float, duv: float) -> np.ndarray:
    """u, v."""
    return uv_of_mired_duv(np.array(1e6 / cct_k), np.array(duv))


def test_each_spectrum_gets_its_own_place() -> None:
    """To 1e-9 u, v."""
    power = np.stack([white(3200), builtin("FL2").power, builtin("LED-B3").power])
    aims = np.stack([place(3000, 0.003), place(5000, -0.004), place(4200, 0.01)])
    bent, steepness = bend(power, aims)
    np.testing.assert_allclose(uv(bent), aims, atol=1e-9)
    assert (steepness < STEEPEST).all()


def test_a_bend_is_smooth_and_is_measured_by_its_largest_against_its_smallest() -> None:
    """The logarithm of what was done is a quadratic in wavelength; 1 means nothing was done."""
    power = builtin("FL2").power[None]
    bent, steepness = bend(power, place(5000, 0.002))
    factor = np.log(bent[0] / power[0])
    quadratic = np.polynomial.Polynomial.fit(GRID_NM, factor, 2)(GRID_NM)
    np.testing.assert_allclose(factor, quadratic, atol=1e-9)
    seen = factor[(GRID_NM >= 400) & (GRID_NM <= 700)]
    assert steepness[0] == pytest.approx(np.exp(seen.max() - seen.min()))
    assert bend(power, uv(power))[1][0] == pytest.approx(1.0, abs=1e-6)


def test_what_cannot_be_bent_there_is_told_and_spoils_no_other() -> None:
    """A single line reads the same however it is bent; no light at all has no colour."""
    line = np.where(GRID_NM == 590, 1.0, 0.0)
    power = np.stack([line, white(5600), np.zeros(81)])
    aim = place(4300, 0.001)
    bent, steepness = bend(power, aim)
    assert np.isinf(steepness[[0, 2]]).all()
    assert steepness[1] < STEEPEST
    np.testing.assert_allclose(uv(bent[1]), aim, atol=1e-9)


def test_nothing_to_bend() -> None:
    """An empty stack gives an empty stack."""
    bent, steepness = bend(np.empty((0, 81)), place(4300, 0.0))
    assert bent.shape == (0, 81)
    assert steepness.shape == (0,)


def test_members_bent_too_far_give_way_to_others() -> None:
    """All of luminance 1; the third cannot go where it is sent."""
    power = np.repeat(white(5600)[None], 3, axis=0)
    bent = bend_members(power, np.array([180.0, 200.0, 900.0]), np.array([0.0, 0.002, 0.05]))
    assert bent is not None
    np.testing.assert_allclose(xyz(bent)[:, 1], 1.0)
    np.testing.assert_array_equal(bent[2], bent[0])


def test_members_that_are_sent_nowhere_give_way_to_others() -> None:
    """One of them has no colour temperature to start from, and so none to go to."""
    power = np.stack([white(5600), white(3200), white(4300)])
    bent = bend_members(power, np.array([180.0, np.nan, 300.0]), np.array([0.0, 0.0, np.nan]))
    assert bent is not None
    np.testing.assert_allclose(mired_duv(uv(bent[0]))[0], 180.0, atol=1e-4)
    np.testing.assert_array_equal(bent[1], bent[0])
    np.testing.assert_array_equal(bent[2], bent[0])
    assert bend_members(power, np.full(3, np.nan), np.zeros(3)) is None


def test_an_ensemble_that_cannot_be_bent_at_all() -> None:
    """None, for the caller to refuse."""
    assert bend_members(white(5600)[None], np.array([900.0]), np.array([0.05])) is None
