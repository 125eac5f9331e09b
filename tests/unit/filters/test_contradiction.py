"""Why no sheet has printed numbers: edges, pairs and all together, and the limits behind it."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import uv_of_xy
from evencast.errors import EvencastError
from evencast.filters.contradiction import contradiction
from evencast.filters.declared import least_loss_stops
from evencast.filters.printed import PrintedColour, illuminant_power, printed
from evencast.filters.smoothest import smoothest
from evencast.filters.xyy import from_xyy

ALONE = PrintedColour("A", 0.3454, 0.3485, 16.5, 5e-5, 0.05)
DAYLIGHT = PrintedColour("D65", 0.2220, 0.2252, 18.6, 5e-5, 0.05)
EDGES = "Check the digits and the illuminants, or give a measured spectrum."


def half_way(percent: float) -> PrintedColour:
    """D50, between the two others; 18.1 is the sheet's own."""
    return PrintedColour("D50", 0.2457, 0.2602, percent, 5e-5, 0.05)


def error_of(*colours: PrintedColour) -> EvencastError:
    with pytest.raises(EvencastError) as raised:
        from_xyy(colours, key="sheet", where="xyy")
    return raised.value


def worst_of(*colours: PrintedColour) -> str:
    """What a smooth sheet misses most, and by how many roundings."""
    numbers = printed(colours)
    miss = np.abs(smoothest(numbers).miss)
    assert miss.max() > 1.0
    return f"{numbers.name(int(miss.argmax()))} by {miss.max():.2f}"


def test_the_sheet_itself_has_its_numbers() -> None:
    """The three that are spoilt below go together."""
    assert (
        np.abs(from_xyy([ALONE, DAYLIGHT, half_way(18.1)], key="k", where="xyy").strain).max() < 1
    )


def test_a_red_with_a_knife_edge_is_no_dye() -> None:
    """18 percent of A at x 0.7, y 0.298: the clearest sheet passes 18.26, cut off at one place."""
    red = PrintedColour("A", 0.7, 0.298, 18.0, 5e-5, 0.05)
    error = error_of(red)
    assert error.what == (
        "only a sheet with sharper edges than any dye has could have the numbers x 0.7, y 0.298 "
        f"under A, 18 percent: a smooth one misses {worst_of(red)} times its rounding"
    )
    assert error.remedy == EDGES


def test_the_pair_that_does_not_go_together_is_named() -> None:
    """D50 beside A and D65: with each of them nearer than the third, and one too many for both."""
    error = error_of(ALONE, DAYLIGHT, half_way(18.5))
    assert error.what == (
        "the numbers under D50 and D65 contradict each other: no sheet comes nearer to all of "
        "them than 1.70 times their rounding. By the others, those under D65 would be about "
        "x 0.2227, y 0.2246, 19.1 percent"
    )


def test_three_may_contradict_each_other_where_no_two_do() -> None:
    """D50 a fifth of a percent too bright: possible beside A, and beside D65, not beside both."""
    three = (ALONE, half_way(18.3), DAYLIGHT)
    for two in (three[:2], three[1:], three[::2]):
        assert smoothest(printed(two)).reached
    error = error_of(*three)
    assert error.what == (
        "only a sheet with sharper edges than any dye has could have the numbers under A, D50 "
        f"and D65: a smooth one misses {worst_of(*three)} times its rounding"
    )
    assert error.remedy == EDGES


@pytest.mark.parametrize(("x", "y"), [(0.342, 0.344), (0.2, 0.2), (0.5, 0.44), (0.45, 0.35)])
def test_the_limit_told_is_that_of_optimal_colours(x: float, y: float) -> None:
    """Another linear programme, on u and v, finds the same: a twentieth of a percent above its
    limit is refused with that limit, the limit itself is not above it."""
    limit = 100.0 * 2.0 ** -least_loss_stops(illuminant_power("A"), uv_of_xy(np.array([x, y])))
    error = error_of(PrintedColour("A", x, y, limit + 0.05, 1e-6, 0.01))
    told = float(error.what.split("clearest passes ")[1].split(",")[0])
    assert told == pytest.approx(limit, abs=0.011)
    at_limit = printed([PrintedColour("A", x, y, limit, 1e-6, 0.01)])
    if not smoothest(at_limit).reached:
        assert contradiction(at_limit, where="xyy").what.startswith("only a sheet with sharper")
