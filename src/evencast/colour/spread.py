"""What an ensemble says: a value in the middle and a band that holds nine in ten.

A member without a colour temperature cannot be averaged, yet it must count: it is placed
beyond all others, bluer or redder, and where it reaches an end of the band or the middle,
that value does not exist.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.colour.chromaticity import uv_of_xyz, xyz
from evencast.colour.temperature import mired_duv
from evencast.quantities import Floats

LOW, HIGH = 0.05, 0.95
_BLUE_BELOW_V = 0.30
"""The Planckian locus ends at v 0.264 in the blue and reaches 0.35 at 1000 K; white of
6500 K has 0.31."""


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """The colours of an ensemble, members last.

    uv       : (..., n, 2) CIE 1960 u, v
    mired    : (..., n) reciprocal colour temperature; infinite where there is none, below
               all others for a bluish colour and above for a reddish one
    duv      : (..., n) distance from the Planckian locus, + greener
    luminous : (..., n) relative Y
    """

    uv: Floats
    mired: Floats
    duv: Floats
    luminous: Floats


def spread_of(tristimulus: Floats) -> Spread:
    """Colours of tristimulus values. [(..., n, 3)]"""
    at_uv = uv_of_xyz(tristimulus)
    at_mired, at_duv = mired_duv(at_uv)
    beyond = np.where(at_uv[..., 1] < _BLUE_BELOW_V, -np.inf, np.inf)
    placed = np.where(np.isfinite(at_mired), at_mired, beyond)
    return Spread(at_uv, placed, at_duv, tristimulus[..., 1])


def spread_of_power(power: Floats) -> Spread:
    """Colours of spectra. [(..., n, 81)]"""
    return spread_of(xyz(power))


def low_middle_high(values: Floats) -> Floats:
    """The 5th, 50th and 95th percentile over the last axis, each a member's own value.
    [(..., n) to (3, ...); infinite where such a member has none]"""
    ranked = np.sort(values, axis=-1)
    places = np.rint(np.array([LOW, 0.5, HIGH]) * (values.shape[-1] - 1)).astype(int)
    return np.moveaxis(ranked[..., places], -1, 0)
