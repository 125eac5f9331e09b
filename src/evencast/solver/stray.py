"""A stray light is judged by what it does to the mix where it falls, never by a number of stops."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from evencast.lights.mixing import pull_of
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats

MOST_STOPS = 16.0
"""Whoever has to dim a light by more switches it off."""

_STEPS = 64
_FINER = (8,) * 6
"""Even steps of the first look, and of each after it, between two steps of the one before."""


def stray_within(
    candidates: Floats, ratios: Floats, *, balance_uv: Floats, allowed: Sequence[Allowed]
) -> NDArray[np.bool_]:
    """Whether each of many spectra moves no spot by more than is allowed there. [(n,)]

    candidates : (n, 81) spectra that a light may have, of any scale
    ratios     : (spots, n) or (spots, 1), how much of it arrives at each spot behind its sheets, as
                 a share of all else there; 0 where it does not reach
    balance_uv : (2,) CIE 1960 u, v of all else, taken as white at the balance
    allowed    : the tolerance of each spot
    Returns  False as well where the mix has no colour temperature
    """
    by_mired, by_duv = pull_of(candidates, ratios, beside_uv=balance_uv)
    inside = np.ones(len(candidates), dtype=bool)
    for each, mired, duv in zip(allowed, by_mired, by_duv, strict=True):
        inside &= each.strain(mired, duv) <= 1.0
    return inside


def least_stops(strain_at: Callable[[Floats], Floats]) -> float | None:
    """How many stops less of a light it takes, so that it stays inside from there on.

    strain_at : takes (k,) stops less, 0 or more, and returns (k,) strains, inside up to 1
    Returns  0 where it is inside as it is; None where even 16 stops less do not do
    Error    1e-6 stop, where no strain between two of 64 even steps crosses 1 twice
    """
    low, high = 0.0, MOST_STOPS
    for steps in (_STEPS, *_FINER):
        stops = np.linspace(low, high, steps + 1)
        outside = np.flatnonzero(~(strain_at(stops) <= 1.0))
        if not len(outside):
            return low
        if outside[-1] == steps:
            return None
        low, high = float(stops[outside[-1]]), float(stops[outside[-1] + 1])
    return high
