from __future__ import annotations

import math

import numpy as np
import pytest

from evencast.colour import DUV_LIMIT, cct_duv, mired_duv, uv, white, white_uv, xyz
from evencast.lights import builtin
from evencast.lights.mixing import mix, pull, pull_of
from evencast.quantities import Floats
from evencast.spectra import GRID_NM


def of_luminance(power: Floats, luminous: float) -> Floats:
    """Tristimulus values by hand: each brought to luminance 1 first."""
    tristimulus = xyz(power)
    result: Floats = luminous * tristimulus / tristimulus[1]
    return result


def mired_of(tristimulus: Floats) -> float:
    """By McCamy (1992), which is good to 2 K or so between 2850 and 6500 K: other arithmetic."""
    x, y = tristimulus[0] / tristimulus.sum(), tristimulus[1] / tristimulus.sum()
    n = (x - 0.3320) / (0.1858 - y)
    return float(1e6 / (449.0 * n**3 + 3525.0 * n**2 + 6823.3 * n + 5520.33))


PRACTICAL = [(0, 87), (2, 32), (3, 17), (4, 9)]
"""Mired by which a 2700 K practical, so many stops under, moves a face lit at 5500 K. Computed
before, from CIE tables with another library; they hold for a filament of 2700 K (Planck) on CIE
daylight of 5500 K. Planck on Planck gives 88, 33, 18, 9; CIE LED-B1 on daylight 85, 31, 17, 9."""


@pytest.mark.parametrize(("stops", "mired"), PRACTICAL)
def test_a_warm_practical_on_a_daylight_face(stops: int, mired: int) -> None:
    """As far as the numbers were printed, half a mired."""
    by_mired, by_duv = pull_of(
        white(2700.0)[None], np.array([2.0**-stops]), beside_uv=white_uv(5500.0)
    )
    assert by_mired[0] == pytest.approx(mired, abs=0.5)
    assert by_duv[0] < -0.001  # the straight line between both runs on the magenta side


@pytest.mark.parametrize("stops", [0, 1, 2, 3, 4])
def test_a_pull_is_that_of_added_tristimulus_values(stops: int) -> None:
    """X, Y, Z added by hand and read by McCamy's formula, within 1 mired."""
    face, lamp = of_luminance(white(5500.0), 1.0), of_luminance(white(2700.0), 2.0**-stops)
    by_mired, _ = pull(lamp, face)
    assert float(by_mired) == pytest.approx(mired_of(face + lamp) - mired_of(face), abs=1.0)


def test_four_under_the_key_is_two_under_the_fill() -> None:
    """At 4:1 (key : fill) a stray 4 stops under the key is harmless on the key side and pulls
    the shadow by what 2 stops under pull."""
    stray, daylight = white(2700.0)[None], white_uv(5500.0)
    key, fill = 1.0, 1 / 4
    by_mired, _ = pull_of(
        stray, np.array([[2.0**-4 / (key + fill)], [2.0**-4 / fill]]), beside_uv=daylight
    )
    assert by_mired[:, 0] == pytest.approx([7.2, 32.0], abs=0.1)


def test_a_mix_by_hand() -> None:
    """Three lights, their spectra brought to luminance 1 and added."""
    names, luminous = (
        ["tungsten 3200 K", "daylight D65", "cool white tube FL2"],
        [500.0, 120.0, 8.0],
    )
    powers = [builtin(name).power for name in names]
    by_hand = sum(
        amount * power / float(xyz(power)[1])
        for power, amount in zip(powers, luminous, strict=True)
    )
    mixed = mix([power[None] for power in powers], luminous)
    assert mixed.shape == (1, 81)
    np.testing.assert_allclose(mixed[0], by_hand, rtol=1e-13)
    assert float(xyz(mixed)[0, 1]) == pytest.approx(628.0, rel=1e-12)


def test_members_are_paired_and_a_known_light_goes_with_each() -> None:
    """Row m of a mix is the mix of row m of each; each member brings its own amount."""
    rng = np.random.default_rng(7)
    doubtful, known = rng.uniform(0.1, 1.0, (240, 81)), white(5600.0)[None]
    brings = rng.uniform(0.5, 2.0, 240)
    mixed = mix([doubtful, known], [brings, 3.0])
    for row in (0, 100, 239):
        one = mix([doubtful[row : row + 1], known], [float(brings[row]), 3.0])
        np.testing.assert_allclose(mixed[row], one[0], rtol=1e-13)


def test_nothing_and_darkness() -> None:
    """No light is a dark mix; a dark spectrum adds nothing, whatever it is said to bring."""
    assert not mix([], []).any()
    lit = white(4000.0)[None]
    np.testing.assert_allclose(mix([lit, np.zeros((1, 81))], [1.0, 5.0]), mix([lit], [1.0]))
    by_mired, by_duv = pull_of(np.zeros((1, 81)), np.array([1.0]), beside_uv=white_uv(4000.0))
    assert (float(by_mired[0]), float(by_duv[0])) == (0.0, 0.0)


def test_alone_a_light_pulls_nothing_that_could_be_told() -> None:
    """Where nothing else falls there is no mix without it."""
    by_mired, by_duv = pull(xyz(white(2700.0)), np.zeros(3))
    assert math.isnan(float(by_mired))
    assert math.isnan(float(by_duv))


def test_a_mix_without_a_colour_temperature() -> None:
    """A green line eight times as bright as daylight: the mix has none, so the pull is infinite."""
    line = np.where(GRID_NM == 530.0, 1.0, 0.0)[None]
    by_mired, by_duv = pull_of(line, np.array([8.0]), beside_uv=white_uv(5600.0))
    assert math.isinf(float(by_mired[0]))
    assert float(by_duv[0]) > DUV_LIMIT


def test_what_is_pulled_beside_a_colour_is_pulled_beside_its_spectrum() -> None:
    """The colour of all else tells enough: a spectrum of that colour gives the same."""
    daylight = builtin("daylight D65").power
    stray = builtin("cool white tube FL2").power
    expected_mired = mired_duv(uv(mix([daylight[None], stray[None]], [1.0, 0.3])))[0][0]
    expected_mired -= 1e6 / cct_duv(uv(daylight))[0]
    by_mired, _ = pull_of(stray[None], np.array([0.3]), beside_uv=uv(daylight))
    assert float(by_mired[0]) == pytest.approx(float(expected_mired), abs=1e-9)


def test_spots_and_spectra_broadcast() -> None:
    """Ratios of (spots, 1) and of (spots, n) against n spectra."""
    spectra = np.array([white(2700.0), white(4000.0), white(5600.0)])
    one_each, _ = pull_of(spectra, np.array([[0.1], [1.0]]), beside_uv=white_uv(5600.0))
    full, _ = pull_of(spectra, np.array([[0.1] * 3, [1.0] * 3]), beside_uv=white_uv(5600.0))
    assert one_each.shape == (2, 3)
    np.testing.assert_array_equal(one_each, full)
    assert one_each[:, 2] == pytest.approx([0.0, 0.0], abs=1e-9)
