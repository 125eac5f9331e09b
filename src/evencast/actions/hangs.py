"""A plan as it hangs in a set-up, seen at any balance: what was rigged, else planned, else bare.

Nothing is searched. What does not depend on the balance is worked out once, so that a balance can
be dragged: only the aims move.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np

from evencast.actions.cautions import cautions, move_cautions
from evencast.actions.circuits import circuits
from evencast.actions.doubt import Looks, light_notes, looks
from evencast.actions.exposures import Lit, exposures
from evencast.actions.flicker import flicker
from evencast.actions.hanging import Hanging, read_colour
from evencast.actions.hanging_lamp import Lamp, is_same
from evencast.actions.inputs import inputs_digest
from evencast.actions.levels import BareLevel, Shot, bare_levels, shot_of
from evencast.actions.match import aim_answer, tolerance_answer
from evencast.actions.noted import noted
from evencast.actions.reading import reading, rounded
from evencast.actions.spot_mix import Mixed
from evencast.actions.spots import Places, spot_problems, spots
from evencast.actions.stage import staged
from evencast.actions.trim_level import scrims_take
from evencast.actions.views import View, view_answer
from evencast.colour import low_middle_high
from evencast.errors import DocumentErrors, EvencastError
from evencast.filters import stack, stack_members
from evencast.lights.level import in_reach, moving_stops
from evencast.quantities import mired
from evencast.results.exposure import LightExposure, SceneExposure, Triple, ViewAnswer
from evencast.results.hangs import HangingLight, HangsAnswer
from evencast.results.spot import SpotAnswer
from evencast.results.trim import Hangs
from evencast.solver.aim import Aim
from evencast.solver.doubt import Ensemble


def hangs(path: Path, *, setup: str | None, balance: str | None = None) -> HangsAnswer:
    """A plan as it hangs in a set-up, at the camera's balance or another.

    setup   : its name; None for the plan's only one, or for the plan itself where it has none
    balance : as in `trim`, in place of the set-up's and the plan's
    Raises  DocumentErrors with every problem of plan and kit; EvencastError for a set-up that is
            not there, sheets that are not, or a plan that leaves several balances
    """
    return Standing(path, setup=setup).at(balance)


class Standing:
    """A plan in a set-up, ready to be asked about balances."""

    def __init__(self, path: Path, *, setup: str | None, before: Standing | None = None) -> None:
        """As `hangs` takes them; raises what it raises but for balances.

        before : the same plan before a change; its lights that are as they were are not worked out
                 again
        """
        self._before = {} if before is None else {each.name: each for each in before._lamps}
        self._mixes: dict[str, Mixed] = {} if before is None else dict(before._mixes)
        self._stage = staged(path, setup=setup)
        loaded = self._stage.loaded
        self._levels, problems = bare_levels(loaded, path.parent)
        problems = problems or spot_problems(loaded.plan, self._stage.camera)
        problems = [replace(each, where=f"{path.name}, {each.where}") for each in problems]
        self._problems = [*loaded.problems, *problems]
        if any(each.severity == "error" for each in self._problems):
            raise DocumentErrors(path.name, self._problems)
        self._lamps: list[Lamp] = [self._lamp(each.name) for each in loaded.plan.light]
        self._before.clear()

    @property
    def own_balance(self) -> str | None:
        """The balance that the set-up or the plan says, by its label; None where several are left
        open."""
        try:
            return self._stage.balance.label
        except EvencastError:
            return None

    def at(self, balance: str | None) -> HangsAnswer:
        """All of it at one balance, as in `trim`; None for the set-up's or the plan's."""
        stage = replace(self._stage, dialled=balance)
        aims = {each.name: stage.aim(each.hanging) for each in self._lamps}
        exposure, at_spots = self._exposure, self._spots(stage.balance, aims)
        told = {each.name: each for each in exposure.lights} if exposure else {}
        setup, harmless = stage.setup, _harmless(at_spots)
        return HangsAnswer(
            plan=stage.loaded.plan.name,
            setup=setup.name if setup else None,
            kit=stage.loaded.kit.name,
            stale=self._stale,
            balance=aim_answer(stage.balance),
            lights=[
                self._light(
                    each,
                    aims[each.name],
                    told.get(each.name),
                    harmless=each.hanging.entry.role == "other" and each.name in harmless,
                )
                for each in self._lamps
            ],
            spots=at_spots,
            exposure=exposure,
            views=self._views(aims),
            circuits=circuits(stage.loaded.plan),
            problems=self._problems,
        )

    def _lamp(self, name: str) -> Lamp:
        """A light, its frost counted to the lamp and the panes before a view to its sheets."""
        hanging, bare = self._stage.hanging(name), self._stage.loaded.lights[name]
        old = self._before.get(name)
        if old is not None and is_same(old, hanging, bare):
            return replace(old, hanging=hanging)
        is_view = hanging.entry.behind is not None
        sheets = hanging.front if is_view else list(hanging.sheets)
        fixed = () if is_view else hanging.fixed
        light = replace(
            hanging.light,
            power=hanging.light.power * stack(fixed),
            possible=None
            if len(hanging.light.members) == 1 and all(each.measured for each in fixed)
            else hanging.light.members * stack_members(fixed),
        )
        members = np.arange(len(sheets))[None]
        ensemble = Ensemble.of(light.members, [each.members for each in sheets], members)
        seen = looks(light, sheets)
        return Lamp(hanging, seen, ensemble, bare, reading(bare), seen.reading)

    @cached_property
    def _stale(self) -> bool | None:
        setup = self._stage.setup
        if setup is None or setup.planned_for is None:
            return None
        return setup.planned_for != inputs_digest(self._stage.loaded)

    @cached_property
    def _shot(self) -> Shot:
        return shot_of(self._stage.loaded.plan.camera)

    @cached_property
    def _on(self) -> list[Lamp]:
        return [each for each in self._lamps if not each.is_off]

    @cached_property
    def _exposure(self) -> SceneExposure | None:
        """What every light that is on gives; None without levels."""
        if not self._levels:
            return None
        plan = self._stage.loaded.plan
        lit = [
            Lit(
                name=each.name,
                role=each.hanging.entry.role,
                aim_stops=self._stage.level_aim(each.hanging),
                tolerance_stops=plan.allowed(each.hanging.entry.role).stops,
                filter_stops=_triple(each.seen),
                scrim_stops=scrims_take((), each.hanging.hung.scrims),
                dim_stops=each.hanging.hung.dim_stops,
                swap_stops=_brighter(each.hanging),
            )
            for each in self._on
        ]
        return exposures(lit, self._levels, camera=self._stage.camera, shot=self._shot)

    @cached_property
    def _places(self) -> Places | None:
        """What falls on each spot; None without levels."""
        plan = self._stage.loaded.plan
        if not self._levels and not plan.spot:
            return None
        return spots(
            plan,
            {each.name: each.seen for each in self._on},
            {name: each.level for name, each in self._levels.items()},
            {each.name: _taken(each, self._levels.get(each.name)) for each in self._on},
            self._stage.camera,
        )

    def _spots(self, balance: Aim, aims: dict[str, Aim]) -> list[SpotAnswer]:
        if self._places is None:
            return []
        of_lights = {each.name: aims[each.name] for each in self._on}
        return self._places.answers(balance, self._shot.f_number, aims=of_lights, kept=self._mixes)

    def _views(self, aims: dict[str, Aim]) -> list[ViewAnswer]:
        shot, plan = self._shot.f_number, self._stage.loaded.plan
        return [
            view_answer(
                View(
                    name=each.name,
                    light=each.hanging.light,
                    bare=self._levels[each.name],
                    filters=each.hanging.front,
                    aim=aims[each.name],
                    aim_stops=each.hanging.entry.aim.stops,
                    allowed=plan.allowed("view"),
                ),
                camera=self._stage.camera,
                shot_f_number=shot,
                at_hand=self._stage.loaded.kit.searched(),
            )
            for each in self._on
            if each.hanging.entry.role == "view" and each.name in self._levels and shot is not None
        ]

    def _light(
        self, lamp: Lamp, aim: Aim, lit: LightExposure | None, *, harmless: bool
    ) -> HangingLight:
        off, held = lamp.is_off, lamp.against(aim, self._stage.loaded.plan)
        inside = off or (held.within and self._is_level(lamp.hanging, lit))
        level = None if lit is None or lit.gap_stops is None else -lit.gap_stops[1]
        read_mired, read_duv, read_within = self._read(lamp, aim)
        return HangingLight(
            **self._of_lamps[lamp.name],
            aim=aim_answer(aim),
            residual_mired=None if off else held.residual_mired,
            residual_duv=None if off else held.residual_duv,
            level_stops=None if level is None else round(level, 4) + 0.0,
            within_tolerance=inside,
            harmless=harmless and not inside,
            share_within=held.share_within,
            band=None if off else held.band,
            read_residual_mired=rounded(read_mired, 3),
            read_residual_duv=rounded(read_duv, 6),
            read_within=read_within,
        )

    def _read(self, lamp: Lamp, aim: Aim) -> tuple[float, float, bool | None]:
        """What was read of a light against its aim, in mired and Duv, and whether that is inside;
        nan and None where no colour was read, or the aim has no colour temperature."""
        plan, read = self._stage.loaded.plan, lamp.hanging.read
        step_duv = plan.camera.tint_step_duv
        colour = read and read_colour(read, step_duv=step_duv, sensor=False)
        if not colour or not math.isfinite(aim.mired):
            return math.nan, math.nan, None
        duv = lamp.filtered.duv if colour.duv is None else colour.duv
        by_mired, by_duv = mired(colour.cct_k) - aim.mired, (duv or 0.0) - aim.duv
        allowed = plan.allowed(lamp.hanging.entry.role)
        return by_mired, by_duv, bool(allowed.strain(np.array(by_mired), np.array(by_duv)) <= 1.0)

    @cached_property
    def _of_lamps(self) -> dict[str, dict[str, Any]]:
        """By name, what is told of each light whatever it is held against."""
        return {each.name: self._of_lamp(each) for each in self._lamps}

    def _of_lamp(self, lamp: Lamp) -> dict[str, Any]:
        hanging = lamp.hanging
        entry, filter_stops = hanging.entry, float(lamp.ensemble.loss_stops[0])
        scrim_stops = sum(scrims_take((), hanging.hung.scrims)) / 2.0
        return {
            "name": entry.name,
            "role": entry.role,
            "known_by": hanging.known_by,
            "hangs": _hangs(hanging),
            "off": lamp.is_off,
            "bare": lamp.bare,
            "filtered": lamp.filtered,
            "filter_stops": round(filter_stops, 4) + 0.0,
            "scrim_stops": round(scrim_stops, 4),
            "tolerance": tolerance_answer(entry.role, self._stage.loaded.plan.allowed(entry.role)),
            "read": noted(hanging.read),
            "notes": light_notes(hanging.light, from_file=entry.spectrum is not None),
            "cautions": self._cautions(lamp, filter_stops),
        }

    def _is_level(self, hanging: Hanging, lit: LightExposure | None) -> bool:
        """Whether its level is as wanted, or not judged; a key with no level wanted of it may be
        too bright, as an iris takes it down."""
        if lit is None or lit.gap_stops is None or lit.within_tolerance:
            return True
        return lit.gap_stops[1] < 0 and self._stage.level_aim(hanging) is None

    def _cautions(self, lamp: Lamp, filter_stops: float) -> list[str]:
        hanging = lamp.hanging
        by_move = move_cautions(
            hanging.light,
            swapped=hanging.hung.swapped_for is not None,
            dimmed=hanging.hung.dim_stops > 0,
            scrims=bool(hanging.hung.scrims),
        )
        by_sheets = cautions(hanging.light, lamp.seen.filters, filter_stops)
        return by_sheets + by_move + flicker(hanging.light, self._stage.camera)


def _harmless(at_spots: Sequence[SpotAnswer]) -> set[str]:
    """Lights that reach a spot and pull none out of its tolerance."""
    pulls = [light for spot in at_spots for light in spot.lights]
    return {each.name for each in pulls} - {each.name for each in pulls if not each.within}


def _hangs(hanging: Hanging) -> Hangs:
    hung = hanging.hung
    return Hangs(
        filters=[each.name for each in hanging.sheets],
        frost=[each.name for each in hanging.fixed],
        scrims=list(hung.scrims),
        dial_k=hung.dial_k,
        dim_stops=hung.dim_stops,
        swapped_for=hung.swapped_for,
        distance_m=hanging.distance_m,
    )


def _brighter(hanging: Hanging) -> float:
    """What another lamp and another place give. [stop]"""
    entry = hanging.entry
    swap = next((each for each in entry.swap if each.name == hanging.hung.swapped_for), None)
    gain = 0.0 if swap is None else swap.stops
    planned_mm, stands_m = entry.distance_mm, hanging.distance_m
    if planned_mm is None or stands_m is None:
        return gain
    return gain + moving_stops(from_m=planned_mm / 1000.0, to_m=stands_m)


def _taken(lamp: Lamp, bare: BareLevel | None) -> tuple[float, float]:
    """What scrims, dimmer, frost and another lamp take, least and most. [stop]"""
    hanging = lamp.hanging
    least, most = scrims_take((), hanging.hung.scrims)
    frost = (0.0, 0.0) if bare is None else bare.frost_stops
    other = hanging.hung.dim_stops - _brighter(hanging)
    return least + other + frost[0], most + other + frost[1]


def _triple(seen: Looks) -> Triple:
    low, middle, high = (in_reach(float(each)) for each in low_middle_high(seen.loss_stops))
    return low, middle, high
