"""The colour rendering index of CIE 13.3-1995."""

from __future__ import annotations

from functools import cache

import numpy as np

from evencast import tables
from evencast.colour.chromaticity import uv_of_xyz, xyz
from evencast.colour.observers import cie_1931_2deg
from evencast.colour.temperature import cct_duv
from evencast.quantities import Floats
from evencast.spectra import daylight, planckian
from evencast.spectra.daylight import HIGHEST_K

DAYLIGHT_FROM_K = 5000.0
_SLACK_K = 0.05
"""A white made to read 5000 K reads so within 0.01 K; it shall not fall on the other side."""


def cri(power: Floats) -> tuple[Floats, Floats]:
    """Colour rendering indices Ra and R1 to R14. [(...,), (..., 14)]

    power : (..., 81) relative spectral power on the grid, any scale
    Returns Ra, the mean of R1 to R8, and all fourteen; R9 is the saturated red that lips,
            blood and the warmth of skin hang on. 100 at best, no floor; nan without a CCT or
            above 25 000 K. The reference is a blackbody below 5000 K, CIE daylight from there
    Source  CIE 13.3-1995, summed at 5 nm; not rounded to whole numbers as the standard prints
    Error   within 0.4 of the values computed elsewhere for the CIE lamps; six printed values
            lie further off, by up to 2.1 (docs/accuracy.md#quality)
    """
    at_k, _ = cct_duv(uv_of_xyz(xyz(power)))
    judged = at_k <= HIGHEST_K
    reference = _reference(np.where(judged, at_k, DAYLIGHT_FROM_K))
    with np.errstate(divide="ignore", invalid="ignore"):
        seen, seen_white = _uv_y(power)
        wanted, wanted_white = _uv_y(reference)
        seen_uv = _adapted(seen[..., :2], seen_white, wanted_white)
        away = _uvw(seen_uv, seen[..., 2], wanted_white) - _uvw(
            wanted[..., :2], wanted[..., 2], wanted_white
        )
    special = 100.0 - 4.6 * np.sqrt((away**2).sum(axis=-1))
    special = np.where(judged[..., None], special, np.nan)
    return special[..., :8].mean(axis=-1), special


def _reference(at_k: Floats) -> Floats:
    """Spectra of the references. [(...,) to (..., 81)]"""
    glowing = at_k < DAYLIGHT_FROM_K - _SLACK_K
    sky = daylight(np.where(glowing, DAYLIGHT_FROM_K, at_k))
    return np.where(glowing[..., None], planckian(at_k), sky)


def _uv_y(power: Floats) -> tuple[Floats, Floats]:
    """u, v and Y of the samples, Y of white being 100, and u, v of the white itself."""
    white = xyz(power)
    samples = (power @ _samples()).reshape(*power.shape[:-1], 14, 3)
    luminance = 100.0 * samples[..., 1:2] / white[..., None, 1:2]
    return np.concatenate([uv_of_xyz(samples), luminance], axis=-1), uv_of_xyz(white)


@cache
def _samples() -> Floats:
    """Each sample times the observer's three functions. [(81, 14 * 3)]"""
    reflectance = tables.read("cie_13_3_samples").values[:, 1:]
    weights = reflectance[:, :, None] * cie_1931_2deg().cmf_grid[:, None, :]
    return weights.reshape(len(weights), -1)


def _adapted(uv_value: Floats, white: Floats, reference: Floats) -> Floats:
    """u, v as an eye adapted to the light sees it, brought to the reference. [(..., 14, 2)]

    Source  CIE 13.3-1995 section 5.7: von Kries in the primaries of Judd
    """
    c, d = _c_d(uv_value)
    (c_white, d_white), (c_reference, d_reference) = _c_d(white), _c_d(reference)
    c = c * (c_reference / c_white)[..., None]
    d = d * (d_reference / d_white)[..., None]
    below = 16.518 + 1.481 * c - d
    return np.stack([(10.872 + 0.404 * c - 4.0 * d) / below, 5.520 / below], axis=-1)


def _c_d(uv_value: Floats) -> tuple[Floats, Floats]:
    u, v = uv_value[..., 0], uv_value[..., 1]
    return (4.0 - u - 10.0 * v) / v, (1.708 * v + 0.404 - 1.481 * u) / v


def _uvw(uv_value: Floats, luminance: Floats, white: Floats) -> Floats:
    """CIE 1964 U*, V*, W*. [(..., 14, 3)]"""
    lightness = 25.0 * np.cbrt(luminance) - 17.0
    chroma = 13.0 * lightness[..., None] * (uv_value - white[..., None, :])
    return np.concatenate([chroma, lightness[..., None]], axis=-1)
