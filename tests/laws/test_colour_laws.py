"""What holds for any light and any sheet, on generated inputs."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evencast.colour import cie_1931_2deg, mired_duv, uv, uv_of_mired_duv, xyz
from evencast.filters import Filter, generic, generic_names, stack
from evencast.lights import builtin, builtin_names, dim_tungsten, of_kelvin
from evencast.quantities import Floats
from evencast.spectra import C2_M_K, on_grid, planckian

lights = st.sampled_from(builtin_names()).map(lambda name: builtin(name).power)
filters = st.sampled_from(generic_names()).map(generic)
densities = st.floats(0.0, 3.0)
scales = st.floats(1e-6, 1e6)
spectra = arrays(np.float64, 81, elements=st.floats(1e-3, 1.0))


def neutral(density: float) -> Filter:
    return Filter("neutral", "ND", np.full(81, 10.0**-density), measured=False)


def lost_stops(light: Floats, transmittance: Floats) -> float:
    return float(-np.log2(xyz(light * transmittance)[1] / xyz(light)[1]))


@given(light=lights, sheets=st.lists(filters, min_size=2, max_size=4))
@settings(max_examples=60)
def test_the_order_of_a_stack_does_not_matter(light: Floats, sheets: list[Filter]) -> None:
    """Neither for its colour nor for its loss."""
    wanted, loss = uv(light * stack(sheets)), lost_stops(light, stack(sheets))
    for order in itertools.permutations(sheets):
        np.testing.assert_allclose(uv(light * stack(order)), wanted, atol=1e-13)
        assert lost_stops(light, stack(order)) == pytest.approx(loss, abs=1e-11)


@given(light=lights, density=densities)
def test_a_neutral_shifts_nothing(light: Floats, density: float) -> None:
    """It takes light and leaves the colour."""
    np.testing.assert_allclose(uv(light * neutral(density).transmittance), uv(light), atol=1e-13)


@given(light=lights, sheet=filters, several=st.lists(densities, max_size=4))
def test_stops_of_neutrals_add(light: Floats, sheet: Filter, several: list[float]) -> None:
    """On any light, and behind any sheet."""
    neutrals = [neutral(density) for density in several]
    alone = lost_stops(light, sheet.transmittance)
    added = sum(lost_stops(light, each.transmittance) for each in neutrals)
    assert lost_stops(light, stack([sheet, *neutrals])) == pytest.approx(alone + added, abs=1e-9)


@given(light=lights, sheets=st.lists(filters, max_size=4))
def test_a_sheet_never_makes_light(light: Floats, sheets: list[Filter]) -> None:
    """Every sheet more costs."""
    losses = [lost_stops(light, stack(sheets[:count])) for count in range(len(sheets) + 1)]
    assert losses[0] == pytest.approx(0.0, abs=1e-12)
    assert losses == sorted(losses)


@given(light=spectra, scale=scales)
def test_the_scale_of_a_light_does_not_matter(light: Floats, scale: float) -> None:
    """Its colour, mired and Duv are those of its shape."""
    np.testing.assert_allclose(uv(light * scale), uv(light), rtol=1e-12)
    np.testing.assert_allclose(mired_duv(uv(light * scale)), mired_duv(uv(light)), atol=1e-7)


@given(light=spectra, sheet=spectra, scale=scales)
def test_nor_does_it_matter_to_the_loss(light: Floats, sheet: Floats, scale: float) -> None:
    """A share is a share."""
    assert lost_stops(light * scale, sheet) == pytest.approx(lost_stops(light, sheet), abs=1e-9)


@given(one=spectra, other=spectra, share=st.floats(0.0, 1.0))
def test_a_mix_lies_between_its_parts(one: Floats, other: Floats, share: float) -> None:
    """On the straight line between them in u, v."""
    a, b = uv(one), uv(other)
    mix = uv(share * one + (1 - share) * other)
    line, off = b - a, mix - a
    assert abs(float(line[0] * off[1] - line[1] * off[0])) < 1e-13
    assert np.hypot(*off) <= np.hypot(*line) + 1e-12


@given(values=arrays(np.float64, 401, elements=st.floats(0.0, 1.0)), scale=scales)
def test_bringing_to_the_grid_is_linear(values: Floats, scale: float) -> None:
    """Twice the light, twice the samples; and two lights bring the sum of both."""
    nm = np.arange(380.0, 781.0)
    other = planckian(3200.0, nm)
    np.testing.assert_allclose(on_grid(nm, values * scale), on_grid(nm, values) * scale, atol=1e-9)
    np.testing.assert_allclose(
        on_grid(nm, values + other), on_grid(nm, values) + on_grid(nm, other), rtol=1e-12
    )


@given(cct_k=st.floats(2000.0, 10000.0), one=st.floats(0.0, 2.0), two=st.floats(0.0, 2.0))
def test_dimming_in_two_steps_is_dimming_in_one(cct_k: float, one: float, two: float) -> None:
    """Stops given up add, and so does the warming they bring; reading the CCT again in between,
    from a sum at 5 nm, costs 1e-4 of the power at most."""
    light = of_kelvin(cct_k, locus="planckian")
    in_two = dim_tungsten(dim_tungsten(light, one), two)
    in_one = dim_tungsten(light, one + two)
    np.testing.assert_allclose(in_two.power, in_one.power, rtol=1e-4)


def test_a_place_by_mired_and_duv_and_back_over_the_whole_range() -> None:
    """1000 to 30 000 K, Duv within 0.045: 1e-5 mired and 1e-9 Duv, all 80 000 places."""
    wanted, duv = np.meshgrid(
        np.linspace(1e6 / 30_000, 1000.0, 880), np.linspace(-0.045, 0.045, 91)
    )
    mired, found = mired_duv(uv_of_mired_duv(wanted, duv))
    assert np.abs(mired - wanted).max() < 1e-5
    assert np.abs(found - duv).max() < 1e-9


@given(mired=st.floats(1e6 / 30_000, 1000.0), duv=st.floats(-0.045, 0.045))
@settings(max_examples=300)
def test_so_it_is_for_any_one_place(mired: float, duv: float) -> None:
    """Between the points of that mesh."""
    found, again = mired_duv(uv_of_mired_duv(np.array(mired), np.array(duv)))
    assert float(found) == pytest.approx(mired, abs=1e-5)
    assert float(again) == pytest.approx(duv, abs=1e-9)


@given(temperature_k=st.floats(2000.0, 100_000.0))
def test_a_planckian_summed_at_5_nm_reads_its_own_temperature(temperature_k: float) -> None:
    """Within 0.2 mired (1 K at 2200 K, 0.03 mired at 6500 K) and 4e-5 Duv: what summing at
    5 nm over 380-780 nm costs; `white` takes it back."""
    mired, duv = mired_duv(uv(planckian(temperature_k)))
    assert float(mired) == pytest.approx(1e6 / min(temperature_k, 99_950.0), abs=0.2)
    assert abs(float(duv)) < 4e-5


def planckian_place(mired: float, duv: float) -> Floats:
    """u, v by Planck's law at 1 nm, stepped off along the normal of the locus."""
    observer = cie_1931_2deg()
    rate = C2_M_K * 1e3 / observer.wavelengths_nm
    bose = 1.0 / np.expm1(mired * rate)
    cmf = observer.cmf / observer.wavelengths_nm[:, None] ** 5
    value, slope = bose @ cmf, (-bose * (1.0 + bose) * rate) @ cmf
    weight, weight_slope = value @ [1.0, 15.0, 3.0], slope @ [1.0, 15.0, 3.0]
    place = value[:2] * [4.0, 6.0] / weight
    along = slope[:2] * [4.0, 6.0] / weight - place * weight_slope / weight
    along /= np.hypot(*along)
    result: Floats = place + duv * np.array([-along[1], along[0]])
    return result


@given(mired=st.floats(1e6 / 30_000, 1000.0), duv=st.floats(-0.045, 0.045))
@settings(max_examples=300)
def test_any_place_beside_the_locus_reads_as_planck_says(mired: float, duv: float) -> None:
    """Without the tabulated locus: 1e-5 mired and 1e-9 Duv."""
    found, again = mired_duv(planckian_place(mired, duv))
    assert float(found) == pytest.approx(mired, abs=1e-5)
    assert float(again) == pytest.approx(duv, abs=1e-9)
