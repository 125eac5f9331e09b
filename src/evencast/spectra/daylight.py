"""CIE daylight of any correlated colour temperature."""

from __future__ import annotations

import numpy as np

from evencast import tables
from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra.grid import GRID_NM

LOWEST_K = 4000.0
HIGHEST_K = 25000.0


def daylight(cct_k: float | Floats, wavelengths_nm: Floats = GRID_NM) -> Floats:
    """Relative spectral power of CIE daylight, 100 at 560 nm. [(..., n), unit 1]

    cct_k : (...,) 4000 to 25 000; for a nominal illuminant such as D65 give
            6500 x 1.4388 / 1.4380
    wavelengths_nm : (n,) within 300 to 830; between the 5 nm of the table it is linear
    Raises  EvencastError outside that range
    Source  CIE 015:2018 section 4.1.2 (Judd, MacAdam and Wyszecki 1964); M1 and M2 not rounded
    """
    every_k = np.asarray(cct_k, dtype=float)
    outside = ~((every_k >= LOWEST_K) & (every_k <= HIGHEST_K))
    if outside.any():
        raise EvencastError(
            f"no daylight of {every_k[outside][0]:g} K: the CIE formula ends there",
            where="daylight",
            remedy=f"Use {LOWEST_K:g} to {HIGHEST_K:g} K, or name the Planckian locus.",
        )
    table = tables.read("cie_daylight_components")
    mean, first, second = (
        np.interp(wavelengths_nm, table.column("wavelength_nm"), table.column(name))
        for name in ("s0", "s1", "s2")
    )
    m1, m2 = _amounts(every_k[..., None])
    result: Floats = mean + m1 * first + m2 * second
    return result


def _amounts(cct_k: Floats) -> tuple[Floats, Floats]:
    """How much of the two components a daylight of this temperature holds."""
    t = 1e3 / cct_k
    x = np.where(
        cct_k <= 7000.0,
        0.244063 + t * (0.09911 + t * (2.9678 + t * -4.6070)),
        0.237040 + t * (0.24748 + t * (1.9018 + t * -2.0064)),
    )
    y = -3.000 * x * x + 2.870 * x - 0.275
    scale = 0.0241 + 0.2562 * x - 0.7341 * y
    return (-1.3515 - 1.7703 * x + 5.9114 * y) / scale, (0.0300 - 31.4424 * x + 30.0717 * y) / scale
