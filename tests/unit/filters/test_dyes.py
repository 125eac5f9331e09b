from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import white
from evencast.errors import EvencastError
from evencast.filters.dyes import bands, dye_set, shift_duv, shift_mired, solve_factor
from evencast.spectra import GRID_NM


def test_a_band_is_one_at_its_centre_and_half_at_half_its_width() -> None:
    """A Gaussian of full width at half maximum."""
    shape = bands(np.array(550.0), np.array(40.0))
    assert shape[GRID_NM == 550] == pytest.approx(1.0)
    assert shape[GRID_NM == 530] == pytest.approx(0.5)
    assert shape[GRID_NM == 570] == pytest.approx(0.5)


def test_densities_add_as_beer_and_lambert_say() -> None:
    """Twice the dye in one clear base is the square over the base."""
    dyes = dye_set("CTB")
    once, twice = dyes.transmittance(1.0), dyes.transmittance(2.0)
    np.testing.assert_allclose(twice * dyes.base, once * once, rtol=1e-12)


def test_without_dye_the_base_is_left() -> None:
    """Two surfaces of a film."""
    np.testing.assert_allclose(dye_set("CTO").transmittance(0.0), dye_set("CTO").base)


def test_factors_broadcast() -> None:
    """One factor, several, none."""
    dyes = dye_set("CTB")
    assert dyes.transmittance(1.0).shape == (81,)
    assert dyes.transmittance(np.array([0.5, 1.0])).shape == (2, 81)
    assert dyes.transmittance(np.empty(0)).shape == (0, 81)


def test_a_solved_factor_does_what_was_asked() -> None:
    """-50 mired on 3200 K, to a millionth."""
    light, dyes = white(3200.0), dye_set("CTB")
    factor = solve_factor(dyes, lambda through: shift_mired(light, through), -50.0)
    assert shift_mired(light, dyes.transmittance(factor)) == pytest.approx(-50.0, abs=1e-6)


def test_what_no_strength_does_is_refused() -> None:
    """A blue dye does not warm."""
    light, dyes = white(3200.0), dye_set("CTB")
    with pytest.raises(EvencastError) as caught:
        solve_factor(dyes, lambda through: shift_mired(light, through), 50.0)
    assert caught.value.what == "no strength of these dyes gives 50"
    assert caught.value.where == "dye model"
    assert caught.value.remedy == "Ask for less, or give a measured spectrum."


def test_shifts_broadcast_and_are_nan_without_a_cct() -> None:
    """One sheet, a stack, an empty stack, and a sheet that leaves no colour temperature."""
    light = white(5600.0)
    red = np.where(GRID_NM > 640, 1.0, 0.0)
    sheets = np.stack([np.ones(81), red])
    np.testing.assert_array_equal(np.isnan(shift_mired(light, sheets)), [False, True])
    assert shift_mired(light, sheets)[0] == pytest.approx(0.0, abs=1e-9)
    assert shift_duv(light, sheets)[0] == pytest.approx(0.0, abs=1e-12)
    assert shift_mired(light, np.empty((0, 81))).shape == (0,)
