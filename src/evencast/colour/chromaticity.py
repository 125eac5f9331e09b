"""Tristimulus values and chromaticities."""

from __future__ import annotations

import numpy as np

from evencast.colour.observers import Observer, cie_1931_2deg
from evencast.quantities import Floats


def xyz(power: Floats, *, observer: Observer | None = None) -> Floats:
    """Tristimulus values, summed at 5 nm without a normalising constant. [(..., 3)]

    power : (..., 81) relative spectral power on the grid
    Source  CIE 15:2018, direct summation 380-780 nm at 5 nm
    """
    result: Floats = power @ (observer or cie_1931_2deg()).cmf_grid
    return result


def xy_of_xyz(tristimulus: Floats) -> Floats:
    """CIE 1931 x, y. [(..., 2); nan for no light at all]"""
    return _divide(tristimulus[..., :2], tristimulus.sum(axis=-1, keepdims=True))


def uv_of_xyz(tristimulus: Floats) -> Floats:
    """CIE 1960 u, v. [(..., 2); nan for no light at all]"""
    weight = tristimulus @ np.array([1.0, 15.0, 3.0])
    return _divide(tristimulus[..., :2] * np.array([4.0, 6.0]), weight[..., None])


def uv(power: Floats) -> Floats:
    """CIE 1960 u, v of spectra on the grid, 2 degree observer. [(..., 81) to (..., 2)]"""
    return uv_of_xyz(xyz(power))


def uv_of_xy(xy: Floats) -> Floats:
    """CIE 1960 u, v of CIE 1931 x, y. [(..., 2)]"""
    x, y = xy[..., 0], xy[..., 1]
    return np.stack([4.0 * x, 6.0 * y], axis=-1) / (12.0 * y - 2.0 * x + 3.0)[..., None]


def xy_of_uv(uv_value: Floats) -> Floats:
    """CIE 1931 x, y of CIE 1960 u, v. [(..., 2)]"""
    u, v = uv_value[..., 0], uv_value[..., 1]
    return np.stack([3.0 * u, 2.0 * v], axis=-1) / (2.0 * u - 8.0 * v + 4.0)[..., None]


def is_real_xy(x: float, y: float) -> bool:
    """Whether light of this x, y exists: inside the spectral locus and the purple line."""
    cmf = cie_1931_2deg().cmf
    locus = xy_of_xyz(cmf[cmf.sum(axis=1) > 1e-3])
    start, end = locus, np.roll(locus, -1, axis=0)
    above = (start[:, 1] > y) != (end[:, 1] > y)
    start, end = start[above], end[above]
    crossing_x = start[:, 0] + (y - start[:, 1]) / (end[:, 1] - start[:, 1]) * (end - start)[:, 0]
    return int((crossing_x > x).sum()) % 2 == 1


def _divide(above: Floats, below: Floats) -> Floats:
    with np.errstate(divide="ignore", invalid="ignore"):
        result: Floats = np.where(below > 0, above / below, np.nan)
    return result
