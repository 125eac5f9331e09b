"""One light of a plan as it hangs, with what does not depend on the balance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from evencast.actions.doubt import Looks
from evencast.actions.hanging import Hanging
from evencast.actions.match import residual_band
from evencast.actions.reading import rounded
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.plan import Plan
from evencast.plan.tolerance import Allowed
from evencast.results.light import Band, LightReading
from evencast.solver.aim import Aim
from evencast.solver.doubt import Ensemble, inside
from evencast.spectra import Spectrum


@dataclass(frozen=True, slots=True)
class Held:
    """What is left of a light against an aim, as the answer tells it.

    within       : whether its middle is inside the tolerance
    share_within : of what it may be
    """

    within: bool
    share_within: float
    residual_mired: float | None
    residual_duv: float | None
    band: Band | None


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

    def against(self, aim: Aim, plan: Plan) -> Held:
        """It held against an aim."""
        u, v = (float(each) for each in aim.uv)
        allowed = plan.allowed(self.hanging.entry.role)
        return _held(self.seen, self.ensemble, (u, v), (aim.mired, aim.duv), allowed)


@lru_cache(2048)
def _held(
    seen: Looks,
    ensemble: Ensemble,
    uv: tuple[float, float],
    mired_duv: tuple[float, float],
    allowed: Allowed,
) -> Held:
    """Most lights hang as they did before a change, and the same balances are asked for again."""
    aim = Aim("", np.array(uv), *mired_duv)
    (is_within,), (share,) = inside(ensemble, aim, allowed)
    (left_mired,), (left_duv,) = ensemble.residual(aim)
    return Held(
        within=bool(is_within),
        share_within=round(float(share), 3),
        residual_mired=rounded(left_mired, 3),
        residual_duv=rounded(left_duv, 6),
        band=residual_band(seen, aim),
    )


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
