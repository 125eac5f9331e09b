"""Printed x, y and percentage: how well the spectrum found predicts the sheet on other lamps.

True sheets of random dyes, and of fixed dyes with a 20 % wobble, are printed under A, or under
A and D65, rounded; the spectrum found is compared with the true one on ten other lamps.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from evencast.colour import cie_1931_2deg, low_middle_high, spread_of_power, xy_of_xyz
from evencast.filters.printed import PrintedColour, illuminant_power
from evencast.filters.xyy import PrintedSheet, from_xyy
from evencast.lights import light_of
from evencast.quantities import Floats
from tests.sheets import GRADES, Sheet, sheets

LAMPS = {
    "Planckian and daylight": ("2800K", "D50"),
    "LED": ("LED-B1", "LED-B3", "LED-B5", "LED-V1"),
    "fluorescent": ("FL2", "FL4", "FL11"),
    "high-pressure": ("HP3",),
}
FAMILIES = ("dyes", "wobble")
ELEVEN = tuple(
    grade
    for grade in GRADES
    if grade.name.startswith(("full", "half", "quarter C", "tube green")) and grade.from_k != 26000
)
FEW, MANY = 2, 6
SEED = 66


@dataclass(frozen=True)
class Print:
    """How numbers are printed: under which illuminants, and half their last digit."""

    illuminants: tuple[str, ...]
    rounding_xy: float = 5e-5
    rounding_percent: float = 0.05


A_AND_D65 = Print(("A", "D65"))
A_ALONE = Print(("A",))
COARSE = Print(("A", "D65"), 5e-4, 0.5)


def printed_of(sheet: Sheet, how: Print) -> list[PrintedColour]:
    """The true numbers, rounded."""
    found = []
    for illuminant in how.illuminants:
        power = illuminant_power(illuminant)
        xyz = (power * sheet.transmittance) @ cie_1931_2deg().cmf_grid
        percent = 100.0 * xyz[1] / (power @ cie_1931_2deg().cmf_grid[:, 1])
        x, y = (round_to(float(each), 2 * how.rounding_xy) for each in xy_of_xyz(xyz))
        found.append(
            PrintedColour(
                illuminant,
                x,
                y,
                round_to(float(percent), 2 * how.rounding_percent),
                how.rounding_xy,
                how.rounding_percent,
            )
        )
    return found


def round_to(value: float, step: float) -> float:
    return round(value / step) * step


@dataclass(frozen=True, eq=False)
class Cell:
    """One sheet on one lamp: errors of the nominal spectrum, whether the band holds the truth."""

    lamps: str
    errors: tuple[float, float, float]
    inside: tuple[bool, bool, bool]
    half_widths: tuple[float, float, float]


@cache
def found_of(truth: Sheet, how: Print) -> PrintedSheet:
    key = f"{truth.grade.name} {truth.family} {truth.transmittance[40]}"
    return from_xyy(printed_of(truth, how), key=key, where="xyy")


def cells(truths: list[Sheet], how: Print) -> Iterator[Cell]:
    """Every true sheet on ten lamps; those without a CCT left out, as mired has no meaning."""
    for truth in truths:
        found = found_of(truth, how)
        for lamps, names in LAMPS.items():
            for name in names:
                cell = cell_of(truth, found, lamps, light_of(name).power)
                if cell is not None:
                    yield cell


def cell_of(truth: Sheet, found: PrintedSheet, lamps: str, power: Floats) -> Cell | None:
    true, said, may = (
        quantities(power, each)
        for each in (truth.transmittance[None], found.transmittance[None], found.possible)
    )
    low, _, high = low_middle_high(may)
    if not np.isfinite([true[0, 0], low[0], high[0]]).all():
        return None
    return Cell(
        lamps,
        tuple(np.abs(said - true)[:, 0]),
        tuple(((low <= true[:, 0]) & (true[:, 0] <= high)).tolist()),
        tuple((high - low) / 2.0),
    )


def quantities(power: Floats, through: Floats) -> Floats:
    """Mired, Duv and loss in stops of a light through sheets. [(n, 81) to (3, n)]"""
    bare, spread = spread_of_power(power), spread_of_power(power * through)
    return np.stack([spread.mired, spread.duv, -np.log2(spread.luminous / bare.luminous)])


@pytest.fixture(scope="module", params=[FEW, pytest.param(MANY, marks=pytest.mark.long)])
def truths(request: pytest.FixtureRequest) -> list[Sheet]:
    found = sheets(each=request.param, seed=SEED, families=FAMILIES, grades=ELEVEN)
    assert len(ELEVEN) == 11
    assert len(found) >= 21 * request.param
    return found


@pytest.mark.parametrize(
    ("how", "median_mired", "most_mired", "most_duv", "most_stops"),
    [
        pytest.param(A_AND_D65, 1.0, 4.0, 0.001, 0.02, id="A and D65, four decimals"),
        pytest.param(COARSE, 1.5, 6.0, 0.0015, 0.03, id="A and D65, three decimals"),
        pytest.param(A_ALONE, 3.0, 10.0, 0.0045, 0.045, id="A alone, four decimals"),
    ],
)
def test_the_smoothest_spectrum_predicts_other_lamps(
    truths: list[Sheet],
    how: Print,
    median_mired: float,
    most_mired: float,
    most_duv: float,
    most_stops: float,
) -> None:
    """Median error in mired; nine in ten of the errors in mired, Duv and stops."""
    errors = np.array([each.errors for each in cells(truths, how)])
    nine_in_ten = np.quantile(errors, 0.9, axis=0)
    median = np.quantile(errors, 0.5, axis=0)
    print(f"median {median}, nine in ten {nine_in_ten}, worst {errors.max(axis=0)}")
    assert median[0] <= median_mired
    assert nine_in_ten[0] <= most_mired
    assert nine_in_ten[1] <= most_duv
    assert nine_in_ten[2] <= most_stops


@pytest.mark.parametrize("how", [A_AND_D65, A_ALONE], ids=["A and D65", "A alone"])
def test_the_band_holds_the_truth_about_nine_times_in_ten(truths: list[Sheet], how: Print) -> None:
    """88 to 99 % pooled, each class of lamp 80 % at least: mired, Duv and stops."""
    found = list(cells(truths, how))
    inside = np.array([each.inside for each in found])
    half = np.median([each.half_widths for each in found], axis=0)
    print(f"inside {inside.mean(axis=0)}, median half-width {half}")
    assert (inside.mean(axis=0) >= 0.88).all()
    assert (inside.mean(axis=0) <= 0.99).all()
    for lamps in LAMPS:
        own = np.array([each.inside for each in found if each.lamps == lamps])
        print(f"{lamps}: inside {own.mean(axis=0)}")
        assert (own.mean(axis=0) >= 0.80).all(), f"{lamps} {own.mean(axis=0)}"


def test_every_member_has_the_printed_numbers(truths: list[Sheet]) -> None:
    """Each within a twentieth more than its rounding, and so has the nominal spectrum."""
    for truth in truths[::3]:
        for how in (A_AND_D65, A_ALONE, COARSE):
            found = found_of(truth, how)
            assert np.abs(found.printed.miss(found.transmittance)).max() <= 1.0
            assert np.abs(found.printed.miss(found.possible)).max() <= 1.05


def test_the_order_of_illuminants_does_not_matter(truths: list[Sheet]) -> None:
    colours = printed_of(truths[0], A_AND_D65)
    one, other = (from_xyy(each, key="k", where="xyy") for each in (colours, colours[::-1]))
    np.testing.assert_array_equal(one.transmittance, other.transmittance)
    np.testing.assert_array_equal(one.possible, other.possible)
