from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cie_1931_2deg, mired_duv, uv, uv_of_xyz
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, Spectrum, daylight, on_grid, planckian
from evencast.spectra.grid import STEP_NM

ONE_NM: Floats = np.arange(380.0, 781.0)


def uv_at_one_nm(power: Floats) -> Floats:
    """CIE 1960 u, v of 380-780 nm samples, summed at 1 nm."""
    observer = cie_1931_2deg()
    first = int(ONE_NM[0] - observer.wavelengths_nm[0])
    return uv_of_xyz(power @ observer.cmf[first : first + len(ONE_NM)])


def test_the_grid_is_380_to_780_nm_at_5_nm_and_cannot_be_changed() -> None:
    """81 points; a caller that writes into it is stopped."""
    assert len(GRID_NM) == 81
    assert (GRID_NM[0], GRID_NM[-1]) == (380.0, 780.0)
    assert (np.diff(GRID_NM) == STEP_NM).all()
    with pytest.raises(ValueError, match="read-only"):
        GRID_NM[0] = 0.0


@pytest.mark.parametrize("first_nm", [300.0, 360.0, 380.0])
@pytest.mark.parametrize("step_nm", [5.0, 1.0])
def test_samples_that_lie_on_the_grid_are_taken_as_they_are(
    first_nm: float, step_nm: float
) -> None:
    """At 5 nm every value is its own; at 1 nm a spectrum has them all too."""
    nm = np.arange(first_nm, 831.0, step_nm)
    values = np.random.default_rng(1).uniform(0, 1, len(nm))
    on = on_grid(nm, values)
    if step_nm == STEP_NM:
        np.testing.assert_array_equal(on, values[np.isin(nm, GRID_NM)])
    else:
        assert np.abs(on - values[np.isin(nm, GRID_NM)]).max() > 0.1  # binned, never picked


def test_samples_finer_than_the_grid_are_binned_even_where_they_meet_it() -> None:
    """A line at 546 nm between two grid points is not lost, one at 545 nm not doubled."""
    between, on = np.zeros_like(ONE_NM), np.zeros_like(ONE_NM)
    between[ONE_NM == 546] = 1.0
    on[ONE_NM == 545] = 1.0
    assert on_grid(ONE_NM, between).sum() * STEP_NM == pytest.approx(1.0, rel=1e-12)
    assert on_grid(ONE_NM, on).sum() * STEP_NM == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize(("step_nm", "share"), [(0.5, 1e-12), (1.0, 1e-12), (2.0, 0.041)])
def test_binning_keeps_the_energy_of_narrow_lines(step_nm: float, share: float) -> None:
    """The triangles add up to one everywhere inside, so the sum of any lines is kept; at 2 nm,
    which does not divide 5, a triangle holds 2.4 or 2.6 samples and a line 4 % more or less."""
    rng = np.random.default_rng(2)
    nm = np.arange(380.0, 780.0 + step_nm / 2, step_nm)
    inside = np.flatnonzero((nm >= 390) & (nm <= 770))
    for _ in range(50):
        lines = np.zeros_like(nm)
        lines[rng.choice(inside, 6, replace=False)] = rng.uniform(0.1, 1, 6)
        kept = on_grid(nm, lines).sum() * STEP_NM
        assert kept == pytest.approx(lines.sum() * step_nm, rel=share)


def test_the_colour_of_random_line_lamps_survives_the_grid() -> None:
    """300 lamps of 4 to 9 lines of 1 nm over a weak continuum, against a sum at 1 nm.

    These show 1.6e-4 uv on average and 4.9e-4 at worst; picking every fifth sample instead
    misses by 0.07 on average.
    """
    rng = np.random.default_rng(3)
    misses = []
    for _ in range(300):
        power = planckian(rng.uniform(2500, 8000), ONE_NM) * rng.uniform(0.05, 0.3)
        lines = rng.choice(np.arange(20, 340), rng.integers(4, 10), replace=False)
        power[lines] += rng.uniform(1, 20, len(lines))
        misses.append(np.hypot(*(uv(on_grid(ONE_NM, power)) - uv_at_one_nm(power))))
    assert np.mean(misses) < 2e-4
    assert np.max(misses) < 6e-4


@pytest.mark.parametrize("first_nm", [380.0, 375.0, 384.0])
def test_smooth_spectra_sampled_at_10_nm_keep_their_colour(first_nm: float) -> None:
    """Planckian and daylight spectra read at 10 nm, wherever the samples start: 0.04 mired."""
    nm = np.arange(first_nm, 790.0, 10.0)
    for cct_k in (2000.0, 2856.0, 4000.0, 6500.0, 10000.0):
        exact = mired_duv(uv(planckian(cct_k)))[0]
        coarse = mired_duv(uv(on_grid(nm, planckian(cct_k, nm))))[0]
        assert coarse == pytest.approx(exact, abs=0.04)


