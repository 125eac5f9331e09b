"""What each spot of a plan really gets: which lights fall there, how much, and their mix."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from evencast.actions.doubt import Looks
from evencast.actions.levels import BareLevel, level_of_reading
from evencast.actions.spot_answer import Place, Scene, answers
from evencast.actions.spot_mix import Falling, Mixed
from evencast.actions.taking import Taking
from evencast.errors import EvencastError, Problem
from evencast.lights.level import Level
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import quoted
from evencast.plan.plan import Plan
from evencast.plan.scene import Spot, SpotLight, SpotRole
from evencast.plan.tolerance import LightRole
from evencast.quantities import Floats
from evencast.results.expose import Range
from evencast.results.spot import SpotAnswer
from evencast.solver.aim import Aim

Taken = Range | tuple[float, float, float]
"""Stops that scrims, dimmer and frost take: least and most, or with the middle between."""

ASSUMED: tuple[tuple[str, SpotRole, tuple[LightRole, ...]], ...] = (
    ("key side", "key", ("key", "fill", "practical", "other")),
    ("fill side", "fill", ("fill", "practical", "other")),
    ("background", "background", ("background", "practical", "other")),
)
"""Spots of a plan that has none: name, role, and the lights that fall there."""


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Spots and what falls there, whatever it is held against.

    constants : of the meter that lux were turned into stops by; None where nothing was
    """

    every: Sequence[Place]
    camera: Taking
    constants: Range | None

    def answers(
        self,
        balance: Aim,
        shot: float | None,
        *,
        aims: Mapping[str, Aim] = MappingProxyType({}),
        kept: dict[str, Mixed] | None = None,
    ) -> list[SpotAnswer]:
        """What falls on each spot, its colour together, and which light pulls it off.

        shot : the f-number the camera is set to
        aims : by name, what a light shall look like where that is not the balance
        kept : see `spot_answer.answers`
        """
        scene = Scene(balance, aims, self.camera, shot, self.constants)
        return answers(self.every, scene, kept)


def spots(
    plan: Plan,
    seen: Mapping[str, Looks],
    bare: Mapping[str, Level],
    taken_stops: Mapping[str, Taken],
    camera: Taking,
) -> Places:
    """The spots of a plan, with the lights that fall there.

    seen        : by the name of each light that is on, how it looks as it hangs
    bare        : by name, its level at the subject before sheets, scrims and frost, where known
    taken_stops : by name, what takes light and no colour; left out, nothing
    """
    lit = {name: each for name, each in seen.items() if each.filtered.luminous.min() > 0}
    places = [_as_written(each, plan, lit, bare, camera) for each in plan.spot]
    if not places:
        places = _by_role(plan, lit, bare)
    units = {each.level.unit for place in places for each in place.lights}
    constants = camera.constants if len(units) > 1 else None
    falling = [
        Place(
            name=each.name,
            role=each.role,
            assumed=not plan.spot,
            allowed=plan.allowed(each.role),
            lights=[_falling(light, lit, taken_stops, constants) for light in each.lights],
            left_out=each.left_out,
        )
        for each in places
    ]
    return Places(falling, camera, constants)


def spot_problems(plan: Plan, camera: Taking) -> list[Problem]:
    """Readings of spots that no meter gives; places are those inside the document."""
    found = []
    for spot in plan.spot:
        for written in spot.light:
            if written.stops is not None:
                continue
            within = f"spot {quoted(spot.name)}.light {quoted(written.name)}"
            try:
                level_of_reading(written, camera=camera, within=within)
            except EvencastError as error:
                found.append(Problem("error", error.where, error.what, error.remedy))
    return found


