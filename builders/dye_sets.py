"""The search behind the CTB and CTO rows of dye_sets.csv: one dye set for a whole series.

    python -m builders.dye_sets CTB --seed 1 --tries 400

Random plausible sets (three Gaussian bands in a clear base) are dosed for the full grade
and scored by how well one factor per grade does what is asked of the series: the losses
told of the grades (common practice, no source), in units of 1/6 stop; the Duv of the even
grades up to full, against what N Kelvin stands for, in units of 0.002; and 0.3 of that of
the double grade, in units of 0.005. The best are printed; the choice is by hand.
"""

from __future__ import annotations

import argparse
import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import least_squares

from evencast.colour import cie_1931_2deg, mired_duv, uv, white, white_uv
from evencast.errors import EvencastError
from evencast.filters.dyes import DyeSet, shift_mired, solve_factor
from evencast.quantities import Floats, kelvin, mired, mired_shift, stops_of_ratio

CENTRES_NM = ((415, 460), (515, 570), (605, 670))
FWHM_NM = ((80, 130), (80, 130), (105, 190))
BASE = (0.87, 0.92)
GRADES = (1 / 8, 1 / 4, 1 / 2, 3 / 4, 1.0, 2.0)
Bands = tuple[tuple[int, int], ...]  # centre and full width at half maximum, nm


@dataclass(frozen=True, slots=True)
class Series:
    """What a series shall do. `told` holds grades as (from_k, to_k, loss_stops)."""

    from_k: float
    to_k: float
    full_loss_stops: float
    first_guess: tuple[float, float, float]
    told: tuple[tuple[float, float, float], ...]


CTB_TOLD = ((3200, 5600, 5 / 3), (3200, 4300, 1.0), (3200, 3600, 2 / 3), (3200, 3400, 1 / 3))
CTO_TOLD = ((6500, 3200, 1.0), (6500, 3800, 2 / 3), (6500, 4600, 1 / 3), (6500, 5550, 1 / 3))
SERIES = {
    "CTB": Series(3200, 5600, 1.6, (0.05, 0.3, 0.7), CTB_TOLD),
    "CTO": Series(5600, 3200, 0.8, (0.6, 0.2, 0.02), CTO_TOLD),
}


def search(series: Series, *, seed: int, tries: int) -> list[tuple[float, Bands, DyeSet]]:
    """Score, bands and set of every random set that can be dosed and graded, best first."""
    random = np.random.default_rng(seed)
    found = []
    for _ in range(tries):
        ranges_nm = np.array([CENTRES_NM, FWHM_NM])
        centres, widths = random.integers(ranges_nm[..., 0], ranges_nm[..., 1], endpoint=True)
        bands_nm = tuple(zip(centres.tolist(), widths.tolist(), strict=True))
        dyes = dosed(series, bands_nm, base=round(random.uniform(*BASE), 3))
        if dyes is not None and math.isfinite(reached := score(series, dyes)):
            found.append((reached, bands_nm, dyes))
    return sorted(found, key=lambda each: each[0])


def dosed(series: Series, bands_nm: Bands, *, base: float) -> DyeSet | None:
    """The set with the densities that make its full grade; None where the colour is missed."""
    light, aim = white(series.from_k), white_uv(series.to_k)
    centre_nm, fwhm_nm = np.array(bands_nm, dtype=float).T

    def miss(density: Floats) -> Floats:
        through = DyeSet(base, centre_nm, fwhm_nm, density).transmittance(1.0)
        beside = 3 * (loss_stops(light, through) - series.full_loss_stops)
        return np.append((uv(light * through) - aim) * 1e3, beside)

    found = least_squares(miss, series.first_guess, bounds=(0, 4), max_nfev=40)
    return DyeSet(base, centre_nm, fwhm_nm, found.x) if np.abs(found.fun[:2]).max() < 0.3 else None


def score(series: Series, dyes: DyeSet) -> float:
    """How badly a set does what is asked; infinite where some grade has no factor."""
    step, start = mired_shift(from_k=series.from_k, to_k=series.to_k), mired(series.from_k)
    try:
        losses = [
            loss_stops(white(from_k), graded(dyes, from_k=from_k, to_k=to_k)) - told
            for from_k, to_k, told in series.told
        ]
        *even, double = (_drift(dyes, series.from_k, kelvin(start + g * step)) for g in GRADES)
    except EvencastError:
        return math.inf
    return max(map(abs, losses)) * 6 + max(map(abs, even)) / 0.002 + 0.3 * abs(double) / 0.005


def loss_stops(light: Floats, through: Floats) -> float:
    """What a transmittance takes from a light. [stop]"""
    y_bar = cie_1931_2deg().cmf_grid[:, 1]
    return stops_of_ratio(float(light * through @ y_bar) / float(light @ y_bar))


def graded(dyes: DyeSet, *, from_k: float, to_k: float) -> Floats:
    """Transmittance of the grade that takes one Kelvin to the other. [(81,)]"""
    light, wish = white(from_k), mired_shift(from_k=from_k, to_k=to_k)
    return dyes.transmittance(solve_factor(dyes, lambda t: shift_mired(light, t), wish))


def _drift(dyes: DyeSet, from_k: float, to_k: float) -> float:
    """Duv of a grade less that of what N Kelvin stands for."""
    through = uv(white(from_k) * graded(dyes, from_k=from_k, to_k=to_k))
    return float(mired_duv(through)[1] - mired_duv(white_uv(to_k))[1])


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("series", choices=SERIES)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--tries", type=int, default=400)
    args = parser.parse_args()
    for reached, nm, dyes in search(SERIES[args.series], seed=args.seed, tries=args.tries)[:5]:
        print(f"{reached:.3f}: base {dyes.base}, bands {nm} nm, densities {dyes.density.round(4)}")
