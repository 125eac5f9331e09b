from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import white
from evencast.colour.fidelity import (
    SSI_NM,
    ssi,
    ssi_name,
    ssi_reference,
    ssi_samples,
    ssi_samples_of_grid,
)
from evencast.spectra import GRID_NM, daylight, planckian


def test_samples_are_joined_by_straight_lines_and_dark_beyond() -> None:
    """375 to 675 nm at 1 nm, whatever the spacing."""
    found = ssi_samples(np.array([400.0, 410.0, 600.0]), np.array([1.0, 2.0, 21.0]))
    assert found.shape == SSI_NM.shape == (301,)
    at = {int(nm): float(value) for nm, value in zip(SSI_NM, found, strict=True)}
    assert (at[399], at[400], at[405], at[410], at[411]) == pytest.approx((0, 1, 1.5, 2, 2.1))
    assert (at[600], at[601]) == (21.0, 0.0)


def test_samples_keep_leading_axes() -> None:
    values = np.arange(2 * 3 * 81, dtype=float).reshape(2, 3, 81)
    assert ssi_samples(GRID_NM, values).shape == (2, 3, 301)
    assert ssi_samples(GRID_NM, values[:0]).shape == (0, 3, 301)
    np.testing.assert_allclose(
        ssi_samples(GRID_NM, values)[1, 2], ssi_samples(GRID_NM, values[1, 2]), rtol=1e-12
    )


def test_below_the_grid_counts_neither_for_nor_against() -> None:
    """The 5 nm that the grid lacks are the reference's, on the light's level at 380 nm."""
    reference = ssi_reference(np.array(5600.0))
    found = ssi_samples_of_grid(3.0 * white(5600.0), reference)
    np.testing.assert_allclose(found / found[5], reference / reference[5], rtol=1e-3)
    dark = ssi_samples(GRID_NM, white(5600.0))
    assert ssi(found, reference) == pytest.approx(100.0, abs=0.01)
    assert ssi(dark, reference) < 99.5


@pytest.mark.parametrize("cct_k", [1000.0, 2000.0, 3200.0, 3999.0, 5000.0, 5600.0, 25_000.0])
def test_the_white_of_n_kelvin_scores_100(cct_k: float) -> None:
    """From the grid alone; at 25 000 K its own reads 24 980."""
    reference = ssi_reference(np.array(cct_k))
    assert ssi(ssi_samples_of_grid(white(cct_k), reference), reference) == pytest.approx(
        100.0, abs=0.02
    )


@pytest.mark.parametrize(
    ("cct_k", "name", "of_k"),
    [
        (3200.0, "blackbody 3200 K", 3200.0),
        (3999.4, "blackbody 3999 K", 3999.0),
        (3999.6, "CIE daylight 4000 K", 4000.0),
        (4224.4999, "CIE daylight 4224 K", 4224.0),
        (5600.0, "CIE daylight 5600 K", 5600.0),
        (25_000.0, "CIE daylight 25000 K", 25_000.0),
    ],
)
def test_the_reference_is_what_its_name_says(cct_k: float, name: str, of_k: float) -> None:
    """A blackbody below 4000 K, CIE daylight from there, of the whole Kelvin."""
    assert ssi_name(cct_k) == name
    made = planckian if name.startswith("blackbody") else daylight
    np.testing.assert_allclose(ssi_reference(np.array(cct_k)), made(of_k, SSI_NM), rtol=1e-12)


@pytest.mark.parametrize("cct_k", [25_000.6, 1e5, float("nan")])
def test_without_a_reference_there_is_no_index(cct_k: float) -> None:
    """Above 25 000 K CIE daylight ends; without a CCT there is nothing to choose it by."""
    assert ssi_name(cct_k) is None
    reference = ssi_reference(np.array(cct_k))
    assert np.isnan(reference).all()
    assert np.isnan(ssi(ssi_samples(GRID_NM, white(5600.0)), reference))


def test_a_stack_against_one_reference_and_each_against_its_own() -> None:
    power = np.stack([white(3200.0), white(5600.0)])
    own = ssi_reference(np.array([3200.0, 5600.0]))
    one = ssi_reference(np.array(3200.0))
    samples = ssi_samples(GRID_NM, power)
    assert ssi(samples, own).shape == ssi(samples, one).shape == (2,)
    assert ssi(samples, one)[0] == pytest.approx(float(ssi(samples, own)[0]), abs=1e-12)
    assert ssi(samples, one)[1] < 75 < ssi(samples, own)[1]
    assert ssi(samples[:0], own[:0]).shape == (0,)


def test_dark_and_unknown_have_no_index() -> None:
    reference = ssi_reference(np.array(3200.0))
    for nothing in (np.zeros(301), np.full(301, np.nan)):
        assert np.isnan(ssi(nothing, reference))
        assert np.isnan(ssi(reference, nothing))


def test_it_may_be_negative() -> None:
    """A single line against a blackbody."""
    line = (SSI_NM == 589.0).astype(float)
    assert ssi(line, ssi_reference(np.array(3200.0))) < 0
