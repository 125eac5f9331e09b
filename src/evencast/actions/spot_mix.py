"""All lights that fall on one spot, together, with all that sheets, lights and levels may be.

The ends of a level are limits of knowledge, not chance: so they are put end to end. Which ends
make a mix coolest, warmest, greenest is looked for with the middle colour of each light; there
every member is then asked.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from evencast.actions.doubt import Looks, looks
from evencast.actions.reading import rounded
from evencast.colour import Spread, low_middle_high, spread_of, uv_of_xyz, xyz
from evencast.filters import stack, stack_members
from evencast.lights import Light
from evencast.lights.mixing import mix, pull
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.results.light import Band, LightReading
from evencast.solver.aim import Aim, strain_of
from evencast.solver.stray import least_stops

MIDDLE = 1
"""Place of the middle where least, middle and most are told."""

OF_AIM = frozenset({"aim", "without", "strain_together", "strain_alone"})
"""What of a mix depends on what it is held against."""

_EXACTLY = 1.0 + 1e-9
_SIDES, _STEP = 8, 0.5
"""Sides that the edge is looked for from, and how far a light is turned up at a time. Against all
combinations of four lights, each known within 10 to 1, the ends of a mix are met within 0.001
mired and 0.0004 Duv, those of a pull within a seventh of their band, as it may be most between the
levels that are tried."""


@dataclass(frozen=True, slots=True, eq=False)
class Falling:
    """One light where it falls.

    role   : its role in the plan
    amount : (3,) least, middle and most of its level there behind scrims and frost, before
             sheets; of all lights in one unit
    lux    : its middle level in lux behind scrims and frost, before sheets; None without
    """

    name: str
    role: str
    seen: Looks
    amount: Floats
    lux: float | None

    @property
    def passed(self) -> Floats:
        """Share of the light that its sheets let through. [(n,)]"""
        return np.asarray(self.seen.filtered.luminous / self.seen.bare.luminous)

    @property
    def power(self) -> Floats:
        """The spectra it may have behind its sheets. [(n, 81)]"""
        return self.seen.light.members * stack_members(self.seen.filters)


@dataclass(frozen=True, slots=True)
class Part:
    """What one light does in a mix, whatever that is held against, as it is told.

    stops : against all light there
    lux   : behind its sheets; None without
    pull_mired, pull_duv : what it moves the mix by, in the middle
    band  : ends of both; None where all is known, or nothing else falls there
    """

    share: float
    stops: float
    lux: float | None
    pull_mired: float | None
    pull_duv: float | None
    band: Band | None


@dataclass(frozen=True, eq=False)
class Mixed:
    """Lights on one spot, at least one.

    aim, allowed : what the mix is held against, and how far off it may be
    """

    name: str
    lights: Sequence[Falling]
    aim: Aim
    allowed: Allowed

    @cached_property
    def amounts(self) -> Floats:
        """Least, middle and most of each light before its sheets. [(lights, 3)]"""
        return np.array([each.amount for each in self.lights])

    @cached_property
    def tristimulus(self) -> Floats:
        """Of each light behind its sheets, where its level before them is 1. [(lights, n, 3)]"""
        each_xyz = [xyz(each.power) / each.seen.bare.luminous[:, None] for each in self.lights]
        return np.stack(np.broadcast_arrays(*each_xyz))

    @cached_property
    def parts(self) -> Floats:
        """Of each light at its middle level. [(lights, n, 3)]"""
        return np.asarray(self.amounts[:, MIDDLE, None, None] * self.tristimulus)

    @cached_property
    def rests(self) -> Floats:
        """Of all but each light, at their middle levels. [(lights, n, 3)]"""
        return np.asarray(np.tensordot(1.0 - np.eye(len(self.lights)), self.parts, axes=1))

    @cached_property
    def total(self) -> Floats:
        """Of all lights at their middle level. [(n, 3)]"""
        return np.asarray(self.parts.sum(axis=0))

    @cached_property
    def levels(self) -> Floats:
        """All light there: least, middle and most. [(3,)]"""
        luminous = np.tensordot(self.amounts.T, self.tristimulus[..., 1], axes=1)
        return np.diagonal(low_middle_high(luminous))

    @cached_property
    def shares(self) -> Floats:
        """Share of each light, the mean over its members. [(lights,); the sum is 1]"""
        return np.asarray((self.parts[..., 1] / self.total[:, 1]).mean(axis=-1))

    @property
    def is_exact(self) -> bool:
        """Whether levels and spectra are all known, so that there is no band."""
        least, _, most = self.amounts.T
        return self.tristimulus.shape[1] == 1 and bool((most <= least * _EXACTLY).all())

    @cached_property
    def seen(self) -> Looks:
        """The mix as one light, at middle levels."""
        brings = [each.amount[MIDDLE] * each.passed for each in self.lights]
        members = mix([each.power for each in self.lights], brings)
        nominal = mix(
            [(each.seen.light.power * stack(each.seen.filters))[None] for each in self.lights],
            [each.amount[MIDDLE] * _nominally_passed(each.seen) for each in self.lights],
        )
        together = Light(
            self.name,
            "mix",
            nominal[0],
            assumed=any(each.seen.light.assumed for each in self.lights),
            possible=members if len(members) > 1 else None,
        )
        return looks(together, [])

    @cached_property
    def reading(self) -> LightReading:
        """What a meter says of it."""
        return self.seen.reading

    def at(self, aim: Aim) -> Mixed:
        """The same lights held against another aim; what does not depend on it is not worked out
        again."""
        other = replace(self, aim=aim)
        known = {name: value for name, value in vars(self).items() if name not in OF_AIM}
        vars(other).update({**known, "aim": aim})
        return other

    @cached_property
    def without(self) -> Floats:
        """Strain of the mix without each light; infinite where nothing is left. [(lights,)]"""
        return self._strain(self._rests_seen)

    @cached_property
    def strain_together(self) -> float:
        """Strain of the mix."""
        return float(self._strain(self._total_seen))

    @cached_property
    def strain_alone(self) -> Floats:
        """Strain of each light by itself. [(lights,)]"""
        return self._strain(self._parts_seen)

    @cached_property
    def alone(self) -> tuple[Floats, Floats]:
        """Mired and Duv of each light by itself, its middle. [(lights,)]"""
        return _middle(self._parts_seen.mired), _middle(self._parts_seen.duv)

    @cached_property
    def pulls(self) -> tuple[Floats, Floats]:
        """Mired and Duv that each light moves the mix by: least, middle, most. [(3, lights)]"""
        light, others = self._furthest_pulls()
        by_mired, by_duv = pull(
            light[..., None, None] * self.tristimulus,
            np.tensordot(others, self.tristimulus, axes=1),
        )
        return _ends(by_mired), _ends(by_duv)

    @cached_property
    def told(self) -> list[Part]:
        """Of each light."""
        by_mired, by_duv = (each.T.tolist() for each in self.pulls)
        is_certain = self.is_exact or len(self.lights) == 1
        return [
            Part(
                share=round(share, 6),
                stops=round(math.log2(share), 4) + 0.0,
                lux=None if light.lux is None else six(light.lux * float(light.passed.mean())),
                pull_mired=rounded(of_mired[MIDDLE], 3),
                pull_duv=rounded(of_duv[MIDDLE], 6),
                band=None
                if is_certain
                else {"pull_mired": outer(of_mired, 3), "pull_duv": outer(of_duv, 6)},
            )
            for light, share, of_mired, of_duv in zip(
                self.lights, self.shares.tolist(), by_mired, by_duv, strict=True
            )
        ]

    @cached_property
    def reach(self) -> tuple[Floats, Floats]:
        """Mired and Duv of the mix: least, middle, most. [(3,)]"""
        spread = spread_of(np.tensordot(self._furthest_mixes(), self.tristimulus, axes=1))
        return _ends(spread.mired), _ends(spread.duv)

    def strain(self, tristimulus: Floats) -> Floats:
        """How far the middle is from the aim, 1 at the edge of the tolerance. [(..., n, 3)]"""
        return self._strain(spread_of(tristimulus))

    def _strain(self, spread: Spread) -> Floats:
        def miss_uv() -> Floats:
            away = np.moveaxis(spread.uv - self.aim.uv, -1, 0)
            return np.asarray(np.median(np.hypot(*away), axis=-1))

        at_mired, at_duv = _middle(spread.mired), _middle(spread.duv)
        return strain_of(self.aim, self.allowed, at_mired, at_duv, miss_uv)

    def dimmed(self, place: int, stops: Floats) -> Floats:
        """The mix with so many stops less of one light. [(k, n, 3)]"""
        share = np.exp2(-np.asarray(stops))[:, None, None]
        return np.asarray(self.rests[place] + share * self.parts[place])

    def stops_to_pull_inside(self, place: int) -> float | None:
        """How many stops less of a light bring its pull inside; None where none do."""
        if place not in self._stops_to_pull_inside:
            self._stops_to_pull_inside[place] = self._found_stops(place)
        return self._stops_to_pull_inside[place]

    @cached_property
    def _stops_to_pull_inside(self) -> dict[int, float | None]:
        return {}

    @cached_property
    def _total_seen(self) -> Spread:
        return spread_of(self.total)

    @cached_property
    def _parts_seen(self) -> Spread:
        return spread_of(self.parts)

    @cached_property
    def _rests_seen(self) -> Spread:
        return spread_of(self.rests)

    def _found_stops(self, place: int) -> float | None:

        def strain(stops: Floats) -> Floats:
            light = np.exp2(-stops)[:, None, None] * self.parts[place]
            by_mired, by_duv = pull(light, self.rests[place])
            return self.allowed.strain(_middle(by_mired), _middle(by_duv))

        return least_stops(strain)

    def stops_to_be_inside(self, place: int) -> float | None:
        """How many stops less of a light bring the mix inside; None where none do."""
        return least_stops(lambda stops: self.strain(self.dimmed(place, stops)))

    def _furthest_mixes(self) -> Floats:
        """Levels of all lights: their middle, then those of the coolest, the warmest, the most
        magenta and the greenest mix. [(5, lights)]"""
        spread = spread_of(self._ways @ self._colours)
        return self._ways[_furthest(spread.mired, spread.duv)]

    def _furthest_pulls(self) -> tuple[Floats, Floats]:
        """Levels of each light, and of all others beside it, 0 for itself: their middle, then
        those at which it pulls most to each side. [(5, lights), (5, lights, lights)]"""
        own = self.amounts.T[[MIDDLE, 0, -1]]
        together = (self._ways @ self._colours)[:, None]
        rest = together - self._ways[..., None] * self._colours
        by_mired, by_duv = pull(own[:, None, :, None] * self._colours, rest)
        count = len(self.lights)
        place = _furthest(by_mired.reshape(-1, count), by_duv.reshape(-1, count))
        own_place, way = np.divmod(place, len(self._ways))
        others = self._ways[way] * (1.0 - np.eye(count))
        return own[own_place, np.arange(count)], others

    @cached_property
    def _colours(self) -> Floats:
        """Middle colour of each light, to look by for levels. [(lights, 3)]"""
        return np.asarray(np.median(self.tristimulus, axis=1))

    @cached_property
    def _ways(self) -> Floats:
        """Levels of all lights: their middle, then round the edge of what the mix can be.
        [(k, lights)]

        To be furthest to one side in u, v every light on that side gives its most and every
        other its least. Where they part is not known: so they are turned up one after the other,
        but for those whose level is known.
        """
        least, middle, most = self.amounts.T
        known = most <= least * _EXACTLY
        if known.all():
            return np.asarray(middle[None])
        least, most, colours = least[~known], most[~known], self._colours[~known]
        turn = 2.0 * np.pi * np.arange(_SIDES) / _SIDES
        sides = _evened(uv_of_xyz(colours)) @ [np.cos(turn), np.sin(turn)]
        order = np.argsort(np.argsort(sides, axis=0), axis=0)
        steps = np.arange(0.0, len(colours) + _STEP, _STEP)[:, None, None]
        turned_up = np.clip(steps - order.T, 0.0, 1.0).reshape(-1, len(colours))
        ways = np.tile(middle, (1 + len(turned_up), 1))
        ways[1:, ~known] = least * (most / least) ** turned_up
        return ways


def outer(values: Sequence[float] | Floats, digits: int) -> tuple[float | None, float | None]:
    """Ends of least, middle and most."""
    return rounded(values[0], digits), rounded(values[-1], digits)


def six(value: float) -> float:
    """Six digits, which is more than any level is known to."""
    return float(f"{value:.6g}")


def _furthest(by_mired: Floats, by_duv: Floats) -> NDArray[np.intp]:
    """Places on the first axis: the first, then of the least and most mired and Duv. [(5, ...)]"""
    ends = [find(by, axis=0) for by in (by_mired, by_duv) for find in (np.argmin, np.argmax)]
    return np.stack([np.zeros_like(ends[0]), *ends])


def _evened(places: Floats) -> Floats:
    """Places in a plane, stretched to lie as wide one way as the other: whites lie along a curve,
    and seen from most sides they would come in one and the same order. [(n, 2)]"""
    away = places - places.mean(axis=0)
    turned = away @ np.linalg.eigh(away.T @ away)[1]
    return np.asarray(turned / np.maximum(np.ptp(turned, axis=0), 1e-12))


def _middle(values: Floats) -> Floats:
    """The middle over members. [(..., n) to (...,)]"""
    return np.asarray(low_middle_high(values)[MIDDLE])


def _ends(values: Floats) -> Floats:
    """Over members and ways to set levels, of which the first is the middle: least, middle, most.
    [(k, ..., n) to (3, ...)]"""
    low, middle, high = low_middle_high(values)
    return np.stack([low.min(axis=0), middle[0], high.max(axis=0)])


def _nominally_passed(seen: Looks) -> float:
    """Share of the nominal light that the nominal sheets let through."""
    bare, filtered = xyz(np.stack([seen.light.power, seen.light.power * stack(seen.filters)]))
    return float(filtered[1] / bare[1])
