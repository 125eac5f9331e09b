"""Every spectrum a sheet may have that is known by declared numbers alone.

A few printed numbers leave the spectrum open: many mixtures of dyes have them. So dyes are
drawn: a clear base, three absorption bands at places and of widths that dyes have, each
bent by a smooth wobble. Their amounts are then solved so that the mixture has the declared
colour and loss, redrawn within their rounding. What all these sheets do to another light
is the answer with its doubt.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.colour import cie_1931_2deg, uv_of_mired_duv
from evencast.errors import EvencastError
from evencast.filters.dyes import DyeSet, bands
from evencast.quantities import Floats
from evencast.spectra import GRID_NM, MEMBERS, uniform

_BASE = (0.86, 0.93)
_CENTRES_NM = ((405.0, 465.0), (508.0, 574.0), (595.0, 678.0))
_WIDTHS_NM = ((75.0, 150.0), (75.0, 150.0), (90.0, 190.0))
"""Where three dyes absorb and how wide (full width at half maximum): a plausible range of
our own, common practice, no source."""

_WOBBLE = 0.12
_WOBBLE_NM = 45.0
"""Real bands are no Gaussians: each is scaled by 1 + a smooth random curve of this
deviation and this correlation length."""

_KNOTS_NM = np.arange(370.0, 791.0, 20.0)

CLEAREST_PRINTED = 0.94
"""No film passes more than 0.92; printed losses come out a little brighter than that."""

ROUNDING_DUV = 0.002
"""Printed Kelvins say nothing of green: sheets of one name differ by about this much.
Common practice, no source."""

_MARGIN = 1.05
"""Rounding taken a twentieth wider, for a band must hold what lies at the very edge."""

_ROWS = 288
_ROUNDS = 8
_STEPS = 12
_LONGEST_STEP = 0.7
_CONVERGED = 1e-5
_NEVER_SINGULAR = 1e-12 * np.eye(3)
_LN10 = np.log(10.0)
_TO_WEIGHT = np.array([1.0, 15.0, 3.0])


@dataclass(frozen=True, slots=True, eq=False)
class DeclaredNumbers:
    """What a sheet is declared to do on one light.

    light          : (81,) the light it is declared on
    mired          : colour of the light through the sheet
    duv            : the same, from the Planckian locus
    stops          : loss
    rounding_mired : half the interval that the declared colour stands for
    rounding_stops : the same of the loss
    grey           : share of light that a neutral part of the sheet passes, 1 for none
    """

    light: Floats
    mired: float
    duv: float
    stops: float
    rounding_mired: float
    rounding_stops: float
    grey: float = 1.0


def fitting_spectra(declared: DeclaredNumbers, *, key: str) -> Floats:
    """Transmittances that all have the declared numbers within their rounding. [(MEMBERS, 81)]

    Where dyes cannot be as bright as declared they are taken darker, in sixths of a stop.

    key : gives its own draws; the same key gives the same spectra
    Raises  EvencastError where hardly any mixture of dyes has the declared colour
    Error   colour to 1e-5 uv. How often the band of 5 to 95 percent holds the truth is
            measured in tests/laws/test_coverage.py
    """
    found: list[Floats] = []
    count = 0
    for turn in range(_ROUNDS):
        darker_stops = max(0, turn - 1) / 6.0
        found.append(_drawn(declared, f"{key} {turn}", darker_stops))
        count += len(found[-1])
        if count >= MEMBERS:
            return np.concatenate(found)[:MEMBERS]
    raise EvencastError(
        f"hardly any mixture of dyes takes that light to {1e6 / declared.mired:.0f} K "
        f"at {declared.stops:.2f} stop",
        where=key,
        remedy="Check the Kelvins, the Duv and the loss, or give a measured spectrum.",
    )


def unfitted_spectra(dyes: DyeSet, *, key: str) -> Floats:
    """Transmittances of a sheet without any declared number: its dyes moved by some
    10 nm, wider or narrower by a tenth, stronger or weaker by a sixth. [(MEMBERS, 81)]"""
    count = len(dyes.density)
    draw = 2.0 * uniform(key, 3 * count) - 1.0
    place, width, strength = np.split(draw, 3, axis=1)
    centre = dyes.centre_nm + 10.0 * place
    fwhm = dyes.fwhm_nm * (1.0 + width / 10.0)
    density = dyes.density * (1.0 + strength / 6.0)
    return np.asarray(dyes.base * 10.0 ** -_mixed(density, bands(centre, fwhm)))


def _drawn(declared: DeclaredNumbers, key: str, darker_stops: float) -> Floats:
    """Spectra of one round of draws, without those that no mixture can have. [(n, 81)]"""
    draw = uniform(key, 10 + len(_KNOTS_NM), rows=_ROWS)
    either_side = 2.0 * draw[:, 7:9] - 1.0
    half = _MARGIN * declared.rounding_stops
    mixtures = _Mixtures(
        clear=declared.grey * _between(*_BASE, draw[:, 0]),
        absorption=_three_bands(draw[:, 1:7]) * _wobble(draw[:, 10:])[:, None, :],
        clearest=CLEAREST_PRINTED * declared.grey,
    )
    aim_uv = uv_of_mired_duv(
        declared.mired + _MARGIN * declared.rounding_mired * either_side[:, 0],
        declared.duv + _MARGIN * ROUNDING_DUV * either_side[:, 1],
    )
    loss_stops = declared.stops - half + (2.0 * half + darker_stops) * draw[:, 9]
    wanted = np.column_stack([aim_uv, -np.log(2.0) * loss_stops])
    stimulus = declared.light[:, None] * cie_1931_2deg().cmf_grid
    return mixtures.dosed(stimulus / stimulus[:, 1].sum(), wanted)


def _between(low: Floats | float, high: Floats | float, share: Floats) -> Floats:
    result: Floats = low + (high - low) * share
    return result


def _three_bands(draw: Floats) -> Floats:
    """Three absorption bands per row, 1 at their centres. [(n, 6) to (n, 3, 81)]"""
    limits = np.array([*_CENTRES_NM, *_WIDTHS_NM])
    drawn = _between(limits[:, 0], limits[:, 1], draw)
    return bands(drawn[:, :3], drawn[:, 3:])


def _wobble(draw: Floats) -> Floats:
    """Smooth factors around 1. [(n, knots) to (n, 81)]"""
    hills = np.exp(-(((GRID_NM - _KNOTS_NM[:, None]) / _WOBBLE_NM) ** 2))
    hills /= np.sqrt((hills**2).sum(axis=0))
    curve: Floats = 1.0 + _WOBBLE * np.sqrt(3.0) * (2.0 * draw - 1.0) @ hills
    return curve


@dataclass(frozen=True, slots=True, eq=False)
class _Mixtures:
    """Sets of three dyes whose amounts are open.

    clear      : (n,) transmittance without dye
    absorption : (n, 3, 81) density of each dye at amount 1
    clearest   : no mixture passes more at any wavelength
    """

    clear: Floats
    absorption: Floats
    clearest: float

    def dosed(self, stimulus: Floats, wanted: Floats) -> Floats:
        """Transmittances that do what is wanted, without those sets that cannot. [(m, 81)]

        stimulus : (81, 3) weights that give X, Y, Z of the light through a sheet
        wanted   : (n, 3) u, v and ln Y, Y as a share of the bare light's
        An amount may come out negative, which is a shape and no substance.
        """
        typical = _Mixtures(
            self.clear.mean(keepdims=True), self.absorption.mean(axis=0)[None], self.clearest
        )
        start, _, _ = typical._solved(
            np.full((1, 3), 0.2), stimulus, wanted.mean(axis=0)[None], enough=1
        )
        _, through, miss = self._solved(
            np.repeat(start, len(wanted), axis=0), stimulus, wanted, enough=MEMBERS
        )
        return np.asarray(through[miss < _CONVERGED])

    def _solved(
        self, amounts: Floats, stimulus: Floats, wanted: Floats, *, enough: int
    ) -> tuple[Floats, Floats, Floats]:
        """Newton's steps from `amounts` until enough have converged: amounts, transmittances,
        and the largest miss of each. [(n, 3), (n, 81) and (n,)]"""
        for _ in range(_STEPS):
            through = self.clear[:, None] * np.exp(-_LN10 * _mixed(amounts, self.absorption))
            free = np.where(through < self.clearest, through, 0.0)
            through = np.minimum(through, self.clearest)
            reached, slope = _reached(through, free, self.absorption, stimulus)
            miss = reached - wanted
            worst = np.abs(miss).max(axis=1)
            if np.count_nonzero(worst < _CONVERGED) >= enough:
                break
            change = np.linalg.solve(slope + _NEVER_SINGULAR, -miss[..., None])[..., 0]
            longest = np.abs(change).max(axis=1, keepdims=True)
            amounts = amounts + change / np.maximum(1.0, longest / _LONGEST_STEP)
        return amounts, through, worst


def _mixed(amounts: Floats, absorption: Floats) -> Floats:
    """Densities of mixtures. [(n, 3), (n, 3, 81) to (n, 81)]"""
    density: Floats = (amounts[:, None, :] @ absorption)[:, 0]
    return density


def _reached(
    through: Floats, free: Floats, absorption: Floats, stimulus: Floats
) -> tuple[Floats, Floats]:
    """u, v and ln Y of sheets, and how each dye changes them. [(n, 3) and (n, 3, 3)]

    free : (n, 81) transmittance where dye changes it, 0 where it is as clear as can be
    """
    xyz = through @ stimulus
    d_xyz = -_LN10 * ((absorption * free[:, None, :]) @ stimulus)
    weight, d_weight = xyz @ _TO_WEIGHT, d_xyz @ _TO_WEIGHT
    u, v = 4.0 * xyz[:, 0] / weight, 6.0 * xyz[:, 1] / weight
    slope = [
        (4.0 * d_xyz[..., 0] - u[:, None] * d_weight) / weight[:, None],
        (6.0 * d_xyz[..., 1] - v[:, None] * d_weight) / weight[:, None],
        d_xyz[..., 1] / xyz[:, 1, None],
    ]
    return np.stack([u, v, np.log(xyz[:, 1])], axis=-1), np.stack(slope, axis=-2)
