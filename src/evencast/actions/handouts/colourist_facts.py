"""What the colourist's sheet tells of each light: planned, rigged and read, and the numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from evencast.actions.balance import Balance
from evencast.actions.doubt import middle
from evencast.actions.handouts.job import Job, Part
from evencast.actions.hanging import hanging, read_colour
from evencast.actions.hangs import hangs
from evencast.actions.picture import camera_of
from evencast.actions.reading import rounded
from evencast.camera.rendering import residual_stops
from evencast.camera.sensitivities import Sensitivities
from evencast.errors import EvencastError, Problem
from evencast.filters import stack_members
from evencast.plan.light import Light
from evencast.plan.place import folded, quoted
from evencast.plan.setup import Planned, Read, Rigged, Setup, SetupLight
from evencast.plan.setups import light_in
from evencast.quantities import mired
from evencast.results.choice import AimAnswer
from evencast.results.exposure import LightExposure, ViewAnswer
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.plan import PlannedLight

Pair = tuple[float | None, float | None]
"""Mired and Duv, or R/G and B/G in stops."""

Named = TypeVar("Named", PlannedLight, HangingLight, LightExposure, ViewAnswer)

NOTHING: Pair = (None, None)


@dataclass(frozen=True, slots=True, eq=False)
class LightFacts:
    """One light in one set-up.

    planned : what `solve` says of it; None for a view through a window of the plan
    view    : how it is seen, for a view whose level is known
    lit     : how bright it is; None where that is not known
    rigged  : what really hangs there, where the set-up says it
    as_rigged : the same with its numbers; None also where they cannot be worked out
    read    : what was read of it, where anything was
    offset  : its aim beside the balance; mired, Duv; None where it has no colour temperature
    of_read : what was read beside its aim
    to_camera : R/G and B/G of a neutral card in the balanced raw of the plan's own camera
    against_key_stops : + brighter
    """

    number: int
    entry: Light
    planned: PlannedLight | None
    view: ViewAnswer | None
    lit: LightExposure | None
    rigged: Rigged | None
    as_rigged: HangingLight | None
    read: Read | None
    offset: Pair
    of_read: Pair
    to_camera: Pair
    against_key_stops: float | None

    @property
    def residual(self) -> Pair:
        """As planned: mired, Duv."""
        if self.planned is not None:
            return self.planned.residual_mired, self.planned.residual_duv
        return (self.view.residual_mired, self.view.residual_duv) if self.view else NOTHING


@dataclass(frozen=True, slots=True, eq=False)
class PartFacts:
    """One set-up.

    stands_at : the balance that the set-up keeps, where that is not the one solved; else None
    camera    : the plan's own, where it names one
    problems  : what cannot be worked out: a camera that is named, what was rigged
    """

    part: Part
    lights: list[LightFacts]
    stands_at: AimAnswer | None
    camera: Sensitivities | None
    problems: list[Problem]


def facts(job: Job, part: Part) -> PartFacts:
    """What is told of a set-up."""
    plan = part.loaded.plan
    noted, problems = _noted(job, part)
    camera, of_camera = _camera(plan.camera.sensitivity, job.path)
    stands = noted.balance if noted and not _same(noted.balance, part.answer.balance) else None
    lights = [_light(job, part, each, noted, camera) for each in plan.light]
    return PartFacts(part, lights, stands, camera, problems + of_camera)


def _noted(job: Job, part: Part) -> tuple[HangsAnswer | None, list[Problem]]:
    """The set-up as it hangs; None where nothing was rigged or read in it, or where a sheet that
    hangs there is not known."""
    setup = part.setup
    if setup is None or not any(each.rigged or each.read for each in setup.light):
        return None, []
    balance = None if setup.balance_k else _written(part.answer.balance)
    try:
        return hangs(job.path, setup=setup.name, balance=balance), []
    except EvencastError as error:
        where = f"{job.path.name}, setup {quoted(setup.name)}, {error.where}"
        told = f"{error.what}: what hangs and was read in this set-up is not held against the aims"
        return None, [Problem("warning", where, told, error.remedy)]


def _written(balance: AimAnswer) -> str | None:
    """A balance as a call gives it."""
    return None if balance.cct_k is None else f"{balance.cct_k!r}K{balance.duv:+.6f}"


def _same(one: AimAnswer, other: AimAnswer) -> bool:
    """Whether two balances are one, as far as a camera shows it."""
    if one.mired is None or other.mired is None:
        return one.mired == other.mired
    return abs(one.mired - other.mired) < 0.1 and abs(one.duv - other.duv) < 0.0001


def _camera(name: str | None, plan: Path) -> tuple[Sensitivities | None, list[Problem]]:
    """The plan's own camera; without it the sheet is made all the same, and says so."""
    if name is None:
        return None, []
    try:
        return camera_of(name, plan.parent), []
    except EvencastError as error:
        where = f"{plan.name}, camera.sensitivity"
        told = f"{error.what}: what the camera sees is left out"
        return None, [Problem("warning", where, told, error.remedy)]


