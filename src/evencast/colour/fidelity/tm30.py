"""Fidelity and gamut of ANSI/IES TM-30-20, whose fidelity is that of CIE 224:2017."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from evencast import tables
from evencast.colour.chromaticity import uv, xyz
from evencast.colour.fidelity.ciecam02 import jab
from evencast.colour.observers import cie_1964_10deg
from evencast.colour.temperature import cct_duv
from evencast.colour.whites import blend
from evencast.quantities import Floats
from evencast.spectra.daylight import HIGHEST_K

SAMPLES = 99
HUES = 16
_SCALE = 6.73
_MIDDLES = (np.arange(HUES) + 0.5) * (2.0 * np.pi / HUES)
_HUE_DIRECTIONS = np.stack([np.cos(_MIDDLES), np.sin(_MIDDLES)], axis=-1)


def tm30(power: Floats) -> tuple[Floats, Floats, Floats]:
    """Fidelity Rf, gamut Rg and the chroma shift of each hue. [(...,), (...,), (..., 16)]

    power : (..., 81) relative spectral power on the grid, any scale
    Returns Rf, 0 to 100; Rg, the area that the colours span against the reference's, 100 being
            the same and more being more saturated; Rcs,h1 to Rcs,h16 in percent, from red
            through yellow, green and blue, positive where that hue is more saturated. All nan
            without a CCT or above 25 000 K; Rg, and the shift of a hue, also where none of
            the samples has that hue, as below some 1100 K. The reference is a blackbody below
            4000 K, CIE daylight above 5000 K, their blend between
    Source  ANSI/IES TM-30-20, CIE 224:2017: 99 samples, 10 degree observer, CAM02-UCS at
            100 cd/m2, summed at 5 nm
    Error   0.01 (docs/accuracy.md#quality)
    """
    at_k, _ = cct_duv(uv(power))
    judged = at_k <= HIGHEST_K
    with np.errstate(divide="ignore", invalid="ignore"):
        seen = _appearance(power)
        wanted = _appearance(blend(np.where(judged, at_k, HIGHEST_K)))
        away = np.sqrt(((seen - wanted) ** 2).sum(axis=-1)).mean(axis=-1)
        rf = 10.0 * np.log1p(np.exp((100.0 - _SCALE * away) / 10.0))
        seen_hues, wanted_hues = _hues(seen, wanted)
        rg = 100.0 * _area(seen_hues) / _area(wanted_hues)
        shift = ((seen_hues - wanted_hues) * _HUE_DIRECTIONS).sum(axis=-1)
        shift = 100.0 * shift / np.hypot(wanted_hues[..., 0], wanted_hues[..., 1])
    unknown = ~judged
    return _nan(rf, unknown), _nan(rg, unknown), _nan(shift, unknown[..., None])


def _appearance(power: Floats) -> Floats:
    """J', a', b' of the samples. [(..., 99, 3)]"""
    white = xyz(power, observer=cie_1964_10deg())
    samples = (power @ _samples()).reshape(*power.shape[:-1], SAMPLES, 3)
    scale = 100.0 / white[..., 1:2]
    return jab(samples * scale[..., None], white=(white * scale)[..., None, :])


@cache
def _samples() -> Floats:
    """Each sample times the observer's three functions. [(81, 99 * 3)]"""
    reflectance = tables.read("cie_224_samples").values[:, 1:]
    weights = reflectance[:, :, None] * cie_1964_10deg().cmf_grid[:, None, :]
    return weights.reshape(len(weights), -1)


def _hues(seen: Floats, wanted: Floats) -> tuple[Floats, Floats]:
    """Mean a', b' of the samples of each hue, as sorted by the reference. [two (..., 16, 2)]"""
    hue = np.arctan2(wanted[..., 2], wanted[..., 1]) % (2.0 * np.pi)
    bins = np.floor(hue * (HUES / (2.0 * np.pi)))
    members = (bins[..., None, :] == np.arange(HUES)[:, None]).astype(float)
    members /= members.sum(axis=-1, keepdims=True)
    return members @ seen[..., 1:], members @ wanted[..., 1:]


def _area(corners: Floats) -> Floats:
    """Area of a polygon by its corners. [(..., n, 2) to (...,)]"""
    following = np.roll(corners, -1, axis=-2)
    cross = corners[..., 0] * following[..., 1] - corners[..., 1] * following[..., 0]
    area: Floats = cross.sum(axis=-1) / 2.0
    return area


def _nan(values: Floats, unknown: NDArray[np.bool_]) -> Floats:
    return np.where(unknown, np.nan, values)
