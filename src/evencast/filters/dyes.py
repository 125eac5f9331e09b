"""Dyes in a clear base: the model behind every filter that has not been measured.

Transmittance is base x 10 ** -(factor x density), after Beer and Lambert: one set of
absorption bands per series, one factor per grade. The base holds the surface loss, so
a stack pays it once per sheet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from evencast import tables
from evencast.colour import mired_duv, uv
from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

_STRONGEST = 12.0


@dataclass(frozen=True, slots=True, eq=False)
class DyeSet:
    """Absorption bands of one series.

    base      : transmittance without dye
    centre_nm : (n,) where each band absorbs most
    fwhm_nm   : (n,) full widths at half maximum
    density   : (n,) peak densities at factor 1
    """

    base: float
    centre_nm: Floats
    fwhm_nm: Floats
    density: Floats

    @property
    def bands(self) -> Floats:
        """Shape of each band on the grid, 1 at its centre. [(n, 81)]"""
        return bands(self.centre_nm, self.fwhm_nm)

    def transmittance(self, factor: Floats | float) -> Floats:
        """Transmittance at one or more factors. [(...,) to (..., 81)]"""
        strength = np.asarray(factor, dtype=float)[..., None]
        result: Floats = self.base * 10.0 ** (-strength * (self.density @ self.bands))
        return result


@cache
def dye_set(name: str) -> DyeSet:
    """The packaged dye set of that name."""
    rows = [row for row in tables.read_rows("dye_sets") if row["dye_set"] == name]
    columns = [
        np.array([float(row[key]) for row in rows]) for key in ("centre_nm", "fwhm_nm", "density")
    ]
    return DyeSet(float(rows[0]["base"]), *columns)


def bands(centre_nm: Floats, fwhm_nm: Floats) -> Floats:
    """Gaussian absorption bands on the grid, 1 at their centres. [(...,) to (..., 81)]"""
    offset = (GRID_NM - centre_nm[..., None]) / fwhm_nm[..., None]
    shape: Floats = np.exp(-4.0 * np.log(2.0) * offset**2)
    return shape


def shift_mired(light: Floats, transmittance: Floats) -> Floats:
    """Mired shift on that light. [(..., 81) to (...,); nan where there is no CCT]"""
    result: Floats = mired_duv(uv(light * transmittance))[0] - mired_duv(uv(light))[0]
    return result


def shift_duv(light: Floats, transmittance: Floats) -> Floats:
    """Duv shift on that light. [(..., 81) to (...,)]"""
    result: Floats = mired_duv(uv(light * transmittance))[1] - mired_duv(uv(light))[1]
    return result


def solve_factor(dyes: DyeSet, amount_of: Callable[[Floats], Floats], amount: float) -> float:
    """The factor at which the sheet does `amount`, found between 0 and 12.

    amount_of : what a transmittance does, (n, 81) to (n,), nan where it has no answer
    Raises  EvencastError where no factor does it
    Error   1e-9 of the bracketing interval
    """
    factors = np.concatenate([[0.0], np.geomspace(0.01, _STRONGEST, 240)])
    for _ in range(6):
        miss = amount_of(dyes.transmittance(factors)) - amount
        with np.errstate(invalid="ignore"):
            crossings = np.flatnonzero(miss[:-1] * miss[1:] <= 0)
        if not len(crossings):
            raise EvencastError(
                f"no strength of these dyes gives {amount:g}",
                where="dye model",
                remedy="Ask for less, or give a measured spectrum.",
            )
        low, high = factors[crossings[0]], factors[crossings[0] + 1]
        factors = np.linspace(low, high, 33)
    return float((low + high) / 2)
