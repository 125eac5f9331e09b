"""Bending spectra: the smoothest change that gives a lamp another reading."""

from __future__ import annotations

import numpy as np

from evencast.colour import DUV_LIMIT, cie_1931_2deg, uv_of_mired_duv, xyz
from evencast.colour.temperature import COOLEST_MIRED, WARMEST_MIRED
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

STEEPEST = 30.0
"""Refuse a spectrum bent by more than this over 400-700 nm: it means nothing."""

_MOST_STEPS = 30
_NEAR_UV = 1e-9
_VISIBLE = (GRID_NM >= 400.0) & (GRID_NM <= 700.0)


def bend(power: Floats, aim: Floats) -> tuple[Floats, Floats]:
    """Spectra times exp(b z + c z^2), b and c such that each has its u, v.

    power : (n, 81) relative spectral power
    aim   : (n, 2) or (2,) CIE 1960 u, v; z runs from -1 at 400 nm to 1 at 700 nm
    Returns the bent spectra (n, 81) and how much each was bent (n,): its largest factor over
            400-700 nm against its smallest, 1 for not at all; infinite where no bend was found
    Error   u, v to 1e-9. Newton's method on exact slopes
    """
    factors, steepness = bending(power, aim)
    return power * factors, steepness


def bending(power: Floats, aim: Floats) -> tuple[Floats, Floats]:
    """The factors exp(b z + c z^2) themselves (n, 81), and how much they bend (n,): as `bend`.

    They stand for what changed in a light whatever is in front of it: bending what comes
    through a sheet and bending the light behind it is one and the same.
    """
    basis, sums = _basis(), _sums()
    aims = np.broadcast_to(aim, (len(power), 2))
    amounts = np.zeros((len(power), 2))
    factors = np.ones(power.shape)
    left = np.arange(len(power))
    for _ in range(_MOST_STEPS):
        factors[left] = np.exp(np.clip(amounts[left] @ basis, -30.0, 30.0))
        miss, slopes = _miss_and_slopes((power[left] * factors[left]) @ sums, aims[left])
        far = ~(np.abs(miss).max(axis=1) < _NEAR_UV)
        left = left[far]
        if not len(left):
            break
        amounts[left] += _step(miss[far], slopes[far])
    with np.errstate(over="ignore"):
        steepness = np.exp(np.ptp((amounts @ basis)[:, _VISIBLE], axis=1))
    steepness[left] = np.inf
    return factors, steepness


def bend_members(power: Floats, to_mired: Floats, to_duv: Floats) -> Floats | None:
    """An ensemble, each member bent to its own place, all of luminance 1. [(n, 81)]

    power    : (n, 81)
    to_mired, to_duv : (n,); held to where a colour temperature exists, nan where there is none
    Returns  members bent beyond STEEPEST, or to nowhere, give way to others; None where all were
    """
    somewhere = np.isfinite(to_mired) & np.isfinite(to_duv)
    at_mired = np.clip(np.where(somewhere, to_mired, WARMEST_MIRED), COOLEST_MIRED, WARMEST_MIRED)
    at_duv = np.clip(np.where(somewhere, to_duv, 0.0), -DUV_LIMIT, DUV_LIMIT)
    bent, steepness = bend(power, uv_of_mired_duv(at_mired, at_duv))
    steepness = np.where(somewhere, steepness, np.inf)
    good = np.flatnonzero(steepness <= STEEPEST)
    if not len(good):
        return None
    rows = np.arange(len(power))
    rows[steepness > STEEPEST] = np.resize(good, len(power) - len(good))
    return np.asarray(bent[rows] / xyz(bent[rows])[:, 1:2])


def _basis() -> Floats:
    """z and z^2. [(2, 81)]"""
    z = (GRID_NM - 550.0) / 150.0
    return np.stack([z, z * z])


def _sums() -> Floats:
    """Weights that sum a spectrum to 4X, 6Y and X + 15Y + 3Z: plain, by z, by z^2. [(81, 9)]"""
    cmf = cie_1931_2deg().cmf_grid
    plain = np.column_stack([4.0 * cmf[:, 0], 6.0 * cmf[:, 1], cmf @ np.array([1.0, 15.0, 3.0])])
    return np.hstack([plain, *(plain * each[:, None] for each in _basis())])


def _miss_and_slopes(sums: Floats, aims: Floats) -> tuple[Floats, Floats]:
    """u, v less the aim (n, 2), and how each moves with b and c (n, 2, 2)."""
    with np.errstate(divide="ignore", invalid="ignore"):  # a dark spectrum has no place
        place = sums[:, 0:2] / sums[:, 2:3]
        by_b = (sums[:, 3:5] - place * sums[:, 5:6]) / sums[:, 2:3]
        by_c = (sums[:, 6:8] - place * sums[:, 8:9]) / sums[:, 2:3]
    return place - aims, np.stack([by_b, by_c], axis=-1)


def _step(miss: Floats, slopes: Floats) -> Floats:
    """Newton's change of b and c, held to 1; none where the slopes lead nowhere. [(n, 2)]"""
    (u_b, u_c), (v_b, v_c) = np.moveaxis(slopes, 0, -1)
    with np.errstate(divide="ignore", invalid="ignore"):
        change = np.stack(
            [u_c * miss[:, 1] - v_c * miss[:, 0], v_b * miss[:, 0] - u_b * miss[:, 1]]
        )
        change /= u_b * v_c - u_c * v_b
    change = np.where(np.isfinite(change), change, 0.0).T
    return np.asarray(change / np.maximum(1.0, np.abs(change).max(axis=1, keepdims=True)))
