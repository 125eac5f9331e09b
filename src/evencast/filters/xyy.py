"""From printed x, y and percentage to a spectrum, and to others that have them too."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast.cores import one_core_products
from evencast.errors import EvencastError
from evencast.filters.contradiction import contradiction
from evencast.filters.lookalikes import lookalikes
from evencast.filters.printed import Printed, PrintedColour, printed
from evencast.filters.smoothest import smoothest
from evencast.quantities import Floats

_FORETOLD = 80
"""Spectra that are enough to say how wide a band would be."""


@dataclass(frozen=True, slots=True, eq=False)
class PrintedSheet:
    """What printed numbers tell of a sheet.

    printed       : the numbers
    transmittance : (81,) the smoothest spectrum
    possible      : (MEMBERS, 81) others that have the numbers within their rounding
    strain        : (3k,) by how many roundings a plausibly smooth sheet misses each number;
                    beyond STRAIN_LIMIT one of them is probably a slip
    """

    printed: Printed
    transmittance: Floats
    possible: Floats
    strain: Floats


def from_xyy(colours: Sequence[PrintedColour], *, key: str, where: str) -> PrintedSheet:
    """The smoothest spectrum with the printed numbers, and others that have them too.

    colours : one for each illuminant, in any order
    key     : name of the random draws; the same name gives the same spectra
    Raises  EvencastError where an illuminant is given twice, where no sheet has the numbers
            under one illuminant, or where those under two contradict each other
    Error   every printed number within its rounding; on other lamps docs/accuracy.md#xyy
    """
    names = [each.illuminant for each in colours]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise EvencastError(
            f"the numbers under {twice} are given twice",
            where=where,
            remedy="Keep one entry for each illuminant.",
        )
    numbers = printed(colours)
    with one_core_products():
        fit = smoothest(numbers)
        if not fit.reached:
            raise contradiction(numbers, where=where)
        possible = lookalikes(numbers, fit.density, key=key)
    return PrintedSheet(numbers, 10.0**-fit.density, possible, fit.strain)


def with_another(sheet: PrintedSheet, illuminant: str, *, key: str) -> Floats:
    """Some spectra left over if the sheet were printed under one more illuminant. [(n, 81)]

    Its numbers there are taken to be those of the smoothest spectrum, printed with as many
    digits as under its first illuminant.
    """
    first = sheet.printed.colours[0]
    bare = PrintedColour(
        illuminant, 1 / 3, 1 / 3, 100.0, first.rounding_xy, first.rounding_Y_percent
    )
    x, y, Y = printed([bare]).numbers(sheet.transmittance)
    more = PrintedColour(illuminant, x, y, 100.0 * Y, first.rounding_xy, first.rounding_Y_percent)
    numbers = printed([*sheet.printed.colours, more])
    density = -np.log10(sheet.transmittance)
    with one_core_products():
        return lookalikes(numbers, density, key=key, members=_FORETOLD)
