"""The lighting ratio. Two things are called by that name; both are told, by their names.

key : fill           each light alone
(key + fill) : fill  the side that both reach, against the side that the fill alone reaches
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Ratio:
    """Key and fill, each as the illuminance of that light alone, in any one unit."""

    key: float
    fill: float

    @property
    def key_to_fill(self) -> float:
        """Key alone to fill alone."""
        return self.key / self.fill

    @property
    def sum_to_fill(self) -> float:
        """Key plus fill to fill."""
        return (self.key + self.fill) / self.fill


def stops(ratio: float) -> float:
    """A ratio in stops. [stop; 2:1 is one]"""
    return math.log2(ratio)


def fill_by_key_to_fill(key: float, ratio: float) -> float:
    """The fill for a ratio of key alone to fill alone."""
    return key / ratio


def fill_by_sum_to_fill(key: float, ratio: float) -> float:
    """The fill for a ratio of key plus fill to fill; above 1, since the sum is more than a part."""
    return key / (ratio - 1.0)
