"""What holds for the quality of any light, on generated inputs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evencast.colour import cct_duv, uv
from evencast.colour.fidelity import SSI_NM, cri, ssi, ssi_reference, ssi_samples, tm30
from evencast.lights import builtin, builtin_names
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, daylight, planckian

lamps = st.sampled_from(builtin_names()).map(lambda name: builtin(name).power)
wild = arrays(np.float64, 81, elements=st.floats(1e-3, 1.0))
spectra = lamps | wild
scales = st.floats(1e-9, 1e9)
warm_k = st.floats(1200.0, 3990.0)
cool_k = st.floats(5010.0, 24_900.0)


def every_index(power: Floats) -> list[Floats]:
    """Ra, R1 to R14, Rf, Rg, hue shifts, and SSI against the light's own reference."""
    similar = ssi(ssi_samples(GRID_NM, power), ssi_reference(cct_duv(uv(power))[0]))
    return [*cri(power), *tm30(power), similar]


def same(one: list[Floats], other: list[Floats]) -> None:
    for each, twin in zip(one, other, strict=True):
        np.testing.assert_allclose(each, twin, rtol=1e-7, atol=1e-6)


@given(stack=st.lists(spectra, min_size=1, max_size=4), place=st.integers(0, 3))
@settings(max_examples=60)
def test_one_light_is_judged_as_in_a_stack(stack: list[Floats], place: int) -> None:
    """Whatever stands beside it, and through any number of axes."""
    row = place % len(stack)
    together = every_index(np.array(stack)[:, None])
    same([each[row, 0] for each in together], every_index(stack[row]))


@given(power=spectra, scale=scales)
@settings(max_examples=60)
def test_how_much_light_there_is_does_not_matter(power: Floats, scale: float) -> None:
    """Only its shape does."""
    same(every_index(power * scale), every_index(power))


@given(cct_k=warm_k)
def test_a_blackbody_below_4000_k_scores_100_in_all(cct_k: float) -> None:
    scores_100(planckian(cct_k))
    fine = planckian(cct_k, SSI_NM)
    assert ssi(fine, ssi_reference(np.array(cct_k))) == pytest.approx(100.0, abs=0.05)


@given(cct_k=cool_k)
def test_daylight_above_5000_k_scores_100_in_all(cct_k: float) -> None:
    scores_100(daylight(cct_k))
    fine = daylight(cct_k, SSI_NM)
    assert ssi(fine, ssi_reference(np.array(cct_k))) == pytest.approx(100.0, abs=0.02)


def scores_100(power: Floats) -> None:
    """Within what the 5 nm sum and the daylight formula leave between N Kelvin and a CCT of N."""
    ra, special = cri(power)
    rf, rg, shift = tm30(power)
    assert ra == pytest.approx(100.0, abs=0.05)
    np.testing.assert_allclose(special, 100.0, atol=0.1)
    assert rf == pytest.approx(100.0, abs=0.05)
    assert rg == pytest.approx(100.0, abs=0.05)
    np.testing.assert_allclose(shift, 0.0, atol=0.05)


@given(power=spectra)
def test_no_index_of_likeness_passes_100(power: Floats) -> None:
    """Rf ends a hair above it by its own formula, 10 ln(1 + e^10), and at 0; gamut may be any."""
    _, special, rf, rg, _, similar = every_index(power)
    if np.isnan(similar):
        return
    assert special.max() <= 100.0
    assert 0.0 <= rf <= 10.0 * np.log1p(np.exp(10.0))
    assert np.isnan(rg) or rg >= -1e-9  # one line leaves a polygon without area
    assert similar <= 100.0


@given(power=spectra, scale=scales)
def test_any_spectrum_is_like_itself(power: Floats, scale: float) -> None:
    samples = ssi_samples(GRID_NM, power)
    assert ssi(samples * scale, samples) == pytest.approx(100.0, abs=1e-9)


@given(power=spectra, place=st.integers(0, 80))
def test_a_light_known_in_part_is_not_judged(power: Floats, place: int) -> None:
    """One nan on the grid, and there is no index."""
    holed = np.where(np.arange(81) == place, np.nan, power)
    assert all(np.isnan(each).all() for each in every_index(holed))
