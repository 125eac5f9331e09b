"""One light of a plan as it hangs, with what does not depend on the balance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from evencast.actions.doubt import Looks
from evencast.actions.hanging import Hanging
from evencast.actions.match import residual_band
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.plan import Plan
from evencast.plan.tolerance import Allowed
from evencast.results.light import Band, LightReading
from evencast.solver.aim import Aim
from evencast.solver.doubt import Ensemble, judged
from evencast.solver.stacks import Evaluated
from evencast.spectra import Spectrum


@dataclass(frozen=True, slots=True, eq=False)
class Lamp:
    """A light of a plan.

    seen     : how it looks through its sheets
    ensemble : the same, to be held against an aim
    lamp     : bare, as the plan has it
    bare, filtered : as the answer tells them
    """

    hanging: Hanging
    seen: Looks
    ensemble: Ensemble
    lamp: Light
    bare: LightReading
    filtered: LightReading

    @property
    def name(self) -> str:
        """As the plan calls it."""
        return self.hanging.entry.name

    @property
    def is_off(self) -> bool:
        """Whether it is off in the set-up."""
        return self.hanging.hung.off

    def against(self, aim: Aim, plan: Plan) -> tuple[Evaluated, Band | None]:
        """It as one row, held against an aim, and the band of what is left of it."""
        u, v = (float(each) for each in aim.uv)
        allowed = plan.allowed(self.hanging.entry.role)
        return _against(self.seen, self.ensemble, (u, v), (aim.mired, aim.duv), allowed)


@lru_cache(2048)
def _against(
    seen: Looks,
    ensemble: Ensemble,
    uv: tuple[float, float],
    mired_duv: tuple[float, float],
    allowed: Allowed,
) -> tuple[Evaluated, Band | None]:
    """Most lights hang as they did before a change, and the same balances are asked for again."""
    aim = Aim("", np.array(uv), *mired_duv)
    one = np.zeros((1, 1), dtype=int)
    found = judged(ensemble, one, np.ones(1, dtype=int), aim, allowed)
    return found, residual_band(seen, aim)


def is_same(old: Lamp, hanging: Hanging, bare: Light) -> bool:
    """Whether a light looks as it did: the same spectra behind the same sheets."""
    was = old.hanging
    return (
        (was.entry.behind is None) == (hanging.entry.behind is None)
        and _is_same_light(old.lamp, bare)
        and _is_same_light(was.light, hanging.light)
        and _are_same(was.sheets, hanging.sheets)
        and _are_same(was.fixed, hanging.fixed)
    )


def _is_same_light(one: Light, other: Light) -> bool:
    told = (one.name, one.kind, one.assumed, one.fitting, one.note)
    return (
        told == (other.name, other.kind, other.assumed, other.fitting, other.note)
        and _is_same_spectrum(one.spectrum, other.spectrum)
        and np.array_equal(one.power, other.power)
        and np.array_equal(one.members, other.members)
    )


def _is_same_spectrum(one: Spectrum | None, other: Spectrum | None) -> bool:
    if one is None or other is None:
        return one is other
    return np.array_equal(one.wavelengths_nm, other.wavelengths_nm) and np.array_equal(
        one.values, other.values
    )


def _are_same(ones: Sequence[Filter], others: Sequence[Filter]) -> bool:
    return len(ones) == len(others) and all(
        _told(one) == _told(other) and np.array_equal(one.members, other.members)
        for one, other in zip(ones, others, strict=True)
    )


def _told(each: Filter) -> tuple[object, ...]:
    known = (each.name, each.role, each.measured, each.series, each.note)
    return (*known, each.on_k, each.loss_range_stops)
