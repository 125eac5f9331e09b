"""CCT, Duv and spectra against colour-science 0.4.7 (BSD-3-Clause), an independent library.

Compared on the same u, v, never on its own interpolated spectra. Its method is Ohno (2013).
With its usual table it reads up to 0.051 K low on the CIE illuminants (HP1) and is 2.5 K off
on the bluest Planckian colours. Here its table is 0.1 % apart; it then lies within 0.031 K and
5e-8 Duv of the exact foot on every lamp and within 0.066 K beside the locus. What remains
shrinks with the spacing and so is the library's: no colour below had to be left out.
"""

from __future__ import annotations

import numpy as np
import pytest

from evencast import lights
from evencast.colour import (
    cct_duv,
    cie_1931_2deg,
    cie_1964_10deg,
    uv,
    uv_of_mired_duv,
    white,
    xyz,
)
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, daylight, on_grid, planckian
from tests.oracle import colour

CCT_K = 0.2
DUV = 1e-6
SPACING = 1.001
OBSERVER = "CIE 1931 2 Degree Standard Observer"
OUTSIDE_GRID = "ISO 7589 "
"""These seven are given at 10 nm; they are compared as brought to the grid."""


def library_cct_duv(uv_value: Floats, *, spacing: float = SPACING) -> tuple[Floats, Floats]:
    """CCT and Duv by the library. [(n, 2) to two (n,)]"""
    cmfs = colour.MSDS_CMFS[OBSERVER].copy().align(colour.SpectralShape(360, 830, 1))
    found = np.asarray(
        colour.temperature.uv_to_CCT_Ohno2013(
            uv_value, cmfs=cmfs, start=1000, end=100_000, spacing=spacing
        ),
        dtype=float,
    )
    return found[:, 0], found[:, 1]


def library_uv(power: Floats) -> Floats:
    """u, v summed here with the library's own observer. [(n, 81) to (n, 2)]"""
    observer = colour.MSDS_CMFS[OBSERVER]
    tristimulus = power @ np.array([observer[each] for each in GRID_NM])
    weight = tristimulus @ np.array([1.0, 15.0, 3.0])
    place: Floats = tristimulus[:, :2] * np.array([4.0, 6.0]) / weight[:, None]
    return place


def agrees(uv_value: Floats) -> None:
    """Assert that both read the same CCT and Duv, or name the ones that differ."""
    cct_k, duv = cct_duv(uv_value)
    library_k, library_duv = library_cct_duv(uv_value)
    assert np.isfinite(cct_k).all()
    assert cct_k == pytest.approx(library_k, abs=CCT_K, rel=0)
    assert duv == pytest.approx(library_duv, abs=DUV, rel=0)


def illuminant(name: str) -> Floats:
    """A library illuminant at 380-780 nm, 5 nm, its values taken as they are. [(81,)]"""
    spectrum = colour.SDS_ILLUMINANTS[name]
    if name.startswith(OUTSIDE_GRID):
        return on_grid(spectrum.wavelengths, spectrum.values)
    return np.array([spectrum[each] for each in GRID_NM])


def test_every_illuminant_of_the_library() -> None:
    names = list(colour.SDS_ILLUMINANTS)
    assert len(names) == 59
    power = np.array([illuminant(name) for name in names])
    assert uv(power) == pytest.approx(library_uv(power), abs=1e-12)
    agrees(library_uv(power))


def test_every_built_in_light() -> None:
    power = np.array([lights.builtin(name).power for name in lights.builtin_names()])
    assert len(power) > 80
    assert uv(power) == pytest.approx(library_uv(power), abs=1e-12)
    agrees(library_uv(power))


def test_planckian_colours_from_1001_to_99000_k() -> None:
    """At either end the library's own table stops, so its three points are not around the foot."""
    observer = cie_1931_2deg()
    temperatures_k = np.geomspace(1001.0, 99_000.0, 240)
    power = np.array([planckian(each, observer.wavelengths_nm) for each in temperatures_k])
    tristimulus = power @ observer.cmf
    place = tristimulus[:, :2] * np.array([4.0, 6.0])
    place = place / (tristimulus @ np.array([1.0, 15.0, 3.0]))[:, None]
    agrees(place)
    assert cct_duv(place)[0] == pytest.approx(temperatures_k, rel=1e-9)
    assert cct_duv(place)[1] == pytest.approx(np.zeros(240), abs=1e-10)


def test_daylight_colours_from_4000_to_25000_k() -> None:
    agrees(uv(np.array([daylight(each) for each in np.linspace(4000.0, 25_000.0, 211)])))


def test_colours_beside_the_locus() -> None:
    """Duv from -0.03 to 0.03, 1200 K to 25 000 K: 2214 places."""
    mireds, duvs = np.meshgrid(np.linspace(40.0, 830.0, 54), np.linspace(-0.03, 0.03, 41))
    agrees(uv_of_mired_duv(mireds.ravel(), duvs.ravel()))


def test_what_remains_is_the_librarys() -> None:
    """With a table five times as fine it comes four times nearer, to 0.008 K."""
    place = uv(np.array([lights.builtin(name).power for name in lights.builtin_names()]))
    cct_k, _ = cct_duv(place)
    coarse = np.abs(library_cct_duv(place)[0] - cct_k).max()
    fine = np.abs(library_cct_duv(place, spacing=1.0002)[0] - cct_k).max()
    assert coarse < 0.031
    assert fine < 0.3 * coarse


@pytest.mark.parametrize("cct_k", [4000, 4500, 5003.0, 5600, 6500, 7000, 7001, 10_000, 25_000])
def test_daylight_spectrum(cct_k: float) -> None:
    """Unrounded M1, M2, as here; the library rounds them to three places by itself."""
    x, y = colour.temperature.CCT_to_xy_CIE_D(cct_k)
    series = colour.sd_CIE_illuminant_D_series(np.array([x, y]), M1_M2_rounding=False)
    assert daylight(cct_k) == pytest.approx(np.array([series[each] for each in GRID_NM]), abs=1e-9)


def test_planckian_spectrum() -> None:
    """Its Planck's law has c2 = 1.4388e-2 m K too; the scale is free."""
    for temperature_k in (1000.0, 3200.0, 6500.0, 26_000.0):
        theirs = colour.colorimetry.planck_law(GRID_NM * 1e-9, temperature_k)
        ours = planckian(temperature_k)
        assert ours / ours[36] == pytest.approx(theirs / theirs[36], rel=1e-9)


def test_observers() -> None:
    for ours, name in (
        (cie_1931_2deg(), OBSERVER),
        (cie_1964_10deg(), "CIE 1964 10 Degree Standard Observer"),
    ):
        assert np.abs(ours.cmf - colour.MSDS_CMFS[name].values).max() < 1e-14


def test_tristimulus_values_by_direct_summation() -> None:
    """The library normalises an illuminant to Y = 100; ratios are compared."""
    for cct_k in (2700.0, 4300.0, 5600.0):
        power = white(cct_k)
        spectrum = colour.SpectralDistribution(power, GRID_NM)
        cmfs = colour.MSDS_CMFS[OBSERVER].copy().align(spectrum.shape)
        theirs = np.asarray(colour.sd_to_XYZ(spectrum, cmfs, method="Integration"))
        ours = xyz(power)
        assert ours / ours[1] == pytest.approx(theirs / theirs[1], rel=1e-12)
