"""How near is near enough, by the role a light plays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

import numpy as np

from evencast.quantities import Floats

LEAST_SIDE_MIRED = 5.0
"""A side that allows nothing, as a lamp in shot allows no cool, still has misses that are small
and misses that are not: they are weighed as if it allowed this."""

LightRole = Literal["key", "fill", "background", "practical", "view", "other"]


@dataclass(frozen=True, slots=True)
class Allowed:
    """How far a light may be from its aim.

    mired_low, mired_high : allowed residual, cool end (0 or less) and warm end. [mired]
    duv                   : allowed residual to the green and to the magenta side
    stops                 : allowed residual, brighter or darker
    """

    mired_low: float
    mired_high: float
    duv: float
    stops: float

    def strain(self, residual_mired: Floats, residual_duv: Floats) -> Floats:
        """Residual of colour as a share of what is allowed: 1 at the edge, infinite without
        a CCT. The larger of both shares, mired by its own side. [(...,)]"""
        side = np.where(residual_mired < 0, -self.mired_low, self.mired_high)
        by_mired = np.abs(residual_mired) / np.maximum(side, _EXACT_MIRED)
        by_duv = np.abs(residual_duv) / max(self.duv, _EXACT_DUV)
        result: Floats = np.fmax(by_mired, by_duv)
        return np.where(np.isfinite(residual_mired), result, np.inf)

    def eased(self) -> Allowed:
        """The same with at least `LEAST_SIDE_MIRED` to either side: how far outside counts."""
        low = min(self.mired_low, -LEAST_SIDE_MIRED)
        return replace(self, mired_low=low, mired_high=max(self.mired_high, LEAST_SIDE_MIRED))

    def say(self) -> str:
        """In words: "5 mired and 0.0015 Duv", "0 cool to 60 warm mired and 0.003 Duv"."""
        if self.mired_high == -self.mired_low:
            return f"{self.mired_high:g} mired and {self.duv:g} Duv"
        return (
            f"{abs(self.mired_low):g} cool to {self.mired_high:g} warm mired and {self.duv:g} Duv"
        )


_EXACT_MIRED, _EXACT_DUV = 1e-2, 1e-6
"""What still counts as none where none is allowed: below any printed digit."""

_WITHIN_REACH = Allowed(-12.0, 12.0, 0.003, 0.5)

DEFAULT_ALLOWED: Mapping[LightRole, Allowed] = MappingProxyType(
    {
        "key": Allowed(-5.0, 5.0, 0.0015, 0.25),
        "fill": _WITHIN_REACH,
        "background": _WITHIN_REACH,
        "practical": Allowed(0.0, 60.0, 0.003, 1.0),
        "view": Allowed(-20.0, 20.0, 0.006, 1.0),
        "other": _WITHIN_REACH,
    }
)
"""Common practice, no source: lights on one face agree within about two just visible steps,
the rest of the room within five, and a lamp in shot may be warm but not green."""