def stray_spots(
    plan: Plan,
    stray: LightEntry,
    levels: Mapping[str, BareLevel],
    camera: Taking,
    over_wanted: Callable[[LightEntry], float],
) -> list[tuple[float, SpotRole]]:
    """Where a stray light falls: how much of it for all else there, and whose tolerance holds.

    over_wanted : how far a light's bare level lies over what it shall be; so much is taken off
    """
    everyone = dict.fromkeys(each.name for each in plan.light)
    bare = {name: each.level for name, each in levels.items()}
    places = [_as_written(each, plan, everyone, bare, camera) for each in plan.spot]
    found = []
    for place in places or _by_role(plan, everyone, bare):
        falling = {each.name: _metered(each.level, camera) for each in place.lights}
        own = falling.pop(stray.name, 0.0)
        for each in plan.light:
            if each.name in falling:
                falling[each.name] *= 2.0 ** -over_wanted(each)
        rest = sum(falling.values())
        if own > 0 and rest > 0:
            found.append((own / rest, place.role))
    return found


def _metered(level: Level, camera: Taking) -> float:
    """The middle of a level, by the middle of both constants of a meter."""
    low, high = camera.constants
    as_stop = level.metered(math.sqrt(low * high))
    return math.sqrt(as_stop.low * as_stop.high)


@dataclass(frozen=True, slots=True)
class _Reaching:
    """A light that reaches a spot, with its level there before sheets, scrims and frost."""

    name: str
    role: LightRole
    level: Level


@dataclass(frozen=True, slots=True)
class _Reached:
    """A spot and the lights that reach it; `left_out` have no level."""

    name: str
    role: SpotRole
    lights: Sequence[_Reaching]
    left_out: Sequence[tuple[str, LightRole]]


def _by_role(plan: Plan, seen: Container[str], bare: Mapping[str, Level]) -> list[_Reached]:
    """The three usual spots, each light with its level at the subject.

    A spot without a light of its own role is not assumed: what then falls there beside strays,
    off the walls, is not known.
    """
    found = []
    for name, role, roles in ASSUMED:
        lights = [each for each in plan.light if each.role in roles and each.name in seen]
        known = [
            _Reaching(each.name, each.role, bare[each.name]) for each in lights if each.name in bare
        ]
        unknown = [(each.name, each.role) for each in lights if each.name not in bare]
        if any(each.role == role for each in lights):
            found.append(_Reached(name, role, known, unknown))
    return found


def _as_written(
    spot: Spot,
    plan: Plan,
    seen: Container[str],
    bare: Mapping[str, Level],
    camera: Taking,
) -> _Reached:
    """A spot with exactly the lights that it names, those that are on.

    A view is seen and lights nothing.
    """
    known, unknown = [], []
    for written in spot.light:
        light = plan.light_named(written.name)
        if light is None or light.role == "view" or light.name not in seen:
            continue
        level = _level(written, bare.get(light.name), camera)
        if level is None:
            unknown.append((light.name, light.role))
        else:
            known.append(_Reaching(light.name, light.role, level))
    return _Reached(spot.name, spot.role, known, unknown)


def _level(written: SpotLight, at_subject: Level | None, camera: Taking) -> Level | None:
    """What one light gives at a spot by its table; None where its own level is not known."""
    if written.stops is None:
        return level_of_reading(written, camera=camera, within=written.name)[0]
    return None if at_subject is None else at_subject.losing(-written.stops, -written.stops)


def _falling(
    light: _Reaching,
    seen: Mapping[str, Looks],
    taken_stops: Mapping[str, Taken],
    constants: Range | None,
) -> Falling:
    """A light as it falls, in the unit of the whole scene.

    constants : of the meter, where levels in lux must be turned into stops; its middle is then
                the geometric mean of both
    """
    taken = taken_stops.get(light.name, (0.0, 0.0))
    level = light.level
    amount = _amount(level, taken)
    in_lux = float(amount[1]) if level.unit == "lux" else None
    if constants is not None and level.unit == "lux":
        low, high = constants
        amount = _amount(replace(level, low=level.low / high, high=level.high / low), taken)
    return Falling(light.name, light.role, seen[light.name], amount, in_lux)


def _amount(level: Level, taken: Sequence[float]) -> Floats:
    """Least, middle and most of a level behind what takes light. [(3,)]"""
    least, most = taken[0], taken[-1]
    middle = taken[1] if len(taken) == 3 else 0.5 * (least + most)
    left = level.losing(least, most)
    between = math.sqrt(level.low) * math.sqrt(level.high) * 2.0**-middle
    return np.array([left.low, between, left.high])