def test_cie_daylight_sampled_at_10_nm_keeps_its_colour() -> None:
    """Every second sample of D65, whose sky bands are sharper than 10 nm: within 0.1 mired."""
    exact = daylight(6500.0)
    coarse = on_grid(GRID_NM[::2], exact[::2])
    assert mired_duv(uv(coarse))[0] == pytest.approx(mired_duv(uv(exact))[0], abs=0.1)


@pytest.mark.parametrize("step_nm", [1.0, 4.0, 5.0, 10.0, 20.0])
def test_beyond_its_ends_a_spectrum_holds_its_last_value(step_nm: float) -> None:
    """As CIE 15 recommends, with every way of reaching the grid."""
    nm = np.arange(400.0, 700.0 + step_nm / 2, step_nm)
    values = np.linspace(0.2, 0.8, len(nm))
    on = on_grid(nm, values)
    ends = 0.01 if step_nm < STEP_NM else 1e-12  # a half triangle leans inwards at the end
    np.testing.assert_allclose(on[GRID_NM < 400], 0.2, atol=ends)
    np.testing.assert_allclose(on[GRID_NM > 700], 0.8, atol=ends)


@pytest.mark.parametrize("step_nm", [0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 7.0, 10.0, 20.0])
def test_a_flat_spectrum_stays_flat(step_nm: float) -> None:
    """Weights of every method add up to one."""
    nm = np.arange(378.3, 790.0, step_nm)
    np.testing.assert_allclose(on_grid(nm, np.full_like(nm, 0.7)), 0.7, rtol=1e-12)


@pytest.mark.parametrize("step_nm", [1.0, 3.0, 7.0])
def test_a_straight_slope_stays_straight_inside(step_nm: float) -> None:
    """Triangles are even and cubics exact on a line; away from the ends nothing bends."""
    nm = np.arange(370.0, 791.0, step_nm)
    on = on_grid(nm, nm / 1000)
    np.testing.assert_allclose(on[2:-2], GRID_NM[2:-2] / 1000, rtol=1e-12)


def test_cubics_never_swing_below_zero() -> None:
    """A steep edge between coarse samples makes a cubic dip; light cannot be negative."""
    nm = np.arange(380.0, 790.0, 10.0)
    edge = np.where(nm < 560, 0.0, 1.0)
    assert on_grid(nm, edge).min() == 0.0


LINE_NM = np.array([400, 410, 420, 430, 431, 432, 450, 460, 470, 480, 490, 500, 510, 520.0])


def test_uneven_samples_are_joined_by_straight_lines() -> None:
    """A line sampled closely between coarse samples: the cubic through 431, 432, 450 and 460 nm
    would swing to 3.6 times the line at 440 nm."""
    on = on_grid(LINE_NM, np.where(LINE_NM == 432, 1.0, 0.0))
    assert on[GRID_NM == 440] == pytest.approx(10 / 18, abs=1e-12)
    np.testing.assert_array_equal(on[(GRID_NM < 426) | (GRID_NM > 454)], 0.0)


def test_a_gap_in_fine_samples_is_bridged() -> None:
    """Every nm up to 700 and then a single sample at 780 nm: a straight line between them."""
    nm = np.append(np.arange(380.0, 701.0), 780.0)
    on = on_grid(nm, np.append(np.full(321, 0.8), 0.0))
    beyond = (GRID_NM > 705) & (GRID_NM < 775)
    np.testing.assert_allclose(on[beyond], 0.8 * (780 - GRID_NM[beyond]) / 80, rtol=1e-12)


def test_uneven_samples_of_a_smooth_spectrum_keep_its_colour() -> None:
    """Samples 2 to 8 nm apart, drawn anew 50 times: 0.1 mired, the bend of a straight line."""
    rng = np.random.default_rng(4)
    for _ in range(50):
        nm = np.cumsum(np.append(375.0, rng.uniform(2, 8, 90)))
        uneven = mired_duv(uv(on_grid(nm, planckian(3200.0, nm))))[0]
        assert uneven == pytest.approx(312.5, abs=0.1)


def test_a_spectrum_keeps_its_own_samples_beside_the_grid() -> None:
    """The grid is a view; SSI and the like need the samples as they were."""
    spectrum = Spectrum(ONE_NM, planckian(3200.0, ONE_NM))
    np.testing.assert_array_equal(spectrum.wavelengths_nm, ONE_NM)
    np.testing.assert_array_equal(spectrum.values, planckian(3200.0, ONE_NM))
    np.testing.assert_allclose(spectrum.grid, on_grid(ONE_NM, planckian(3200.0, ONE_NM)))
