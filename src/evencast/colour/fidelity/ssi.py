"""The spectral similarity index: how alike two lights are to any camera at all.

It compares the spectra themselves, so it needs neither an eye nor a camera: lights that
score high against each other cut together whatever is filmed and with whatever sensor.
"""

from __future__ import annotations

import numpy as np

from evencast.quantities import Floats
from evencast.spectra import GRID_NM, daylight, planckian
from evencast.spectra.daylight import HIGHEST_K, LOWEST_K

SSI_NM: Floats = np.arange(375.0, 675.5, 1.0)
SSI_NM.setflags(write=False)

_BANDS = 30
_WEIGHTS = np.array([12, 22, 32, 40, 44, *[45] * 23, 33, 9]) / 45.0


def ssi(samples: Floats, reference: Floats) -> Floats:
    """Similarity of spectra to a reference. [(...,), 100 for the same; may be negative]

    samples, reference : (..., 301) relative power at SSI_NM, any scale each
    Returns nan where either is dark there or unknown
    Source  SMPTE ST 2122:2020; Academy specification S-2018-001 sections 4.2 to 4.8. Not
            rounded to a whole number as the standard prints
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        seen, wanted = _bands(samples), _bands(reference)
        away = _WEIGHTS * (seen - wanted) / (wanted + 1.0 / _BANDS)
    beside = np.zeros((*away.shape[:-1], 1))
    padded = np.concatenate([beside, away, beside], axis=-1)
    smooth = 0.22 * (padded[..., :-2] + padded[..., 2:]) + 0.56 * away
    return np.asarray(100.0 - 32.0 * np.sqrt((smooth**2).sum(axis=-1)))


def ssi_samples(wavelengths_nm: Floats, values: Floats) -> Floats:
    """Samples of any spacing at SSI_NM: linear between, nothing beyond. [(..., n) to (..., 301)]

    Source  Academy specification S-2018-001 section 4.1.1
    """
    above = np.searchsorted(wavelengths_nm, SSI_NM, side="right")
    above = np.clip(above, 1, len(wavelengths_nm) - 1)
    low_nm, high_nm = wavelengths_nm[above - 1], wavelengths_nm[above]
    share = (SSI_NM - low_nm) / (high_nm - low_nm)
    inside = (SSI_NM >= wavelengths_nm[0]) & (SSI_NM <= wavelengths_nm[-1])
    between = values[..., above - 1] * (1.0 - share) + values[..., above] * share
    return np.where(inside, between, 0.0)


def ssi_samples_of_grid(power: Floats, reference: Floats) -> Floats:
    """A spectrum known on the grid alone, at SSI_NM. [(..., 81), (..., 301) to (..., 301)]

    The grid ends at 380 nm and the index starts at 375. What is missing is taken as the
    reference has it, on the level of the light at 380 nm: unknown, it counts neither for the
    light nor against it.
    """
    missing = SSI_NM < GRID_NM[0]
    level = power[..., :1] / reference[..., SSI_NM == GRID_NM[0]]
    return np.where(missing, level * reference, ssi_samples(GRID_NM, power))


def ssi_reference(cct_k: Floats) -> Floats:
    """The reference of a light of this colour temperature, at SSI_NM. [(...,) to (..., 301)]

    A blackbody below 4000 K, CIE daylight from there up to 25 000 K; nan beyond and without
    a CCT. The temperature is taken to the whole Kelvin, as the reference's name gives it.

    Source  Academy specification S-2018-001, as transcribed in public code; SMPTE ST 2122:2020
    """
    whole_k = np.rint(np.asarray(cct_k, dtype=float))
    glowing = whole_k < LOWEST_K
    known = whole_k <= HIGHEST_K
    sky = daylight(np.where(glowing | ~known, LOWEST_K, whole_k), SSI_NM)
    power = np.where(glowing[..., None], planckian(np.where(known, whole_k, LOWEST_K), SSI_NM), sky)
    return np.where(known[..., None], power, np.nan)


def ssi_name(cct_k: float) -> str | None:
    """What that reference is called: "blackbody 3200 K", "CIE daylight 5600 K"; None for none."""
    if not cct_k <= HIGHEST_K:
        return None
    whole_k = round(cct_k)
    return f"{'blackbody' if whole_k < LOWEST_K else 'CIE daylight'} {whole_k} K"


def _bands(samples: Floats) -> Floats:
    """Shares of thirty bands of 10 nm, trapezoids that share their ends. [(..., 30)]"""
    inner = samples[..., :-1].reshape(*samples.shape[:-1], _BANDS, 10).sum(axis=-1)
    bands = inner + 0.5 * (samples[..., 10::10] - samples[..., :-10:10])
    shares: Floats = bands / bands.sum(axis=-1, keepdims=True)
    return shares
