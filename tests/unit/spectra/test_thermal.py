from __future__ import annotations

import math

import numpy as np
import pytest

from evencast.spectra import C2_M_K, GRID_NM, planckian


@pytest.mark.parametrize("temperature_k", [500.0, 1000.0, 2856.0, 6500.0, 1e5, 1e9, math.inf])
def test_it_is_one_at_560_nm_and_finite_everywhere(temperature_k: float) -> None:
    """From a dull ember to no limit at all."""
    power = planckian(temperature_k)
    assert power[GRID_NM == 560.0] == pytest.approx(1.0, rel=1e-12)
    assert np.isfinite(power).all()
    assert (power > 0).all()


def test_ever_hotter_it_becomes_the_inverse_fourth_power() -> None:
    """The Rayleigh-Jeans limit: wavelength to the power of -4."""
    np.testing.assert_allclose(planckian(math.inf), (560.0 / GRID_NM) ** 4, rtol=1e-12)
    np.testing.assert_allclose(planckian(1e9), planckian(math.inf), rtol=2e-5)


def test_cold_it_becomes_wiens_law() -> None:
    """exp(-c2 / (wavelength T)) over wavelength to the fifth, to 1e-6 at 1500 K."""
    wien = (560.0 / GRID_NM) ** 5 * np.exp(C2_M_K * 1e9 / 1500 * (1 / 560.0 - 1 / GRID_NM))
    np.testing.assert_allclose(planckian(1500.0), wien, rtol=5e-6)


def test_it_peaks_where_wiens_displacement_law_says() -> None:
    """c2 / 4.965114 over the temperature: 579.6 nm at 5000 K."""
    fine_nm = np.arange(550.0, 610.0, 0.01)
    peak_nm = fine_nm[np.argmax(planckian(5000.0, fine_nm))]
    assert peak_nm == pytest.approx(C2_M_K * 1e9 / 4.965114 / 5000.0, abs=0.02)


def test_any_wavelengths_will_do() -> None:
    """The default grid is a default, not a limit."""
    np.testing.assert_allclose(
        planckian(3200.0, np.array([400.0, 700.0])),
        planckian(3200.0)[np.isin(GRID_NM, [400.0, 700.0])],
    )
