"""Spectra that have the same printed numbers: what the numbers leave open.

Each member is the smoothest density with a smooth random wobble, bent back until it has
numbers drawn within the rounding. Wobbles are sums of cosines, since 81 wavelengths that
wobble over tens of nanometres have some twenty degrees of freedom.
"""

from __future__ import annotations

import numpy as np

from evencast.filters.printed import CLEAREST_DENSITY, Printed
from evencast.quantities import Floats
from evencast.spectra import GRID_NM
from evencast.spectra.draws import MEMBERS, normal, uniform

_WOBBLE = 0.3
"""Deviation of a wobble, as a part of the density."""

_COMMON_WOBBLE = 0.4
"""A wavelength wobbles by its own density and this part of the mean density."""

_SHORTEST_NM, _LONGEST_NM = 18.0, 70.0
_CALM = 0.5
"""Members differ in how wildly they wobble, from exp(-this) to exp(this)."""

_COSINES = 22
_LEAST_MEAN = 0.02
_KNEE = 0.15
_LOWEST = 0.02
_FIRST_STEPS, _LAST_STEPS = 4, 4
_ALLOWED, _MOST = 1.02, 1.05
"""Members are bent to miss a number by the first of these roundings at most; one that ends
beyond the second is none."""


def lookalikes(numbers: Printed, density: Floats, *, key: str, members: int = MEMBERS) -> Floats:
    """Spectra that have the printed numbers within their rounding. [(members, 81)]

    density : (81,) of the smoothest spectrum
    key     : name of the draws
    Error   a 5 to 95 percent band holds the truth on other lamps in some 90 of 100 cases
            (docs/accuracy.md#xyy)
    """
    wobbling = _Wobbling(numbers, density, key=key, members=members)
    return wobbling.within_rounding(wobbling.likely())


