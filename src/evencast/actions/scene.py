"""From a plan to the scene that is solved: balances to choose from, lights, moves and stock."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

import numpy as np

from evencast.actions.aims import aim_of, level_aim, look_in
from evencast.actions.balances import Candidate
from evencast.actions.levels import BareLevel, Shot, camera_of, over_shot, shot_of
from evencast.actions.planned import LoadedPlan
from evencast.actions.shelves import Shelves
from evencast.actions.spots import stray_spots
from evencast.actions.taking import Taking
from evencast.actions.ways import Moves
from evencast.colour import uv, uv_of_mired_duv
from evencast.cutting.pieces import area_m2, pieces_of
from evencast.errors import Problem
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded
from evencast.plan.plan import Plan
from evencast.quantities import Floats
from evencast.solver.aim import Aim
from evencast.solver.enumerate import Kit
from evencast.solver.options import Options, options
from evencast.solver.prices import KEY_WEIGHS, Weights
from evencast.solver.scene import Scene
from evencast.solver.scene_light import LevelAim, SceneLight, Seen, Trim
from evencast.solver.stray import stray_within

MOST_LOSS_STOPS = 4.0
"""Where a plan gives no limit: a light that loses more than this to sheets is gone."""


@dataclass(frozen=True, slots=True, eq=False)
class Staged:
    """One light of the plan with its ways, each with the lamp that it makes of it."""

    entry: LightEntry
    bare: Light
    lamps: Sequence[Light]
    light: SceneLight


@dataclass(frozen=True, slots=True, eq=False)
class StagedScene:
    """A plan as it is solved.

    filters : those that a search may pick, in the kit's order
    lights  : in the plan's order, those seen through a window's own sheets left out
    views   : these, with the name of their window
    levels  : by name, where they are known
    problems : warnings of what cannot be done
    """

    loaded: LoadedPlan
    scene: Scene
    filters: Sequence[Filter]
    shelves: Shelves
    candidates: Sequence[Candidate]
    lights: Sequence[Staged]
    views: Sequence[tuple[LightEntry, str]]
    levels: dict[str, BareLevel]
    camera: Taking
    shot: Shot
    problems: Sequence[Problem]


def staged_scene(
    loaded: LoadedPlan,
    levels: dict[str, BareLevel],
    balances: Sequence[Candidate],
    *,
    folder: Path,
    looks: Mapping[tuple[str, str], Floats] = MappingProxyType({}),
) -> StagedScene:
    """A plan as a scene.

    levels   : as `bare_levels` gives them
    balances : as `candidates` gives them
    folder   : of the plan, where what its lights may be swapped for lies
    looks    : by folded name and balance, what lights that others shall be like look like, where
               that is not what they look like by themselves; (2,) u, v
    """
    return _Builder(loaded, levels, balances, folder, looks).build()


class _Builder:
    def __init__(
        self,
        loaded: LoadedPlan,
        levels: dict[str, BareLevel],
        balances: Sequence[Candidate],
        folder: Path,
        looks: Mapping[tuple[str, str], Floats],
    ) -> None:
        self._loaded = loaded
        self._plan: Plan = loaded.plan
        self._levels = levels
        self._camera, self._shot = camera_of(loaded.plan), shot_of(loaded.plan.camera)
        self._filters = loaded.kit.searched()
        sheets = np.array([each.transmittance for each in self._filters]).reshape(-1, 81)
        self._kit = Kit(sheets, layers=loaded.plan.limits.layers)
        self._candidates = balances
        self._given_looks = looks
        self._seen_at: dict[str, list[Floats]] = {}
        self._moves = Moves(loaded, folder)
        weights = loaded.plan.weights
        self._weights = Weights(
            weights.stops, weights.pieces, weights.square_metres, weights.minutes
        )
        self._key = next(
            (each.name for each in self._plan.light if each.role == "key" and each.name in levels),
            None,
        )

    def build(self) -> StagedScene:
        """The scene."""
        views = [(each, each.behind) for each in self._plan.light if each.behind is not None]
        own = [each for each in self._plan.light if each.behind is None]
        lights = [self._staged(each, self._views_behind(each)) for each in own]
        scene = Scene(
            kit=self._kit,
            sheets=[each.members for each in self._filters],
            lights=[each.light for each in lights],
            balances=[each.price for each in self._candidates],
            stock=(shelves := Shelves(self._loaded.kit, self._filters)),
            at_hand=_at_hand(own),
            weights=self._weights,
            key=next((n for n, each in enumerate(lights) if each.entry.name == self._key), None),
        )
        return StagedScene(
            self._loaded,
            scene,
            self._filters,
            shelves,
            self._candidates,
            lights,
            views,
            self._levels,
            self._camera,
            self._shot,
            list(self._moves.problems.values()),
        )

    def _staged(self, entry: LightEntry, views: Sequence[LightEntry]) -> Staged:
        """A light with what is seen through it."""
        bare = self._loaded.lights[entry.name]
        aims = [self._aim(entry, number) for number in range(len(self._candidates))]
        level = self._level(entry)
        judged = level is not None
        ways, ways_at = self._moves.ways(entry, bare, aims, by_level=judged)
        pieces = tuple(pieces_of(entry, bare.fitting))
        openings = len(pieces) or entry.count
        limit = self._plan.limits.loss_stops
        light = SceneLight(
            name=entry.name,
            allowed=self._plan.allowed(entry.role),
            aims=aims,
            ways=[each[0] for each in ways],
            ways_at=ways_at,
            pieces=pieces,
            openings=openings,
            area_m2=area_m2(pieces),
            minutes_per_sheet=self._moves.minutes(entry, "filter") * openings,
            most_loss_stops=MOST_LOSS_STOPS if limit is None else limit,
            level=level,
            trims=self._moves.trims(entry, bare) if judged else (Trim(),),
            views=[self._seen(each) for each in views],
            is_key=entry.name == self._key,
            weight=KEY_WEIGHS if entry.role == "key" else 1.0,
            harmless=self._harmless(entry, bare),
        )
        return Staged(entry, bare, [each[1] for each in ways], light)

    def _aim(self, entry: LightEntry, balance: int) -> Aim:
        return aim_of(
            entry,
            self._candidates[balance].aim,
            lambda name: self._looks(name)[balance],
            lambda name: look_in(self._plan, name),
        )

    def _looks(self, name: str) -> list[Floats]:
        """What a light looks like at each balance while it is on and has its own cheapest option;
        what is seen through a window, behind the window's."""
        key, entry = folded(name), self._plan.light_named(name)
        if key not in self._seen_at and entry is not None:
            window = self._plan.light_named(entry.behind or "")
            light = self._staged(window or entry, ()).light
            sheets = [each.members for each in self._filters]
            found = options(self._kit, sheets, light, self._weights)
            view = None if window is None else self._loaded.lights[entry.name]
            self._seen_at[key] = [
                self._given_looks[key, each.aim.label]
                if (key, each.aim.label) in self._given_looks
                else _look(light, found[balance], light.aims[balance], self._kit, view)
                for balance, each in enumerate(self._candidates)
            ]
        return self._seen_at[key]

    def _level(self, entry: LightEntry) -> LevelAim | None:
        """How bright a light is and shall be; None where that is not judged."""
        wanted = level_aim(entry, lambda name: look_in(self._plan, name))
        allowed = self._plan.allowed(entry.role).stops
        over = self._over(entry.name)
        if over is None:
            return None
        if entry.name == self._key or entry.role == "view":
            if self._shot.f_number is None or (wanted is None and entry.role == "view"):
                return None
            return LevelAim(over, wanted or 0.0, allowed, False, only_under=wanted is None)
        key = self._over(self._key) if self._key else None
        if wanted is None or key is None:
            return None
        return LevelAim(over - key, wanted, allowed, True)

    def _over(self, name: str) -> float | None:
        """Stops of a bare light over the shot, the middle of what is known; over f/4 where the
        camera has no stop, for comparing lights."""
        bare = self._levels.get(name)
        if bare is None:
            return None
        low, high = over_shot(bare.level, self._camera, self._shot.f_number or 4.0)
        return (low + high) / 2.0 - sum(bare.frost_stops) / 2.0

    def _harmless(self, entry: LightEntry, bare: Light) -> list[bool]:
        """At each balance, whether a stray light may be left for what it does to the spots; all
        else there is taken as white at the balance, and as bright as it shall be."""
        if entry.role != "other":
            return []
        spots = stray_spots(self._plan, entry, self._levels, self._camera, self._over_wanted)
        if not spots:
            return []
        ratios = np.array([[ratio] for ratio, _ in spots])
        allowed = [self._plan.allowed(role) for _, role in spots]
        return [
            bool(
                stray_within(
                    bare.power[None], ratios, balance_uv=each.aim.uv, allowed=allowed
                ).all()
            )
            for each in self._candidates
        ]

    def _over_wanted(self, entry: LightEntry) -> float:
        """How far a light's bare level lies over what it shall be, where that is judged. [stop]"""
        level = self._level(entry)
        if level is None:
            return 0.0
        key = self._plan.light_named(self._key or "")
        taken = 0.0
        if level.against_key and key is not None:
            taken = self._over_wanted(key)
        return level.over_stops - level.wanted_stops + taken

    def _views_behind(self, entry: LightEntry) -> list[LightEntry]:
        name = folded(entry.name)
        return [each for each in self._plan.light if folded(each.behind or "") == name]

    def _seen(self, entry: LightEntry) -> Seen:
        light = self._loaded.lights[entry.name]
        return Seen(
            name=entry.name,
            power=light.power,
            members=light.members,
            allowed=self._plan.allowed(entry.role),
            aims=[self._aim(entry, number) for number in range(len(self._candidates))],
            level=self._level(entry),
        )


def _at_hand(entries: Sequence[LightEntry]) -> dict[str, int]:
    """How many there are of what lamps may be swapped for; the least that any light says."""
    counts: dict[str, int] = {}
    for entry in entries:
        for swap in entry.swap:
            if swap.at_hand is not None:
                name = folded(swap.name)
                counts[name] = min(counts.get(name, swap.at_hand), swap.at_hand)
    return counts


def _look(light: SceneLight, found: Options, aim: Aim, kit: Kit, view: Light | None) -> Floats:
    """A light with its cheapest option while it is on, or a view behind its sheets. [(2,) u, v]"""
    on = np.array([not each.is_off for each in light.ways])[found.way]
    row = int(np.argmin(np.where(on, found.cost, np.inf)))
    at_mired = aim.mired + found.found.residual_mired[row]
    if view is None and math.isfinite(at_mired):
        return uv_of_mired_duv(at_mired, aim.duv + found.found.residual_duv[row])
    sheets = [each for each in found.found.members[row] if each < len(kit.sheets)]
    power = light.ways[found.way[row]].power if view is None else view.power
    return uv(power * np.prod(kit.sheets[sheets], axis=0))
