"""Printed x, y and percentage: what is refused, and what comes of plain sheets."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cie_1931_2deg, xy_of_xyz
from evencast.errors import EvencastError
from evencast.filters.printed import PrintedColour, illuminant_power
from evencast.filters.xyy import from_xyy, with_another
from evencast.spectra import MEMBERS

CHECK = "Check x, y, Y_percent and the illuminant, "


def under(illuminant: str, x: float, y: float, percent: float) -> PrintedColour:
    return PrintedColour(illuminant, x, y, percent, 5e-5, 0.05)


def bare(illuminant: str, percent: float) -> PrintedColour:
    """A grey sheet: the illuminant's own chromaticity, to four decimals."""
    xyz = illuminant_power(illuminant) @ cie_1931_2deg().cmf_grid
    x, y = (round(float(each), 4) for each in xy_of_xyz(xyz))
    return under(illuminant, x, y, percent)


@pytest.mark.parametrize(
    ("colours", "told"),
    [
        (
            [under("A", 0.342, 0.344, 30.0), under("A", 0.342, 0.344, 30.0)],
            "the numbers under A are given twice\nKeep one entry for each illuminant.",
        ),
        (
            [under("A", 0.1, 0.1, 0.2)],
            "no sheet has the colour x 0.1, y 0.1 under A\n"
            + CHECK
            + "and that x, y and not u, v were copied.",
        ),
        (
            [under("A", 0.342, 0.344, 60.0)],
            "60 percent is more than any sheet of x 0.342, y 0.344 under A passes: the clearest "
            "passes 35.71, 485.71 times its rounding less\n"
            + CHECK
            + "or give a measured spectrum.",
        ),
        (
            [under("A", 0.342, 0.344, 35.0), under("D65", 0.27, 0.28, 35.0)],
            "the numbers under A and D65 contradict each other: no sheet comes nearer to all of "
            "them than 257.69 times their rounding. By the others, those under D65 would be "
            "about x 0.2168, y 0.2275, 40.5 percent\n"
            "Check the digits and the illuminants, leave one illuminant out, or give rounding_xy "
            "and rounding_Y_percent where the numbers are less sure than their digits.",
        ),
    ],
    ids=["twice", "no colour", "too bright", "contradiction"],
)
def test_numbers_that_no_sheet_has_are_refused(colours: list[PrintedColour], told: str) -> None:
    """With what contradicts what, and by how many roundings."""
    with pytest.raises(EvencastError) as raised:
        from_xyy(colours, key="sheet", where="kit.xyy")
    assert str(raised.value) == f"kit.xyy: {told}"


@pytest.mark.parametrize("percent", [92.0, 50.0, 6.3])
def test_a_grey_sheet_comes_back_flat(percent: float) -> None:
    """Clear film, and two greys, under A and D65: within a fiftieth of its density."""
    sheet = from_xyy([bare("A", percent), bare("D65", percent)], key="grey", where="xyy")
    density = -np.log10(sheet.transmittance)
    wanted = -np.log10(percent / 100.0)
    np.testing.assert_allclose(density, wanted, atol=0.02 * wanted + 0.002)
    assert sheet.possible.shape == (MEMBERS, 81)


def test_another_illuminant_narrows_what_is_left_over() -> None:
    """Losses at 620 nm among what may be: under A alone, and with D65 as foretold."""
    sheet = from_xyy([under("A", 0.36, 0.37, 28.0)], key="blue", where="xyy")
    fewer = with_another(sheet, "D65", key="blue")
    spread = [np.std(np.log2(each[:, 48])) for each in (sheet.possible, fewer)]
    assert spread[1] < spread[0]