class _Wobbling:
    """The members' densities as functions of their cosines' amplitudes, (members, COSINES).

    A density is that of a clear sheet and reach x (t + sqrt(t^2 + knee^2)) / 2, where t is
    rest + wobble: it is never less than clear and wobbles freely where it is far from that.
    """

    def __init__(self, numbers: Printed, density: Floats, *, key: str, members: int) -> None:
        self.numbers = numbers
        self.smoothest = density
        dye = np.maximum(density - CLEAREST_DENSITY, 0.0)
        common = _COMMON_WOBBLE * max(float(dye.mean()), _LEAST_MEAN)
        self.reach = _WOBBLE * (dye + common)
        height = np.maximum(dye / self.reach, _LOWEST)
        self.rest = height - _KNEE**2 / (4.0 * height)
        place = (np.arange(len(GRID_NM)) + 0.5) / len(GRID_NM)
        self.cosines = np.cos(np.pi * np.arange(_COSINES)[:, None] * place)
        self.variance = _variances(key, members)
        self.drawn = normal(f"{key} wobble", _COSINES, rows=members) * np.sqrt(self.variance)
        drawn = uniform(f"{key} rounding", len(numbers.values), rows=members)
        self.rounded = 2.0 * drawn - 1.0
        by_cosine = numbers.weights[:, None, :] * self.cosines
        self.per_log = numbers.roundings_per_log()
        self.weights_by_cosine = np.ascontiguousarray(by_cosine.reshape(-1, len(GRID_NM)).T)

    def likely(self) -> Floats:
        """Amplitudes near those drawn that give about the numbers drawn. [(members, COSINES)]

        Source  randomise, then optimise: J. M. Bardsley, A. Solonen, H. Haario, M. Laine,
                SIAM J. Sci. Comput. 36 (2014) A1895-A1910
        """
        aim = self.numbers.log_tristimulus(self.rounded)
        amplitudes = self.drawn
        for _ in range(_FIRST_STEPS):
            miss, slope = self._miss(amplitudes, aim)
            away = miss + np.einsum("nij,nj->ni", slope, amplitudes - self.drawn)
            step = self.drawn + self._answer(slope, away, softness=1.0 / 3.0) - amplitudes
            amplitudes = amplitudes + self._shortened(step)
        return amplitudes

    def within_rounding(self, amplitudes: Floats) -> Floats:
        """The members' spectra, bent back to within rounding. [(members, 81)]

        A member's numbers are drawn in towards those of the smoothest spectrum until none
        is outside its rounding. One that does not come back gives its place to another.
        """
        smoothest = self.numbers.miss(10.0**-self.smoothest)
        away = self.numbers.miss(self._members(amplitudes)) - smoothest
        with np.errstate(divide="ignore"):
            room = (_ALLOWED - np.sign(away) * smoothest) / np.abs(away)
        drawn_in = smoothest + away * np.minimum(room.min(axis=1, keepdims=True), 1.0)
        aim = self.numbers.log_tristimulus(drawn_in)
        for _ in range(_LAST_STEPS):
            miss, slope = self._miss(amplitudes, aim)
            amplitudes = amplitudes + self._shortened(self._answer(slope, miss, softness=1e-6))
        members = np.concatenate([self._members(amplitudes), 10.0 ** -self.smoothest[None]])
        good = np.abs(self.numbers.miss(members)).max(axis=1) <= _MOST
        return np.resize(members[good], amplitudes.shape[:1] + GRID_NM.shape)

    def _members(self, amplitudes: Floats) -> Floats:
        """The spectra of amplitudes. [(members, COSINES) to (members, 81)]"""
        t = self.rest + amplitudes @ self.cosines
        density = self.reach * (t + np.hypot(t, _KNEE)) / 2.0
        result: Floats = 10.0 ** -(CLEAREST_DENSITY + density)
        return result

    def _miss(self, amplitudes: Floats, aim: Floats) -> tuple[Floats, Floats]:
        """How far X, Y, Z are under their aim, and how the amplitudes raise them, by
        logarithms but counted in roundings of x, y, Y. [(members, 3k), (members, 3k, COSINES)]"""
        t = self.rest + amplitudes @ self.cosines
        root = np.hypot(t, _KNEE)
        members = 10.0 ** -(CLEAREST_DENSITY + self.reach * (t + root) / 2.0)
        fall = -np.log(10.0) * members * self.reach * (1.0 + t / root) / 2.0
        total = members @ self.numbers.weights.T
        by_cosine = (fall @ self.weights_by_cosine).reshape(*total.shape, _COSINES)
        slope = np.matmul(self.per_log, by_cosine / total[..., None])
        return (aim - np.log(total)) @ self.per_log.T, slope

    def _answer(self, slope: Floats, miss: Floats, *, softness: float) -> Floats:
        """The likeliest amplitudes that make up for misses. [(members, COSINES)]"""
        weighted = slope * self.variance[:, None, :]
        inner = np.matmul(weighted, slope.transpose(0, 2, 1)) + softness * np.eye(miss.shape[1])
        by_number = np.linalg.solve(inner, miss[..., None])[..., 0]
        result: Floats = np.einsum("nij,ni->nj", weighted, by_number)
        return result

    def _shortened(self, step: Floats) -> Floats:
        """A step that changes no density by more than 0.3 at once."""
        longest = np.abs((step @ self.cosines) * self.reach).max(axis=1, keepdims=True)
        result: Floats = step * np.minimum(1.0, 0.3 / np.maximum(longest, 1e-12))
        return result


def _variances(key: str, members: int) -> Floats:
    """Variance of each cosine in each member: that of a wobble of one correlation length,
    adding up to the member's own. [(members, COSINES)]"""
    length, calm = uniform(f"{key} length", 2, rows=members).T
    correlation_nm = _SHORTEST_NM * (_LONGEST_NM / _SHORTEST_NM) ** length
    span_nm = 5.0 * len(GRID_NM)
    rate = np.pi * np.arange(_COSINES) / span_nm
    share = np.exp(-0.5 * (rate * correlation_nm[:, None]) ** 2)
    share[:, 0] /= 2.0
    result: Floats = 2.0 * share / share.sum(axis=1, keepdims=True)
    result *= np.exp(2.0 * _CALM * (2.0 * calm[:, None] - 1.0))
    return result