def _light(
    job: Job, part: Part, entry: Light, noted: HangsAnswer | None, camera: Sensitivities | None
) -> LightFacts:
    answer = part.answer
    planned = _named(answer.lights, entry.name)
    hung = _named(noted.lights, entry.name) if noted else None
    exposure = answer.exposure
    lit = _named(exposure.lights, entry.name) if exposure else None
    key = _named(exposure.lights, exposure.key or "") if exposure else None
    said = light_in(part.setup, entry.name)
    read = said.read if said else None
    is_off = planned is not None and "switch off" in planned.move
    return LightFacts(
        number=part.numbers[entry.name],
        entry=entry,
        planned=planned,
        view=_named(answer.views, entry.name),
        lit=lit,
        rigged=said.rigged if said else None,
        as_rigged=hung if said and said.rigged else None,
        read=read,
        offset=_offset(entry, planned, answer.balance),
        of_read=_of_read(part, read, hung),
        to_camera=_to_camera(job, part, entry, planned, camera) if not is_off else NOTHING,
        against_key_stops=None if lit is None or key is None else _against(lit, key),
    )


def _named(every: Sequence[Named], name: str) -> Named | None:
    return next((each for each in every if folded(each.name) == folded(name)), None)


def _offset(entry: Light, planned: PlannedLight | None, balance: AimAnswer) -> Pair:
    """An aim beside the balance; of a view as the plan writes it."""
    if planned is None:
        return (
            (entry.aim.mired, entry.aim.duv) if not (entry.aim.like or entry.aim.look) else NOTHING
        )
    if planned.aim.mired is None or balance.mired is None:
        return NOTHING
    offset_mired = round(planned.aim.mired - balance.mired, 3)
    return offset_mired + 0.0, round(planned.aim.duv - balance.duv, 6) + 0.0


def _of_read(part: Part, read: Read | None, hung: HangingLight | None) -> Pair:
    """What was read beside the aim, by itself; a camera's tint as far as it is known."""
    if read is None or hung is None or hung.aim.mired is None:
        return NOTHING
    step_duv = part.loaded.plan.camera.tint_step_duv
    colour = read_colour(read, step_duv=step_duv, sensor=False)
    if colour is None:
        return NOTHING
    duv = None if colour.duv is None else round(colour.duv - hung.aim.duv, 6)
    return round(mired(colour.cct_k) - hung.aim.mired, 3), duv


def _against(lit: LightExposure, key: LightExposure) -> float:
    """How much brighter than the key, middle against middle. [stop]"""
    if lit.over_shot_stops is not None and key.over_shot_stops is not None:
        return round(lit.over_shot_stops[1] - key.over_shot_stops[1], 4) + 0.0
    return round(_middle_stop(lit) - _middle_stop(key), 4) + 0.0


def _middle_stop(lit: LightExposure) -> float:
    low, high = lit.f_number
    return math.log2(low) + math.log2(high)


def _to_camera(
    job: Job,
    part: Part,
    entry: Light,
    planned: PlannedLight | None,
    camera: Sensitivities | None,
) -> Pair:
    """A neutral card under a light as it is planned, in the camera's balanced raw."""
    balance = part.answer.balance
    if camera is None or camera.is_eye or planned is None or balance.cct_k is None:
        return NOTHING
    as_planned = Planned(
        filters=tuple(planned.filters),
        dial_k=planned.dial_k,
        dim_stops=planned.dim_stops,
        swapped_for=planned.swapped_for,
    )
    setup = Setup(name="as planned", light=(SetupLight(name=entry.name, planned=as_planned),))
    found = hanging(part.loaded, setup, entry.name, folder=job.path.parent)
    through = found.light.members * stack_members(found.front)
    try:
        white = Balance(balance.cct_k, balance.duv).power
    except EvencastError:  # a card under a light so green that no camera is balanced to it
        return NOTHING
    red, blue = residual_stops(through, white, camera)
    return rounded(middle(red), 4), rounded(middle(blue), 4)
