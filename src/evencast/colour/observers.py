"""The CIE standard observers, on their own 1 nm grid and on the summing grid."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evencast import tables
from evencast.quantities import Floats
from evencast.spectra import GRID_NM


@dataclass(frozen=True, slots=True, eq=False)
class Observer:
    """Colour-matching functions of a standard observer.

    wavelengths_nm : (471,) 360-830 nm at 1 nm
    cmf            : (471, 3) x-bar, y-bar, z-bar there
    cmf_grid       : (81, 3) the same at the grid's wavelengths, 380-780 nm at 5 nm
    """

    wavelengths_nm: Floats
    cmf: Floats
    cmf_grid: Floats


@cache
def cie_1931_2deg() -> Observer:
    """The 2 degree observer of 1931: every colour in evencast is this one's."""
    return _observer("cie_1931_2deg")


@cache
def cie_1964_10deg() -> Observer:
    """The 10 degree observer of 1964."""
    return _observer("cie_1964_10deg")


def _observer(table_name: str) -> Observer:
    table = tables.read(table_name)
    wavelengths_nm, cmf = table.values[:, 0], table.values[:, 1:]
    rows = (GRID_NM - wavelengths_nm[0]).round().astype(int)
    return Observer(wavelengths_nm, cmf, cmf[rows])
