"""CIE daylight of any correlated colour temperature."""

from __future__ import annotations

from functools import cache

from evencast import tables
from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra.grid import on_grid

LOWEST_K = 4000.0
HIGHEST_K = 25000.0


def daylight(cct_k: float) -> Floats:
    """Relative spectral power of CIE daylight on the grid, 100 at 560 nm. [(81,), unit 1]

    cct_k : 4000 to 25 000; for a nominal illuminant such as D65 give 6500 x 1.4388 / 1.4380

    Raises  EvencastError outside that range
    Source  CIE 015:2018 section 4.1.2 (Judd, MacAdam and Wyszecki 1964); M1 and M2 not rounded
    """
    if not LOWEST_K <= cct_k <= HIGHEST_K:
        raise EvencastError(
            f"no daylight of {cct_k:g} K: the CIE formula ends there",
            where="daylight",
            remedy=f"Use {LOWEST_K:g} to {HIGHEST_K:g} K, or name the Planckian locus.",
        )
    mean, first, second = _components()
    m1, m2 = _amounts(cct_k)
    return mean + m1 * first + m2 * second


@cache
def _components() -> tuple[Floats, Floats, Floats]:
    table = tables.read("cie_daylight_components")
    wavelengths_nm = table.column("wavelength_nm")
    mean, first, second = (
        on_grid(wavelengths_nm, table.column(name)) for name in ("s0", "s1", "s2")
    )
    return mean, first, second


def _amounts(cct_k: float) -> tuple[float, float]:
    """How much of the two components a daylight of this temperature holds."""
    t = 1e3 / cct_k
    coefficients = (
        (0.244063, 0.09911, 2.9678, -4.6070)
        if cct_k <= 7000.0
        else (0.237040, 0.24748, 1.9018, -2.0064)
    )
    a, b, c, d = coefficients
    x = a + t * (b + t * (c + t * d))
    y = -3.000 * x * x + 2.870 * x - 0.275
    scale = 0.0241 + 0.2562 * x - 0.7341 * y
    return (-1.3515 - 1.7703 * x + 5.9114 * y) / scale, (0.0300 - 31.4424 * x + 30.0717 * y) / scale
