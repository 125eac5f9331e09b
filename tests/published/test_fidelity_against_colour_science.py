"""Ra, R9, Rf, Rg, hue shifts and SSI against colour-science 0.4.7 (BSD-3-Clause), unrounded.

All 59 illuminants of the library and every built-in light, as they are on the 5 nm grid. Its
colour rendering index is called by its parts, because its own entry first interpolates a lamp
linearly to 1 nm and reads its temperature off Robertson's table: up to 0.43 in Ra on the CIE
lamps (HP1), 0.82 on the single line of low-pressure sodium. The tests at the end show where
that comes from, and on which lamps it passes 0.1.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from functools import cache
from typing import Any, cast

import numpy as np
import pytest

from evencast import lights, tables
from evencast.colour import cct_duv, uv
from evencast.colour.fidelity import cri, ssi, ssi_reference, ssi_samples, tm30
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, on_grid
from tests.oracle import colour

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from colour.quality.cfi2017 import load_TCS_CIE2017
    from colour.quality.cri import colour_rendering_indexes, tcs_colorimetry_data
    from colour.quality.datasets.tcs import SDS_TCS
    from colour.quality.tm3018 import colour_fidelity_index_ANSIIESTM3018

pytestmark = pytest.mark.filterwarnings(  # it says that it sums at 5 nm, as it was told to
    "ignore:.*shape could not be honoured", "ignore:Aligning .* shape to"
)

GRID = colour.SpectralShape(380, 780, 5)
FINE = colour.SpectralShape(360, 780, 1)
OBSERVER = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]


@dataclass(frozen=True, slots=True, eq=False)
class Lamp:
    """A spectrum as published, and on the grid."""

    name: str
    wavelengths_nm: Floats
    values: Floats
    power: Floats


@cache
def lamps() -> tuple[Lamp, ...]:
    """The library's illuminants, then the built-in lights that have samples."""
    found = [
        Lamp(f"CIE {name}", each.wavelengths, each.values, on_grid(each.wavelengths, each.values))
        for name, each in colour.SDS_ILLUMINANTS.items()
    ]
    for name in lights.builtin_names():
        light = lights.builtin(name)
        own = light.spectrum
        samples = (GRID_NM, light.power) if own is None else (own.wavelengths_nm, own.values)
        found.append(Lamp(name, *samples, light.power))
    return tuple(found)


def stack() -> Floats:
    return np.array([each.power for each in lamps()])


def spectrum(power: Floats) -> Any:
    """A spectrum of the library's, which is to be interpolated linearly if at all."""
    made = colour.SpectralDistribution(power, GRID_NM)
    made.interpolator = colour.LinearInterpolator
    return made


@cache
def samples_and_observer(shape: Any) -> tuple[dict[str, Any], Any]:
    samples = {each.name: each.copy().align(shape) for each in SDS_TCS["CIE 1995"].values()}
    return samples, OBSERVER.copy().align(shape)


def rendering(power: Floats, shape: Any) -> Floats:
    """R1 to R14 by the library's parts, on that sampling. [(14,)]"""
    test = spectrum(power).align(shape)
    tristimulus = power @ np.array([OBSERVER[each] for each in GRID_NM])
    at_uv = colour.UCS_to_uv(colour.XYZ_to_UCS(tristimulus))
    cct_k = colour.temperature.uv_to_CCT_Ohno2013(at_uv, start=1000, end=25_000)[0]
    if cct_k < 5000.0:
        reference = colour.sd_blackbody(cct_k, shape)
    else:
        place = colour.temperature.CCT_to_xy_CIE_D(cct_k)
        reference = colour.sd_CIE_illuminant_D_series(place).align(shape)
    samples, observer = samples_and_observer(shape)
    found = colour_rendering_indexes(
        tcs_colorimetry_data(test, reference, samples, observer, chromatic_adaptation=True),
        tcs_colorimetry_data(reference, reference, samples, observer),
    )
    return np.array([found[number].Q_a for number in range(1, 15)])


def test_there_are_enough_lamps() -> None:
    assert len(lamps()) == 59 + len(lights.builtin_names()) > 140


def test_colour_rendering_index() -> None:
    """Ra within 0.01, and every single R within 0.03, on all of them; the most is D75's R9, for
    which the library rounds M1 and M2 of its reference to three places."""
    ra, special = cri(stack())
    theirs = np.array([rendering(each.power, GRID) for each in lamps()])
    assert np.isfinite(special).all()
    assert special == pytest.approx(theirs, abs=0.03, rel=0)
    assert ra == pytest.approx(theirs[:, :8].mean(axis=1), abs=0.01, rel=0)
    print(f"worst: Ra {np.abs(ra - theirs[:, :8].mean(axis=1)).max():.4f}")


