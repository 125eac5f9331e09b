"""What one filter does to one light, as numbers: those that `through` tells, and what follows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache, cached_property

from evencast.actions.doubt import Looks, looks, middle
from evencast.actions.reading import green_duv, rounded
from evencast.actions.through import shift_band
from evencast.colour import Spread, spread_of_power, white, xyz
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.filters.dyes import shift_mired
from evencast.lights import Light, builtin
from evencast.results.card import CardElsewhere, Ends
from evencast.results.light import Band

TUNGSTEN, DAYLIGHT = "tungsten 3200 K", "daylight 5600 K"
OTHERS = ("tungsten 3200 K", "daylight 5600 K", "LED-B3", "FL2", "FL11")
"""Lamps a filter is told on beside its own: two smooth ones, a phosphor LED and two tubes."""


@dataclass(frozen=True, eq=False)
class Numbers:
    """One filter in front of one light."""

    filter: Filter
    light: Light
    seen: Looks

    @cached_property
    def bare_mired(self) -> float:
        """Of the bare light; nan without a CCT."""
        return middle(self.seen.bare.mired)

    @cached_property
    def filtered_mired(self) -> float:
        """Of the light through the filter; nan without a CCT."""
        return middle(self.seen.filtered.mired)

    @cached_property
    def shift_mired(self) -> float:
        """Filtered minus bare, + warmer; nan without a CCT."""
        return middle(self.seen.shift_mired)

    @cached_property
    def shift_duv(self) -> float:
        """Filtered minus bare, + greener."""
        return middle(self.seen.shift_duv)

    @cached_property
    def bare_green(self) -> float:
        """Green of the bare light beside the white of its Kelvin."""
        return green_duv(self.bare_mired, middle(self.seen.bare.duv)) or 0.0

    @cached_property
    def filtered_duv(self) -> float:
        """Duv of the light through the filter."""
        return middle(self.seen.filtered.duv)

    @cached_property
    def filtered_green(self) -> float | None:
        """Green through the filter beside the white of that Kelvin; None without a CCT."""
        return green_duv(self.filtered_mired, self.filtered_duv)

    @cached_property
    def green_change(self) -> float:
        """What the filter adds of green, beside whites; of Duv where there is no CCT."""
        after = self.filtered_green
        return self.shift_duv if after is None else after - self.bare_green

    @cached_property
    def loss_stops(self) -> float:
        """As `through` tells it."""
        return round(middle(self.seen.loss_stops), 4)

    @cached_property
    def band(self) -> Band | None:
        """As `through` tells it; None where every spectrum is known."""
        return None if self.seen.is_known else shift_band(self.seen)

    @cached_property
    def loss_ends(self) -> Ends | None:
        """The band of the loss."""
        low, high = (self.band or {}).get("loss_stops", (None, None))
        return None if low is None or high is None else (low, high)

    @property
    def transmission_percent(self) -> float:
        """What passes, by the loss."""
        return transmission_percent(self.loss_stops)

    @property
    def filter_factor(self) -> float:
        """By how much more light makes good what the filter takes."""
        return filter_factor(self.loss_stops)


def numbers(light: Light, each: Filter) -> Numbers:
    """One filter in front of one light.

    Raises  EvencastError where nothing passes
    """
    if not (xyz(light.members * each.members)[:, 1] > 0).all():
        raise EvencastError(
            f"nothing of {light.name} passes",
            where=each.name,
            remedy="Give a spectrum that passes some of the wavelengths this light has.",
        )
    return Numbers(each, light, looks(light, [each]))


def lamp_of(each: Filter) -> Light:
    """The light a filter is meant for: tungsten for the blue series, daylight for all else, or
    the Kelvin its printed numbers begin at."""
    if each.measured and each.role == "correction":
        cools = float(shift_mired(white(3200.0), each.transmittance)) < 0.0
        return builtin(TUNGSTEN if cools else DAYLIGHT)
    named = {3200.0: TUNGSTEN, 5600.0: DAYLIGHT}
    if each.on_k in named:
        return builtin(named[each.on_k])
    from evencast.lights import light_of

    return light_of(f"{each.on_k:g}K", kind="unknown")


def elsewhere(each: Filter, light: Light) -> list[CardElsewhere]:
    """What the filter does to a few other lamps, by its nominal spectrum's members."""
    found = []
    for name in OTHERS:
        other = builtin(name)
        if other.name != light.name:
            seen = Looks(other, [each], _bare(name), spread_of_power(other.power * each.members))
            found.append(
                CardElsewhere(
                    other.name,
                    rounded(middle(seen.shift_mired), 3),
                    round(middle(seen.shift_duv), 6),
                    round(middle(seen.loss_stops), 4),
                )
            )
    return found


@cache
def _bare(name: str) -> Spread:
    return spread_of_power(builtin(name).members)


def transmission_percent(loss_stops: float) -> float:
    """Light that passes. [percent]"""
    return 100.0 * math.pow(2.0, -loss_stops)


def filter_factor(loss_stops: float) -> float:
    """How many times the light is wanted."""
    return math.pow(2.0, loss_stops)


_ROLES = ("correction", "green", "ND", "diffusion", "effect")


def order(each: Numbers) -> tuple[int, bool, str, float, float, str]:
    """By role, series (those without one last) and strength."""
    strengths = {
        "correction": abs(each.shift_mired),
        "green": abs(each.shift_duv),
    }
    strength = strengths.get(each.filter.role, each.loss_stops)
    series = each.filter.series.casefold()
    return (
        _ROLES.index(each.filter.role),
        not series,
        series,
        round(strength, 1 if each.filter.role == "correction" else 4)
        if math.isfinite(strength)
        else math.inf,
        each.loss_stops,
        each.filter.name.casefold(),
    )
