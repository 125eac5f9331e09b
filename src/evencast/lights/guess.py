"""What a light may be of which only its reading and its kind are known.

Every lamp of the kind is bent to the reading. Lamps that are near it by nature count for
more. Another lamp of the kind is taken to differ from one of them as two of them differ
from each other, which reaches beyond the few that are built in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.colour import mired_duv, uv, uv_of_mired_duv, xyz
from evencast.lights.bases import Bases
from evencast.lights.bend import STEEPEST, bend, bend_members
from evencast.quantities import Floats
from evencast.spectra import MEMBERS, normal, uniform

NEAR_MIRED = 100.0
NEAR_DUV = 0.008
NEAR_BEND = 1.5
"""Distance in mired and Duv, and logarithm of the bend, at which a lamp's weight has fallen to
0.6. Chosen once, with the reach of the differences (1), on the built-in lamps, each left out
in turn: tests/laws/test_readings_coverage.py."""

NEAR_DUV_OF_KIND = {"tungsten": 0.002}
"""A filament has one Duv, that of its glass; LEDs and tubes are mixed to any."""


@dataclass(frozen=True, slots=True, eq=False)
class Guess:
    """A spectrum that fits a reading, and others that fit it as well, all of one luminance.

    nominal  : (81,) the mean of the lamps, each bent to the reading
    possible : (MEMBERS, 81)
    lamps    : how many spectra it was made from
    """

    nominal: Floats
    possible: Floats
    lamps: int


def guess(bases: Bases, *, at_mired: float, duv: float, doubt: Floats, key: str) -> Guess | None:
    """The light of a reading, from lamps it may be like.

    at_mired, duv : the reading
    doubt : (MEMBERS, 2) what the reading may be off by, in mired and Duv
    key   : names the draws
    Returns None where no lamp can be bent that far within reason (STEEPEST)
    """
    reading = np.array([at_mired, duv])
    bent, steepness = bend(bases.power, uv_of_mired_duv(*reading))
    usable = steepness <= STEEPEST
    if not usable.any():
        return None
    power = bent[usable] / xyz(bent[usable])[:, 1:2]
    kept = bases.where(list(usable))
    weights = _weights(kept, reading, steepness[usable])
    nominal = weights @ power / weights.sum()
    mixed = _mixed(power, weights, key=key)
    possible = bend_members(mixed, *(reading + doubt).T)
    return None if possible is None else Guess(nominal, possible, len(power))


def _weights(bases: Bases, reading: Floats, steepness: Floats) -> Floats:
    """What each lamp counts; the lamps of one kind add up to 1. [(n,)]"""
    own_mired, own_duv = mired_duv(uv(bases.power))
    near_duv = np.array([NEAR_DUV_OF_KIND.get(kind, NEAR_DUV) for kind in bases.kinds])
    far = (
        ((own_mired - reading[0]) / NEAR_MIRED) ** 2
        + ((own_duv - reading[1]) / near_duv) ** 2
        + (np.log(steepness) / NEAR_BEND) ** 2
    )
    kinds = np.array(bases.kinds)
    weights = np.zeros(len(kinds))
    for kind in dict.fromkeys(bases.kinds):
        own = kinds == kind
        counts = np.exp(-0.5 * (far[own] - far[own].min()))
        weights[own] = counts / counts.sum()
    return weights


def _mixed(power: Floats, weights: Floats, *, key: str) -> Floats:
    """One lamp each, plus a share of the difference of two others of its kind. [(MEMBERS, 81)]

    weights : (n,) in which each kind takes up the space from one whole number to the next
    """
    ends = np.cumsum(weights)
    kinds = round(float(ends[-1]))
    draws = uniform(f"{key} lamps", 3)
    even = (np.argsort(draws[:, 0]) + 0.5) / MEMBERS * kinds  # every kind equally often
    place = np.column_stack([even, np.floor(even)[:, None] + draws[:, 1:]])
    one, other, third = np.minimum(np.searchsorted(ends, place, side="right"), len(power) - 1).T
    share = normal(f"{key} shares", 1)
    mixed: Floats = np.maximum(power[one] + share * (power[other] - power[third]), 0.0)
    return mixed
