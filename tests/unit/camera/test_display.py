from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.camera.display import (
    DISPLAYS,
    bt1886_curve,
    display_named,
    shown,
    srgb_curve,
    srgb_light,
)
from evencast.errors import EvencastError
from evencast.quantities import Floats

CHANNEL = st.floats(-3.0, 4.0)
COLOUR = st.tuples(CHANNEL, CHANNEL, CHANNEL).map(np.array)
NAMES = st.sampled_from(DISPLAYS)


def light_of(name: str, codes: Floats) -> Floats:
    """Linear light of code values."""
    if name == "Rec. 709":
        return np.asarray(codes**2.4)
    return np.asarray(np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4))


@given(NAMES, st.tuples(*[st.floats(0.0, 1.0)] * 3).map(np.array))
def test_a_colour_inside_stays_as_it_is(name: str, linear: Floats) -> None:
    seen = shown(linear, display_named(name))
    assert not seen.limited
    assert light_of(name, seen.values) == pytest.approx(linear, abs=1e-9)


@given(NAMES, COLOUR)
def test_a_colour_outside_keeps_its_luminance_and_hue(name: str, linear: Floats) -> None:
    """It ends between itself and the grey of its luminance, no farther in than it must."""
    display = display_named(name)
    seen = shown(linear, display)
    light, luminance = light_of(name, seen.values), float(linear @ display.luminance)
    assert ((seen.values >= 0.0) & (seen.values <= 1.0)).all()
    assert bool(seen.limited) == bool(((linear < -1e-9) | (linear > 1.0 + 1e-9)).any())
    assert light @ display.luminance == pytest.approx(np.clip(luminance, 0.0, 1.0), abs=1e-7)
    if seen.limited and 0.0 < luminance < 1.0:
        beside, was = light - luminance, linear - luminance
        assert np.linalg.norm(np.cross(beside, was)) <= 1e-6 * max(1.0, float(was @ was))
        assert beside @ was >= -1e-9
        assert min(light.min(), 1.0 - light.max()) == pytest.approx(0.0, abs=1e-7)


@given(NAMES, COLOUR)
def test_no_jump_where_a_colour_leaves_the_gamut(name: str, linear: Floats) -> None:
    display = display_named(name)
    near = shown(linear + 1e-7, display).values - shown(linear, display).values
    assert np.abs(light_of(name, shown(linear, display).values)).max() <= 1.0
    assert np.abs(near).max() < 1e-2


def test_what_is_too_bright_is_white_and_less_than_nothing_black() -> None:
    seen = shown(np.array([[3.0, 2.0, 0.1], [-0.5, -0.2, 0.1]]), display_named("sRGB"))
    assert seen.hexes() == ["#ffffff", "#000000"]
    assert seen.limited.tolist() == [True, True]


def test_the_rounding_of_sums_is_no_limit() -> None:
    seen = shown(np.array([1.0 + 5e-10, -5e-10, 0.5]), display_named("sRGB"))
    assert not seen.limited
    assert seen.values[:2] == pytest.approx([1.0, 0.0], abs=1e-9)


def test_code_values_of_middle_grey() -> None:
    """sRGB by IEC 61966-2-1: 118; BT.1886: a power of 1/2.4, 125."""
    grey = np.full(3, 0.18)
    codes = {name: shown(grey, display_named(name)).hexes()[0] for name in DISPLAYS}
    assert codes == {"sRGB": "#767676", "Rec. 709": "#7d7d7d", "Display P3": "#767676"}
    assert srgb_curve(np.array([0.0, 0.0031308, 1.0])) == pytest.approx(
        [0.0, 0.04045, 1.0], abs=1e-5
    )
    assert bt1886_curve(np.array([0.0, 1.0])).tolist() == [0.0, 1.0]


def test_light_of_code_values_is_the_way_back() -> None:
    codes = np.linspace(0.0, 1.0, 256)
    assert srgb_curve(srgb_light(codes)) == pytest.approx(codes, abs=1e-6)
    assert srgb_light(np.array([0x76 / 255])) == pytest.approx([0.1812], abs=1e-4)


@pytest.mark.parametrize("name", DISPLAYS)
def test_white_and_luminance(name: str) -> None:
    display = display_named(name)
    assert display.from_xyz @ display.white == pytest.approx(np.ones(3), abs=1e-12)
    assert display.luminance.sum() == pytest.approx(1.0, abs=1e-12)
    assert display_named(name.upper()) is display


def test_hexes_go_through_the_colours_in_order() -> None:
    linear = np.array([[[0.0, 0.0, 0.0], [1.0, 1.0, 1.0]], [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]])
    assert shown(linear, display_named("sRGB")).hexes() == [
        *("#000000", "#ffffff", "#ff0000", "#0000ff"),
    ]


def test_an_unknown_display_lists_the_known_ones() -> None:
    with pytest.raises(EvencastError) as raised:
        display_named("Rec. 2020")
    assert all(name in raised.value.remedy for name in DISPLAYS)
