"""From values to places in a picture, with marks at round values."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

ROUND = (1.0, 2.0, 5.0, 10.0)
Window = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale.

    low, high  : values at its ends, low < high
    start, end : where they lie, px; of a scale up the picture the end is the lesser
    """

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Where a value lies. [px]"""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def clamped(self, value: float) -> float:
        """Where a value lies, at an end if beyond it. [px]"""
        return self.at(min(max(value, self.low), self.high))

    def ends(self, low: float | None, high: float | None) -> tuple[float, float]:
        """Where the ends of a band lie; an end that is none runs off the scale. [px]"""
        first = self.start if low is None else self.clamped(low)
        return first, self.end if high is None else self.clamped(high)

    def holds(self, value: float) -> bool:
        """Whether a value lies between the ends, or on one."""
        return self.low <= value <= self.high

    def beyond(self, value: float) -> int:
        """-1 for a value below the low end, 1 above the high one, 0 between."""
        return (value > self.high) - (value < self.low)

    def marks(self, step: float) -> list[float]:
        """Multiples of the step from end to end."""
        return multiples(self.low, self.high, step)


def round_step(span: float, most: int) -> float:
    """The least step of 1, 2 or 5 times a power of ten that goes into the span at most so often."""
    if not (span > 0 and math.isfinite(span)):
        raise ValueError(f"{span!r} is no span")
    least = span / most
    power = 10.0 ** math.floor(math.log10(least))
    return next(power * step for step in (*ROUND, 20.0) if power * step >= least * (1.0 - 1e-9))


def multiples(low: float, high: float, step: float) -> list[float]:
    """Multiples of a step that lie between two values, ends included."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [number * step for number in range(first, last + 1)]


def window(
    values: Iterable[float], *, least: Window, most: Window, steps: Sequence[float]
) -> tuple[Window, float]:
    """The ends of an axis that holds the values, and the step of its marks.

    values : those that are not finite are passed over
    least  : what it holds in any case
    most   : what it never goes beyond; a value further out is to be told at the edge
    steps  : to choose from, small to large: the first that gives at most ten marks
    """
    inside = [min(max(value, most[0]), most[1]) for value in values if math.isfinite(value)]
    low, high = min([least[0], *inside]), max([least[1], *inside])
    step = next((each for each in steps if (high - low) / each <= 9.0), steps[-1])
    low, high = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    return (max(low, most[0]), min(high, most[1])), step
