"""What N Kelvin stands for: which white, as a spectrum and as a place in u, v.

Planckian below 4000 K, CIE daylight above 5000 K and the linear blend of both between,
as the reference of ANSI/IES TM-30-20 is built; the person may name the locus instead.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

import numpy as np

from evencast.colour.chromaticity import uv, xyz
from evencast.colour.temperature import mired_duv
from evencast.errors import EvencastError
from evencast.quantities import Floats, kelvin, mired
from evencast.spectra import daylight, planckian
from evencast.spectra.daylight import HIGHEST_K, LOWEST_K

Locus = Literal["planckian", "daylight", "blend"]
LOCI: tuple[Locus, ...] = ("planckian", "daylight", "blend")

PLANCKIAN_BELOW_K = 4000.0
DAYLIGHT_ABOVE_K = 5000.0
COOLEST_WHITE_K = 100_000.0
WARMEST_WHITE_K = 1000.0


def locus_of(cct_k: float) -> Locus:
    """The locus that N Kelvin stands for when none is named."""
    if cct_k < PLANCKIAN_BELOW_K:
        return "planckian"
    if cct_k <= DAYLIGHT_ABOVE_K:
        return "blend"
    return "daylight" if cct_k <= HIGHEST_K else "planckian"


@lru_cache(maxsize=256)
def white(cct_k: float, *, locus: Locus | None = None) -> Floats:
    """Spectrum of the white of N Kelvin; its CCT, summed on the grid, is N. [(81,), read-only]

    cct_k : 1000 to 100 000; daylight from about 4000 to 25 000
    Raises  EvencastError outside these ranges
    Error   CCT within 0.01 K of N below 24 900 K; 0.03 mired at 25 000 K, where the daylight
            formula ends
    """
    check_kelvin(cct_k)
    named = locus or locus_of(cct_k)
    nominal = mired(cct_k)
    for _ in range(3):  # the sum at 5 nm and the daylight formula both read slightly off
        power = _spectrum(kelvin(nominal), named)
        read, _ = mired_duv(uv(power))
        if not np.isfinite(read):
            break
        nominal += mired(cct_k) - float(read)
    power = _spectrum(kelvin(nominal), named)
    power.setflags(write=False)
    return power


def check_kelvin(cct_k: float) -> None:
    """Raise an EvencastError unless light of that colour temperature exists here."""
    if not WARMEST_WHITE_K <= cct_k <= COOLEST_WHITE_K:
        raise EvencastError(
            f"{cct_k:g} K is not a colour temperature this tool knows",
            where=f"{cct_k:g}K",
            remedy=f"Use {WARMEST_WHITE_K:g} to {COOLEST_WHITE_K:g} K.",
        )


def white_uv(cct_k: float, *, locus: Locus | None = None) -> Floats:
    """CIE 1960 u, v of the white of N Kelvin. [(2,)]"""
    return uv(white(cct_k, locus=locus))


def blend(temperature_k: float | Floats) -> Floats:
    """Planckian below 4000 K, CIE daylight above 5000 K, linear between. [(..., 81), Y is 1]

    temperature_k : (...,) above 0, up to 25 000
    Raises  EvencastError above that, where the daylight formula ends
    Source  the reference of ANSI/IES TM-30-20 and CIE 224:2017; both kinds are brought to the
            same luminance before they are mixed
    """
    every_k = np.asarray(temperature_k, dtype=float)
    glowing, sky = planckian(every_k), daylight(np.maximum(every_k, LOWEST_K))
    share = (DAYLIGHT_ABOVE_K - every_k) / (DAYLIGHT_ABOVE_K - PLANCKIAN_BELOW_K)
    share = np.clip(share, 0.0, 1.0)[..., None]
    mixed: Floats = share * glowing / xyz(glowing)[..., 1:2]
    mixed += (1.0 - share) * sky / xyz(sky)[..., 1:2]
    return mixed


def _spectrum(temperature_k: float, locus: Locus) -> Floats:
    if locus == "planckian":
        return planckian(temperature_k)
    if locus == "daylight":
        return daylight(_within_formula(temperature_k))
    return blend(min(temperature_k, _within_formula(temperature_k)))


def _within_formula(temperature_k: float) -> float:
    """The last fraction of a kelvin that the correction above may add at either end."""
    slack = 0.005 * temperature_k
    if LOWEST_K - slack <= temperature_k <= HIGHEST_K + slack:
        return min(max(temperature_k, LOWEST_K), HIGHEST_K)
    return temperature_k
