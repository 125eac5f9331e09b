"""Ra and R9 of the CIE lamps as CIE 15:2004 prints them (T.8, T.8.2, T.9); Ra, R9, Rf, Rg and
SSI of the same lamps as two independent libraries and a separate script compute them.

Every row is compared. Two do not hold and stand in `DIFFERS` with their numbers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from evencast import tables
from evencast.colour.fidelity import cri, ssi, ssi_reference, ssi_samples, tm30
from evencast.quantities import Floats
from evencast.spectra import on_grid
from tests.oracle import colour
from tests.published import rows

ROWS = rows.read("colour_rendering")
FAMILIES = ("a_d", "fl", "fl3", "hp", "led")


@dataclass(frozen=True, slots=True)
class Differs:
    """A row that is not met, and what comes out instead."""

    here: float
    reason: str


DIFFERS = {
    "cri-FL3.2-R9-pub": Differs(
        -38.05, "printed -37, two libraries give -37.8 and -37.9; 0.05 beyond the row's tolerance"
    ),
    "cri-HP1-Ra": Differs(
        8.07,
        "the row's 8.50 comes from interpolating the lamp linearly to 1 nm before the sum, which "
        "misses the published x, y; CIE prints 8, and cri-HP1-Ra-pub is met",
    ),
}


@cache
def samples(name: str) -> tuple[Floats, Floats]:
    """Wavelengths and power of an illuminant as it is packaged; C is not, and is the library's."""
    for family in FAMILIES:
        table = tables.read(f"cie_illuminants_{family}")
        if name in table.columns:
            return table.column("wavelength_nm"), table.column(name)
    spectrum = colour.SDS_ILLUMINANTS[name]
    return spectrum.wavelengths, spectrum.values


@cache
def indices(name: str) -> dict[str, float]:
    """Ra, R9, Rf and Rg of an illuminant."""
    power = on_grid(*samples(name))
    (ra, special), (rf, rg, _) = cri(power), tm30(power)
    return {"Ra": float(ra), "R9": float(special[8]), "Rf": float(rf), "Rg": float(rg)}


def similarity(test: str, reference: str) -> float:
    """SSI of one illuminant against another, or against a blackbody such as P3200."""
    if reference.startswith("P"):
        wanted = ssi_reference(np.array(float(reference[1:])))
    else:
        wanted = ssi_samples(*samples(reference))
    return float(ssi(ssi_samples(*samples(test)), wanted))


def value(row: rows.Row) -> float:
    versus = re.fullmatch(r"ssi-(.+)-vs-(.+)", row.id)
    if versus is not None:
        return similarity(versus[1], versus[2])
    named = re.fullmatch(r"(?:cri|tm30)-(.+)-(Ra|R9|Rf|Rg)(?:-pub)?", row.id)
    assert named is not None, row.id
    return indices(named[1])[named[2]]


@pytest.mark.parametrize("row", [ROWS[each] for each in ROWS if each not in DIFFERS], ids=str)
def test_row(row: rows.Row) -> None:
    row.holds(value(row))


@pytest.mark.parametrize("name", DIFFERS)
def test_a_row_that_differs_does_so_as_told(name: str) -> None:
    row, told = ROWS[name], DIFFERS[name]
    assert value(row) == pytest.approx(told.here, abs=0.005)
    assert abs(told.here - row.expected) > row.tolerance


def test_printed_values_are_met_better_than_by_the_interpolated_sum() -> None:
    """CIE prints whole numbers. The library, which interpolates to 1 nm first, rounds to 20 of
    the 41; the sum at 5 nm to 25. What remains are prints that no way of computing meets."""
    printed = [row for row in ROWS.values() if row.id.endswith("-pub")]
    assert len(printed) == 41
    assert sum(round(value(row)) == row.expected for row in printed) == 25


def test_the_table_is_whole() -> None:
    """Four computed values of 35 lamps, 41 printed ones, 47 similarities."""
    assert len(ROWS) == 4 * 35 + 41 + 47
