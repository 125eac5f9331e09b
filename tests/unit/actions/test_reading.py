"""Quality of light in a reading: where it is null, and of which spectrum it speaks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evencast.actions.reading import NO_QUALITY, Quality, reading
from evencast.colour import white
from evencast.colour.fidelity import cri, ssi, ssi_reference, tm30
from evencast.filters import generic
from evencast.lights import Light, builtin, light_of, of_spectrum, redial
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, Spectrum


def quality(light: Light, *, through: Floats | None = None) -> Quality:
    found = reading(light, through=through)
    return {key: getattr(found, key) for key in NO_QUALITY}  # type: ignore[return-value]


@pytest.mark.parametrize("through", [None, generic("half CTO").transmittance])
def test_without_a_known_spectrum_there_is_none(through: Floats | None) -> None:
    """Bare or filtered: a reading, an adjustable light turned away from its measurement."""
    for light in (light_of("5400K+0.0065"), redial(builtin("LED-B3"), 4300.0)):
        assert light.assumed
        assert quality(light, through=through) == NO_QUALITY


def test_without_a_cct_there_is_none() -> None:
    light = of_spectrum("line", Spectrum(GRID_NM, (GRID_NM == 520.0).astype(float)))
    assert reading(light).state == "no_cct"
    assert quality(light) == NO_QUALITY


def test_above_25_000_k_there_is_a_cct_and_no_quality() -> None:
    assert reading(light_of("30000K")).state == "ok"
    assert quality(light_of("30000K")) == NO_QUALITY


def test_numbers_are_those_of_the_indices_to_a_tenth() -> None:
    light = builtin("FL4")
    (ra, special), (rf, rg, shift) = cri(light.power), tm30(light.power)
    found = quality(light)
    for key, value in (("ra", ra), ("r9", special[8]), ("rf", rf), ("rg", rg)):
        assert found[key] == round(float(value), 1)  # type: ignore[literal-required]
    assert found["rcs_h1"] == round(float(shift[0]), 1)
    assert (found["ssi"], found["ssi_reference"]) == (50.6, "blackbody 2938 K")


@pytest.mark.parametrize("text", ["2000K", "3200K", "5600K", "6504K", "tungsten -1stop"])
def test_lights_made_from_numbers_score_100(text: str) -> None:
    """Whatever 5 nm leaves below the grid; dimmed tungsten is as good as at full."""
    found = quality(light_of(text))
    assert [found[key] for key in ("ra", "r9", "rf", "rg", "ssi")] == [100.0] * 5


@pytest.mark.parametrize("name", ["FL2", "tungsten", "LED-B3", "xenon projector", "panel"])
def test_a_neutral_changes_no_quality(name: str) -> None:
    """Of lamps with samples of their own, and of those known on the grid alone."""
    light = builtin(name)
    assert quality(light, through=np.full(81, 0.25)) == quality(light)


def test_a_filter_changes_it_as_its_product_does() -> None:
    """The spectrum behind the sheet is judged, against the reference of its own CCT."""
    light, sheet = builtin("tungsten"), generic("full CTB").transmittance
    found = quality(light, through=sheet)
    assert found["ra"] == round(float(cri(light.power * sheet)[0]), 1) < 100.0
    assert found["ssi_reference"] == f"CIE daylight {reading(light, through=sheet).cct_k:.0f} K"


def test_similarity_is_of_the_lights_own_samples() -> None:
    """A line of 1 nm, which the grid smears over three of its points, and which a sheet dims."""
    nm = np.arange(380.0, 781.0)
    power = white(4000.0, locus="planckian")
    fine = np.interp(nm, GRID_NM, power) + np.where(nm == 546.0, 40.0, 0.0)
    light = of_spectrum("lamp", Spectrum(nm, fine))
    cct_k = reading(light).cct_k
    assert cct_k is not None
    reference = ssi_reference(np.array(cct_k))
    samples = np.interp(np.arange(375.0, 676.0), nm, fine, left=0.0)
    assert quality(light)["ssi"] == round(float(ssi(samples, reference)), 1)
    assert quality(light) != quality(replace(light, spectrum=None))
    notch = np.where(np.abs(GRID_NM - 546.0) < 5.0, 0.1, 1.0)
    behind, bare = quality(light, through=notch)["ssi"], quality(light)["ssi"]
    assert behind is not None
    assert bare is not None
    assert behind > bare
