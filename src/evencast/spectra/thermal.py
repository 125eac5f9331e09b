"""Planck's law: the spectrum of an ideal glowing body."""

from __future__ import annotations

import numpy as np

from evencast.quantities import Floats
from evencast.spectra.grid import GRID_NM

C2_M_K = 1.4388e-2
"""Second radiation constant as CIE 15 uses it. [m K]

CODATA's 1.438777e-2 moves 3200 K by 0.05 K."""


def planckian(
    temperature_k: float | Floats, wavelengths_nm: Floats = GRID_NM, *, c2: float = C2_M_K
) -> Floats:
    """Relative spectral power of a blackbody, 1 at 560 nm. [(..., n), unit 1]

    temperature_k : (...,) above 0; infinity gives the limit, wavelength to the power of -4
    wavelengths_nm : (n,)
    c2 : second radiation constant; 1.435e-2 only inside the definition of illuminant A

    Source  Planck's law; c2 of CIE 15:2018
    """
    ratio = 560.0 / wavelengths_nm
    hot_k = np.asarray(temperature_k, dtype=float)[..., None]
    with np.errstate(invalid="ignore"):  # 0 / 0 at infinity, which has its own formula
        at_560 = np.expm1(c2 / (560e-9 * hot_k))
        power = ratio**5 * at_560 / np.expm1(c2 / (wavelengths_nm * 1e-9 * hot_k))
    return np.where(np.isinf(hot_k), ratio**4, power)
