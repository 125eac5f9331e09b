"""How much light arrives: a level, and what distance, sheets and further lights do to it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from evencast.errors import EvencastError

NEAR_SIZES = 5.0
"""Inverse square holds from about this many times a light's size: common practice, no source."""

SCRIM_STOPS: dict[str, tuple[float, float]] = {
    "single": (0.5, 0.5),
    "double": (1.0, 1.0),
    "half single": (0.0, 0.5),
    "half double": (0.0, 1.0),
}
"""Least and most that a scrim takes: common practice. A half scrim covers half of the beam, so
that what it takes depends on where in the beam one stands."""

ALL_STOPS = 60.0
"""So many stops are all of the light, or none of it: no set and no meter reaches as far."""

Unit = Literal["lux", "meter"]


@dataclass(frozen=True, slots=True)
class Level:
    """The light that arrives at a place, as a range.

    low, high  : illuminance in lux; or, of the unit "meter", a stop freed of index and
                 shutter, which is proportional to it by the constant of that meter
    distance_m : from the light to that place; None where it is not known
    """

    low: float
    high: float
    unit: Unit
    distance_m: float | None = None

    def moved(self, to_m: float) -> Level:
        """The same light at another distance, by inverse square.

        Raises  EvencastError where the distance it holds at is not known
        """
        if self.distance_m is None:
            raise EvencastError(
                "the reading has no distance, so it cannot be moved",
                where="level",
                remedy="Say how far from the light it was read, for example 3m.",
            )
        share = (self.distance_m / to_m) ** 2
        return Level(self.low * share, self.high * share, self.unit, to_m)

    def losing(self, least_stops: float, most_stops: float) -> Level:
        """What is left of it behind sheets and scrims that take so much."""
        low, high = self.low * 2.0**-most_stops, self.high * 2.0**-least_stops
        return Level(low, high, self.unit, self.distance_m)

    def times(self, count: int) -> Level:
        """So many of the same light on one place."""
        return Level(self.low * count, self.high * count, self.unit, self.distance_m)

    def metered(self, constant: float) -> Level:
        """As a meter of that constant takes it, freed of index and shutter: E / C. A stop that
        was read is that already, whatever the constant of its meter."""
        if self.unit == "meter":
            return self
        return Level(self.low / constant, self.high / constant, "meter", self.distance_m)


def of_candela(low_cd: float, high_cd: float, *, distance_m: float) -> Level:
    """The level of a light by its candelas towards that place: E = I / d^2. [lx]"""
    return Level(low_cd / distance_m**2, high_cd / distance_m**2, "lux", distance_m)


def total(levels: Sequence[Level]) -> Level:
    """Several lights on one place, read in one unit: their sum; the distances are theirs."""
    if len({each.unit for each in levels}) != 1:
        raise EvencastError(
            "levels in lux and levels as a stop do not add up" if levels else "no level to add up",
            where="level",
            remedy="Give at least one, and all in lux or all as stops of one meter.",
        )
    low, high = sum(each.low for each in levels), sum(each.high for each in levels)
    return Level(low, high, levels[0].unit)


def in_reach(stops: float) -> float:
    """A loss, a gain or a gap, held to what counts as all of the light. [stop]"""
    return min(max(stops, -ALL_STOPS), ALL_STOPS)


def moving_stops(*, from_m: float, to_m: float) -> float:
    """What moving a light changes. [stop; positive is brighter]"""
    return 2.0 * math.log2(from_m / to_m)


def is_near(distance_m: float, *, size_m: float) -> bool:
    """Whether a light is so near for its size that inverse square overstates what moving does."""
    return distance_m < NEAR_SIZES * size_m
