"""Rendered charts against colour-science 0.4.7: its tristimulus sums, its chromatic adaptation
(CAT02, what its XYZ_to_sRGB takes by itself), its sRGB; and its camera path to ACES2065-1."""

from __future__ import annotations

import numpy as np
import pytest

from evencast import lights
from evencast.camera import patches
from evencast.camera.display import bt1886_curve, display_named
from evencast.camera.matrix import ACES_TO_XYZ, ACES_WHITE
from evencast.camera.rendering import linear, render
from evencast.camera.sensitivities import camera_named
from evencast.colour.adaptation import adapting
from evencast.colour.difference import ciede2000, lab
from evencast.quantities import Floats
from tests.oracle import colour

from builders.cameras import CAMERAS  # isort: skip - after the library

SHAPE = colour.SpectralShape(380, 780, 5)
CHART = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
D65 = np.array([0.3127, 0.3290])
FARTHEST = 0.1
"""CIEDE2000 that is allowed between both; the greatest found is 0.015."""


def library_chart(light: str, *, balance: str) -> Floats:
    """sRGB of the 24 patches under a light, adapted from the white of another. [(24, 3)]"""
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(SHAPE)
    powers = {name: colour.SDS_ILLUMINANTS[name].copy().align(SHAPE) for name in (light, balance)}
    white = colour.sd_to_XYZ(colour.sd_ones(SHAPE), cmfs, powers[balance], method="Integration")
    tristimulus = [
        colour.sd_to_XYZ(each, cmfs, powers[light], method="Integration") / 100.0
        for each in CHART.values()
    ]
    return np.asarray(
        colour.XYZ_to_sRGB(np.array(tristimulus), illuminant=colour.XYZ_to_xy(white)), dtype=float
    )


def differences(first: Floats, second: Floats) -> Floats:
    """CIEDE2000 of two lists of sRGB colours. [(n,)]"""
    white = display_named("sRGB").white
    one, two = (
        lab(np.asarray(colour.sRGB_to_XYZ(each), dtype=float), white=white)
        for each in (first, second)
    )
    return ciede2000(one, two)


@pytest.mark.parametrize(
    ("light", "balance", "outside"),
    [("D65", "D65", 1), ("A", "A", 1), ("A", "D65", 6), ("FL2", "D65", 5), ("D65", "A", 11)],
)
def test_the_chart_as_the_eye_sees_it(light: str, balance: str, outside: int) -> None:
    """Every patch inside the gamut within 0.1; those outside are the same by both. Under its own
    white that is cyan alone; a light far from the balance drives more of them out.

    The library scales a light to Y = 1 as the meter does here, so an exposure that makes good
    every light compares also where light and balance differ.
    """
    powers = {name: lights.builtin(name).power for name in (light, balance)}
    rendered = render(
        powers[light],
        patches.reflectances()[3:],
        balance_power=powers[balance],
        camera=camera_named("eye"),
    )
    theirs = library_chart(light, balance=balance)
    beyond = ((theirs < -1e-3) | (theirs > 1.001)).any(axis=1)
    assert beyond.tolist() == rendered.limited.tolist()
    assert rendered.limited.sum() == outside
    apart = differences(rendered.values, theirs)[~rendered.limited]
    print(f"{light} balanced to {balance}: {apart.max():.4f} of CIEDE2000 at most")
    assert apart.size >= 13
    assert apart.max() <= FARTHEST


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [("sRGB", "sRGB"), ("Rec. 709", "ITU-R BT.709"), ("Display P3", "Display P3")],
)
def test_displays(ours: str, theirs: str) -> None:
    """Primaries and curves; Rec. 709 is shown by BT.1886, not by the curve of its cameras."""
    display, space = display_named(ours), colour.RGB_COLOURSPACES[theirs]
    assert display.from_xyz == pytest.approx(np.linalg.inv(space.matrix_RGB_to_XYZ), abs=5e-4)
    steps = np.linspace(0.0, 1.0, 1001)
    if ours == "Rec. 709":
        wanted = colour.models.eotf_inverse_BT1886(steps, L_B=0.0, L_W=1.0)
    else:
        wanted = colour.models.eotf_inverse_sRGB(steps)
    assert display.encode(steps) == pytest.approx(wanted, abs=1e-9)
    assert bt1886_curve(np.array([0.18]))[0] == pytest.approx(0.4894, abs=1e-4)


def test_adaptation() -> None:
    """The matrix itself, between the whites of A, D50, D65 and of ACES."""
    for start, end in (("A", "D65"), ("D50", "A"), ("D65", "D50")):
        spaces = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
        first, last = (
            np.asarray(colour.xy_to_XYZ(spaces[each]), dtype=float) for each in (start, end)
        )
        theirs = colour.adaptation.matrix_chromatic_adaptation_VonKries(first, last, "CAT02")
        ours = adapting(from_white=first, to_white=last)
        assert ours == pytest.approx(theirs, abs=1e-9)


def test_the_chart_as_camera_a_sees_it_under_d65() -> None:
    """The library's own path: raw, white balance, its matrix for this camera and white, to XYZ,
    to sRGB. Its matrix is fitted at another scale of the light (tests/published/test_camera.py),
    so the training light is scaled to give raw of 1 for white first, with a like training set of
    sensitivities whose peaks put the brightest channel first."""
    camera, display = camera_named("camera A"), display_named("sRGB")
    power = lights.builtin("D65").power
    ours = linear(
        power,
        patches.reflectances()[3:],
        balance_power=power,
        camera=camera,
        display=display,
    )
    measured = colour.MSDS_CAMERA_SENSITIVITIES[CAMERAS["camera_a"][0]].copy()
    green_first = measured.values * np.array([0.5, 1.0, 0.5])  # the peak that it scales by
    scaled = colour.characterisation.RGB_CameraSensitivities(
        green_first, measured.wavelengths, labels=("red", "green", "blue")
    )
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(SHAPE)
    matrix, multipliers = colour.matrix_idt(scaled, light)[:2]
    raw = np.array(
        [(each.values * light.values) @ green_first for each in CHART.values()], dtype=float
    )
    balanced = raw * multipliers / (multipliers * (light.values @ green_first)).max()
    tristimulus = balanced @ np.asarray(matrix).T @ ACES_TO_XYZ.T
    adapted = tristimulus @ adapting(from_white=ACES_WHITE, to_white=display.white).T
    theirs = np.asarray(colour.XYZ_to_sRGB(adapted, apply_cctf_encoding=False), dtype=float)
    assert ours == pytest.approx(theirs, abs=2e-3)
