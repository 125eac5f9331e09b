"""From printed x, y and percentage, under one or more illuminants, to the smoothest density.

Many spectra have the printed numbers. The one taken bends least: the sum of the squared
second differences of its density, and of its first ones at a small weight, is least among
all that have the numbers within their rounding and are nowhere clearer than a clear sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.filters.printed import CLEAREST_DENSITY, Printed
from evencast.quantities import Floats
from evencast.spectra import GRID_NM

STRAIN_LIMIT = 3.0
"""A smooth sheet that misses a number by more roundings than this tells of a slip. Sheets
of dyes with skewed bands and of strong wobble miss by 2.2 at most; a slip of 20 units in
the third decimal by 7 in the median, one in the fourth is seldom seen."""

MET = 1.1
"""Of sheets that are clear over much of the spectrum, one in some hundred is met only within
1.06 roundings: no reason to refuse its numbers."""

_SLOPE_WEIGHT = 0.03
"""Weight of the first differences: without them the ends of the spectrum, which the numbers
hardly touch, run away in straight lines. 0.01 to 0.1 predict other lamps equally well."""

_BEND_PER_DENSITY = 0.02
"""Deviation of a second difference at 5 nm, of a sheet of density 1, against which a miss
of a rounding is weighed. 0.01 to 0.04 predict other lamps equally well."""

_LEAST_DENSITY = 0.02
_SOFTER = (4.0, 16.0, 64.0)
_MOST_STEPS = 40
_MOST_PIVOTS = 100
_LONGEST_STEP = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """The smoothest density that was found.

    density : (81,)
    strain  : (3k,) miss of the plausibly smooth fit, in roundings
    miss    : (3k,) miss of `density`, in roundings
    """

    density: Floats
    strain: Floats
    miss: Floats

    @property
    def reached(self) -> bool:
        """Whether every number is met, within `MET` roundings."""
        return bool(np.abs(self.miss).max() <= MET)


def smoothest(numbers: Printed) -> Fit:
    """The smoothest density with the numbers, no smoother than their rounding allows.

    Smoothness is weighed against the misses as is plausible for a sheet; where that leaves
    a number outside its rounding, smoothness counts for less until none is.
    """
    bare = np.log(numbers.weights.sum(axis=1))
    densest = float((bare - numbers.log_tristimulus()).max()) / np.log(10.0) - CLEAREST_DENSITY
    bend = _BEND_PER_DENSITY * max(densest, _LEAST_DENSITY)
    start = max(CLEAREST_DENSITY, -np.log10(float(numbers.values[2::3].mean())))
    density = np.full(len(GRID_NM), start)
    density = _fit(numbers, bend, density)
    strain = miss = numbers.miss(10.0**-density)
    best = Fit(density, strain, miss)
    for softer in _SOFTER:
        if np.abs(best.miss).max() <= 1.0:
            break
        density = _fit(numbers, bend * softer, density)
        miss = numbers.miss(10.0**-density)
        if np.abs(miss).max() < np.abs(best.miss).max():
            best = Fit(density, strain, miss)
    return best


def _fit(numbers: Printed, bend: float, density: Floats) -> Floats:
    """Least squares of bends and misses, by Gauss and Newton on the density.

    The logarithms of X, Y and Z are nearly linear in the density, so a few steps do. A miss
    weighs by the deviation of an evenly spread rounding, its half-width over sqrt 3.
    """
    roughness = _roughness() / bend**2
    per_log = numbers.roundings_per_log() * np.sqrt(3.0)
    aim = per_log @ numbers.log_tristimulus()
    free = np.ones(len(density), dtype=bool)
    for _ in range(_MOST_STEPS):
        passed = numbers.weights * 10.0**-density
        total = passed.sum(axis=1)
        slope = per_log @ (-np.log(10.0) * passed / total[:, None])
        wanted = aim - per_log @ np.log(total) + slope @ density
        best = _bounded_minimum(roughness + slope.T @ slope, slope.T @ wanted, free)
        step = np.clip(best - density, -_LONGEST_STEP, _LONGEST_STEP)
        density = density + step
        if np.abs(step).max() < 1e-8:
            break
    return density


def _roughness() -> Floats:
    """What squared bends and slopes of a density add up to, as a quadratic form. [(81, 81)]"""
    unit = np.eye(len(GRID_NM))
    bends, slopes = np.diff(unit, 2, axis=0), np.diff(unit, axis=0)
    result: Floats = bends.T @ bends + _SLOPE_WEIGHT * (slopes.T @ slopes)
    return result


def _bounded_minimum(hessian: Floats, pull: Floats, free: np.ndarray) -> Floats:
    """Least z' H z / 2 - pull' z with no z under the clearest density. [(n,)]

    free : (n,) where the bound is not thought to bind; left as found, for the next call
    Source  block principal pivoting with Murty's rule as a safeguard: L. F. Portugal, J. J.
            Judice, L. N. Vicente, Math. Comp. 63 (1994) 625-643
    """
    z = np.full(len(pull), CLEAREST_DENSITY)
    slack = 1e-10 * np.abs(pull).max()
    fewest, patience = len(pull) + 1, 3
    for _ in range(_MOST_PIVOTS):
        z[~free] = CLEAREST_DENSITY
        rest = pull[free] - hessian[np.ix_(free, ~free)].sum(axis=1) * CLEAREST_DENSITY
        z[free] = np.linalg.solve(hessian[np.ix_(free, free)], rest)
        wrong = np.where(free, z < CLEAREST_DENSITY - 1e-10, hessian @ z - pull < -slack)
        count = int(wrong.sum())
        if count == 0:
            break
        if count < fewest:
            fewest, patience = count, 3
        elif patience:
            patience -= 1
        else:
            wrong = np.arange(len(pull)) == np.flatnonzero(wrong)[-1]
        free ^= wrong
    clipped: Floats = np.maximum(z, CLEAREST_DENSITY)
    return clipped