def test_fidelity_gamut_and_hue_shifts() -> None:
    """Rf and Rg within 0.005, and every hue's chroma shift within 0.005 percent."""
    rf, rg, shift = tm30(stack())
    theirs = [colour_fidelity_index_ANSIIESTM3018(spectrum(each.power), True) for each in lamps()]
    assert np.isfinite(rf).all()
    print(f"worst: Rf {max(abs(r - each.R_f) for r, each in zip(rf, theirs, strict=True)):.5f}")
    print(f"worst: Rg {max(abs(r - each.R_g) for r, each in zip(rg, theirs, strict=True)):.5f}")
    assert rf == pytest.approx(np.array([each.R_f for each in theirs]), abs=0.005, rel=0)
    assert rg == pytest.approx(np.array([each.R_g for each in theirs]), abs=0.005, rel=0)
    assert shift == pytest.approx(np.array([each.R_cs for each in theirs]), abs=0.005, rel=0)


def test_spectral_similarity() -> None:
    """Within 0.01 of its unrounded value, on each lamp's own samples and reference."""
    for lamp in lamps():
        cct_k = float(cct_duv(uv(lamp.power))[0])
        ours = ssi(ssi_samples(lamp.wavelengths_nm, lamp.values), ssi_reference(np.array(cct_k)))
        test = colour.SpectralDistribution(lamp.values, lamp.wavelengths_nm)
        theirs = colour.spectral_similarity_index(test, _reference(cct_k), round_result=False)
        assert float(ours) == pytest.approx(float(theirs), abs=0.01, rel=0), lamp.name


def _reference(cct_k: float) -> Any:
    """The library's own blackbody or daylight of the whole Kelvin; it rounds M1 and M2."""
    if round(cct_k) < 4000:
        return colour.sd_blackbody(round(cct_k), colour.SpectralShape(375, 675, 1))
    return colour.sd_CIE_illuminant_D_series(colour.temperature.CCT_to_xy_CIE_D(round(cct_k)))


def test_the_packaged_samples_are_every_fifth_of_the_full_ones() -> None:
    """So nothing is lost where the light itself is given at 5 nm."""
    full = load_TCS_CIE2017(colour.SpectralShape(380, 780, 1))
    packaged = tables.read("cie_224_samples").values
    assert packaged[:, 1:].tolist() == full.values[::5].tolist()


@pytest.mark.parametrize("name", ["HP1", "FL4", "FL3.4", "LED-RGB1", "LED-B3"])
def test_what_the_librarys_own_entry_adds_is_its_interpolation(name: str) -> None:
    """Its parts, given the lamp interpolated to 1 nm, come to what its entry says within 0.05;
    at 5 nm they come to what is said here."""
    power = next(each.power for each in lamps() if each.name == f"CIE {name}")
    entry = float(cast(float, colour.colour_rendering_index(spectrum(power))))
    assert rendering(power, FINE)[:8].mean() == pytest.approx(entry, abs=0.05)
    assert rendering(power, GRID)[:8].mean() == pytest.approx(float(cri(power)[0]), abs=0.01)


ENTRY_BEYOND = {
    "FL3": 0.106,
    "FL4": 0.126,
    "FL3.1": 0.124,
    "FL3.10": -0.248,
    "HP1": 0.427,
    "HP2": 0.160,
    "LED-RGB1": 0.276,
}
"""CIE lamps on which the library's own entry lies further than 0.1 from the sum at 5 nm, and by
how much. It first interpolates the lamp to 1 nm, on straight lines, which also misses the
published x, y of these lamps; CIE prints 8 for HP1, where it says 8.5 and this 8.07. FL3.10 is
apart: it has 4999.5 K, and the library's entry reads 5000.5 K and so takes daylight, not the
blackbody, for its reference."""


def test_the_librarys_own_entry_is_met_within_a_tenth_but_for_seven_lamps() -> None:
    for lamp in lamps():
        name = lamp.name.removeprefix("CIE ")
        if name == lamp.name:
            continue
        entry = float(cast(float, colour.colour_rendering_index(colour.SDS_ILLUMINANTS[name])))
        differs = entry - float(cri(lamp.power)[0])
        if name in ENTRY_BEYOND:
            assert differs == pytest.approx(ENTRY_BEYOND[name], abs=0.01), name
        else:
            assert abs(differs) <= 0.1, name
