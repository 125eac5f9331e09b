"""What a light looks like through sheets, with all that light and sheets may be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from evencast.actions.reading import green_duv, reading, rounded
from evencast.colour import Spread, low_middle_high, spread_of_power, xy_of_uv
from evencast.filters import Filter, stack, stack_members
from evencast.lights import Light
from evencast.quantities import Floats
from evencast.results.light import Band, LightReading

UNUSUAL_SHARE = 0.02
"""Members without a colour temperature are worth a word from this share on."""


@dataclass(frozen=True, eq=False)
class Looks:
    """A light through sheets: the middle of what it may look like, and the band.

    bare, filtered : one member where every spectrum is known
    """

    light: Light
    filters: Sequence[Filter]
    bare: Spread
    filtered: Spread

    @property
    def reading(self) -> LightReading:
        """The middle as shown; worked out anew each time it is asked for."""
        nominal = reading(self.light, through=stack(self.filters))
        return nominal if self.is_known else _in_the_middle(nominal, self.filtered)

    @property
    def is_known(self) -> bool:
        """Whether every spectrum is known, so that there is no band."""
        return self.filtered.mired.size == 1

    @property
    def members(self) -> Floats:
        """The spectra that the light may have through the sheets. [(MEMBERS or 1, 81)]"""
        return np.asarray(self.light.members * stack_members(self.filters))

    @property
    def uv(self) -> Floats:
        """The colour in the middle. [(2,)]"""
        return _middle(np.moveaxis(self.filtered.uv, -1, 0))

    @property
    def shift_mired(self) -> Floats:
        """Filtered minus bare, of each member; infinite or nan where either has no CCT."""
        with np.errstate(invalid="ignore"):
            return np.asarray(self.filtered.mired - self.bare.mired)

    @property
    def shift_duv(self) -> Floats:
        """Filtered minus bare, of each member."""
        return np.asarray(self.filtered.duv - self.bare.duv)

    @property
    def loss_stops(self) -> Floats:
        """Light lost, of each member; infinite where nothing passes."""
        with np.errstate(divide="ignore"):
            return np.asarray(-np.log2(self.filtered.luminous / self.bare.luminous))

    @property
    def share_without_cct(self) -> float:
        """Share of members that have no colour temperature."""
        return float(np.mean(~np.isfinite(self.filtered.mired)))

    @cached_property
    def band(self) -> Band:
        """Ends of the colour and of the loss."""
        return colour_band(self.filtered) | {"loss_stops": ends(self.loss_stops, 4)}

    @cached_property
    def colour_ends(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Least and most mired, least and most Duv."""
        cool, _, warm = low_middle_high(self.filtered.mired)
        magenta, _, green = low_middle_high(self.filtered.duv)
        return (float(cool), float(warm)), (float(magenta), float(green))


def looks(light: Light, filters: Sequence[Filter]) -> Looks:
    """What a light looks like through a stack."""
    bare = spread_of_power(light.members)
    filtered = spread_of_power(light.members * stack_members(filters))
    return Looks(light, filters, bare, filtered)


def light_notes(light: Light, *, from_file: bool) -> list[str]:
    """What to know of a light: how its file was read, or what a reading leaves open."""
    told = light.note and (light.assumed or from_file)
    return [f"{light.name}: {light.note}."] if told else []


def colour_band(spread: Spread) -> Band:
    """Ends of Kelvin, mired and Duv."""
    cool, _, warm = low_middle_high(spread.mired)
    return {
        "cct_k": (_kelvin(float(warm)), _kelvin(float(cool))),
        "mired": ends(spread.mired, 3),
        "duv": ends(spread.duv, 6),
    }


def middle(values: Floats) -> float:
    """The middle of members' values; nan where there is none."""
    found = float(low_middle_high(values)[1])
    return found if math.isfinite(found) else math.nan


def ends(values: Floats, digits: int) -> tuple[float | None, float | None]:
    """Ends of a band, None where there is none."""
    low, _, high = low_middle_high(values)
    return rounded(float(low), digits), rounded(float(high), digits)


def _in_the_middle(nominal: LightReading, spread: Spread) -> LightReading:
    """A reading with the middle of each quantity in place of the nominal one."""
    mired, duv = middle(spread.mired), middle(spread.duv)
    x, y = xy_of_uv(_middle(np.moveaxis(spread.uv, -1, 0)))
    return replace(
        nominal,
        state="ok" if math.isfinite(mired) else "no_cct",
        cct_k=rounded(1e6 / mired, 2),
        mired=rounded(mired, 3),
        duv=rounded(duv, 6),
        green_duv=green_duv(mired, duv),
        x=rounded(float(x), 6),
        y=rounded(float(y), 6),
    )


def _middle(values: Floats) -> Floats:
    return np.asarray(low_middle_high(values)[1])


def _kelvin(at_mired: float) -> float | None:
    return rounded(1e6 / at_mired, 2) if math.isfinite(at_mired) else None
