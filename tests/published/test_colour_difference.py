"""Colour differences: the pairs of Sharma, Wu and Dalal (2005), CIE 1976 u', v' and steps in it."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from evencast.colour import cie_1931_2deg, uv_of_mired_duv, uv_of_xy, uv_of_xyz
from evencast.colour.difference import STEP_UPVP, ciede2000, lab, steps, upvp_distance, upvp_of_uv
from evencast.quantities import Floats
from evencast.spectra import planckian
from tests.oracle import colour
from tests.published import rows

ROWS = rows.read("colour_difference")

LEFT_OUT = {
    f"macadam-{cct_k}": "MacAdam's ellipses, interpolated by another library: a check of how "
    "plausible 0.0011 is, which evencast has no counterpart of; it is used below for that"
    for cct_k in (2700, 3200, 4000, 5000, 6500)
}


def upvp_of_xy(x: float, y: float) -> Floats:
    return upvp_of_uv(uv_of_xy(np.array([x, y])))


def upvp_of_kelvin(temperature_k: float) -> Floats:
    """Of a blackbody, 360-830 nm at 1 nm. [(2,)]"""
    observer = cie_1931_2deg()
    power = planckian(temperature_k, observer.wavelengths_nm)
    return upvp_of_uv(uv_of_xyz(power @ observer.cmf))


def pair_row(row: rows.Row) -> float:
    numbers = [float(each) for each in re.findall(r"-?\d+(?:\.\d+)?", row.input)]
    first, second = np.array(numbers[:3]), np.array(numbers[3:])
    assert ciede2000(first, second) == pytest.approx(ciede2000(second, first), abs=1e-12)
    return float(ciede2000(first, second))


def upvp_row(row: rows.Row) -> float:
    x, y = (float(each) for each in re.findall(r"\d\.\d+", row.input))
    if row.id.startswith("upvp-E-"):  # printed as 0.33333
        x = y = 1.0 / 3.0
    return float(upvp_of_xy(x, y)["uv".index(row.id[-1])])


def circle_row(row: rows.Row) -> float:
    """The distance that is just n steps, from the count of steps of a known distance."""
    return round(float(row.numbers()[0] / steps(1.0)), 12)


def distance_row(row: rows.Row) -> float:
    if row.id == "dupvp-D50-D65":
        return float(upvp_distance(upvp_of_xy(0.34567, 0.35851), upvp_of_xy(0.31272, 0.32903)))
    warm, cool = row.id.split("-")[1:]
    return float(upvp_distance(upvp_of_kelvin(float(warm)), upvp_of_kelvin(float(cool))))


def vertical_row(row: rows.Row) -> float:
    here = np.array([0.21, 0.32])
    above = here + np.array([0.0, float(re.findall(r"0\.\d+", row.quantity)[0])])
    return float(upvp_distance(upvp_of_uv(here), upvp_of_uv(above)))


COMPARED: dict[str, Callable[[rows.Row], float]] = {
    "de00": pair_row,
    "upvp": upvp_row,
    "sdcm": circle_row,
    "dupvp": distance_row,
    "duv": vertical_row,
}
OWN = {name: row for name, row in ROWS.items() if name not in LEFT_OUT}


@pytest.mark.parametrize("row", OWN.values(), ids=OWN)
def test_row(row: rows.Row) -> None:
    row.holds(COMPARED[row.id.partition("-")[0]](row))


def test_every_row_is_accounted_for() -> None:
    """37 rows are evencast's own results; 5 are left out, each with its reason."""
    assert set(LEFT_OUT) < set(ROWS)
    assert (len(OWN), len(LEFT_OUT)) == (37, 5)


def test_a_step_is_about_a_just_seen_difference() -> None:
    """The ellipses' mean radii lie from 0.96 to 1.25 steps."""
    radii = [ROWS[name].expected / STEP_UPVP for name in LEFT_OUT]
    assert 0.95 < min(radii) < max(radii) < 1.3


def test_a_duv_offset_is_between_1_and_1_5_times_as_long_in_upvp() -> None:
    """Along the isotherm of 3200 K: neither along u nor along v."""
    here, above = uv_of_mired_duv(np.array([312.5, 312.5]), np.array([0.0, 0.003]))
    assert 1.0 < float(upvp_distance(upvp_of_uv(here), upvp_of_uv(above))) / 0.003 < 1.5


def test_against_colour_science_on_200_000_pairs() -> None:
    """Every colour of the space, and pairs near each other."""
    draws = np.random.default_rng(5)
    first = draws.uniform((0.0, -128.0, -128.0), (100.0, 128.0, 128.0), (200_000, 3))
    second = draws.uniform((0.0, -128.0, -128.0), (100.0, 128.0, 128.0), (200_000, 3))
    second[:50_000] = first[:50_000] + draws.normal(0.0, 2.0, (50_000, 3))
    theirs = colour.delta_E(first, second, method="CIE 2000")
    assert ciede2000(first, second) == pytest.approx(theirs, abs=1e-9)


def test_lab_against_colour_science() -> None:
    white = np.array([0.95, 1.0, 1.09])
    tristimulus = np.random.default_rng(6).uniform(0.0, 1.0, (1000, 3)) ** 3
    theirs = colour.XYZ_to_Lab(tristimulus, colour.XYZ_to_xy(white))
    assert lab(tristimulus, white=white) == pytest.approx(theirs, abs=1e-9)


def test_equal_colours_and_greys() -> None:
    """No nan at a grey, which has no hue; L* alone counts between greys of one lightness each."""
    greys = np.array([[0.0, 0.0, 0.0], [50.0, 0.0, 0.0], [100.0, 0.0, 0.0]])
    assert ciede2000(greys, greys).tolist() == [0.0, 0.0, 0.0]
    assert ciede2000(greys[:1], greys[2:])[0] == pytest.approx(100.0, abs=1e-9)
