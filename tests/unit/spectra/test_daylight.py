from __future__ import annotations

import itertools

import numpy as np
import pytest

from evencast import tables
from evencast.colour import xy_of_xyz, xyz
from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, daylight, on_grid


@pytest.mark.parametrize("cct_k", [4000.0, 5003.0, 6504.0, 7000.0, 7001.0, 25000.0])
def test_it_is_100_at_560_nm(cct_k: float) -> None:
    """The CIE components are 100, 0 and 0 there."""
    assert daylight(cct_k)[GRID_NM == 560.0] == pytest.approx(100.0, abs=1e-9)


@pytest.mark.parametrize(("name", "nominal_k"), [("D50", 5000), ("D55", 5500), ("D65", 6500)])
def test_nominal_illuminants_come_out_as_printed(name: str, nominal_k: float) -> None:
    """CIE 15 prints them with M1 and M2 rounded to three places: 0.1 of 100 apart at most."""
    table = tables.read("cie_illuminants_a_d")
    printed = on_grid(table.column("wavelength_nm"), table.column(name))
    np.testing.assert_allclose(daylight(nominal_k * 1.4388 / 1.4380), printed, atol=0.1)


@pytest.mark.parametrize("cct_k", [4000.0, 5000.0, 6500.0, 7000.0, 10000.0, 25000.0])
def test_its_chromaticity_lies_on_the_cie_daylight_locus(cct_k: float) -> None:
    """y = -3 x^2 + 2.87 x - 0.275, which the components meet within 0.0004."""
    x, y = xy_of_xyz(xyz(daylight(cct_k)))
    assert y == pytest.approx(-3.0 * x * x + 2.87 * x - 0.275, abs=4e-4)


def test_the_two_branches_of_the_formula_meet_at_7000_k() -> None:
    """The published polynomials agree there to 0.2 of 100."""
    below, above = daylight(7000.0), daylight(7000.001)
    np.testing.assert_allclose(below, above, atol=0.2)


@pytest.mark.parametrize("cct_k", [3999.9, 25000.1, 0.0, float("nan")])
def test_outside_the_formula_there_is_no_daylight(cct_k: float) -> None:
    """4000 to 25 000 K, and the error names both."""
    with pytest.raises(EvencastError) as caught:
        daylight(cct_k)
    assert caught.value.what == f"no daylight of {cct_k:g} K: the CIE formula ends there"
    assert caught.value.where == "daylight"
    assert caught.value.remedy == "Use 4000 to 25000 K, or name the Planckian locus."


def test_cooler_daylight_is_bluer() -> None:
    """Blue against red rises with every step."""
    share: list[Floats] = [
        daylight(k)[10] / daylight(k)[60] for k in (4000, 5000, 6500, 9000, 25e3)
    ]
    assert all(a < b for a, b in itertools.pairwise(share))
