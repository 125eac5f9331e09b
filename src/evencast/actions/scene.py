"""From a plan to the scene that is solved: balances to choose from, lights, moves and stock."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evencast.actions.aims import aim_of, level_aim, look_in
from evencast.actions.balances import Candidate, candidates
from evencast.actions.hanging import FILAMENTS, set_light, swapped_light
from evencast.actions.levels import BareLevel, Shot, camera_of, over_shot, shot_of
from evencast.actions.planned import LoadedPlan
from evencast.actions.shelves import Shelves
from evencast.actions.spots import stray_spots
from evencast.actions.taking import Taking
from evencast.colour import mired_duv, uv, uv_of_mired_duv
from evencast.cutting.pieces import area_m2, pieces_of
from evencast.filters import Filter, stack, stack_members
from evencast.lights import Light
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded
from evencast.plan.plan import Plan
from evencast.quantities import Floats, kelvin
from evencast.solver.aim import Aim
from evencast.solver.enumerate import Kit
from evencast.solver.options import options
from evencast.solver.prices import Weights
from evencast.solver.scene import Scene
from evencast.solver.scene_light import LevelAim, SceneLight, Seen, Trim, Way
from evencast.solver.stray import stray_within

MOST_LOSS_STOPS = 4.0
"""Where a plan gives no limit: a light that loses more than this to sheets is gone."""

DIAL_STEP_K = 50.0
DIALLED_LAYERS = 2
"""A dialled light needs sheets for its green alone."""

MINUTES = {"filter": 4.0, "dial": 1.0, "dim": 1.0, "scrim": 1.0, "swap": 5.0, "switch_off": 1.0}
"""For one opening or lamp, where the plan does not say: common practice, no source."""

DIMMED_STOPS = tuple(round(third / 3.0, 4) for third in range(1, 7))
"""What a filament is tried at; every step has a colour of its own."""
DIMMER_STOPS = tuple(round(third / 3.0, 4) for third in range(1, 10))
SCRIMS: tuple[tuple[tuple[str, ...], float], ...] = (
    (("single",), 0.5),
    (("double",), 1.0),
    (("single", "double"), 1.5),
    (("double", "double"), 2.0),
    (("single", "double", "double"), 2.5),
)
"""What goes into a lamp, and what it takes."""


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


def staged_scene(loaded: LoadedPlan, levels: dict[str, BareLevel], *, folder: Path) -> StagedScene:
    """A plan as a scene.

    levels : as `bare_levels` gives them
    folder : of the plan, where what its lights may be swapped for lies
    """
    return _Builder(loaded, levels, folder).build()


class _Builder:
    def __init__(self, loaded: LoadedPlan, levels: dict[str, BareLevel], folder: Path) -> None:
        self._loaded = loaded
        self._plan: Plan = loaded.plan
        self._levels = levels
        self._folder = folder
        self._camera, self._shot = camera_of(loaded.plan), shot_of(loaded.plan.camera)
        self._filters = loaded.kit.searched()
        sheets = np.array([each.transmittance for each in self._filters]).reshape(-1, 81)
        self._kit = Kit(sheets, layers=loaded.plan.limits.layers)
        self._candidates = candidates(loaded)
        weights = loaded.plan.weights
        self._weights = Weights(
            weights.stops, weights.pieces, weights.square_metres, weights.minutes
        )
        self._key = next(
            (each.name for each in self._plan.light if each.role == "key" and each.name in levels),
            None,
        )

    def build(self) -> StagedScene:
        """Lights that shall look like another come after it."""
        views = [(each, each.behind) for each in self._plan.light if each.behind is not None]
        own = [each for each in self._plan.light if each.behind is None]
        looks: dict[str, list[Floats]] = {}
        made: dict[str, Staged] = {}
        for entry in like_last(own):
            made[entry.name] = self._staged(entry, looks)
            if any(folded(each.aim.like or "") == folded(entry.name) for each in own):
                looks[folded(entry.name)] = self._looks(made[entry.name].light)
        lights = [made[each.name] for each in own]
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
        )

    def _staged(self, entry: LightEntry, looks: dict[str, list[Floats]]) -> Staged:
        bare = self._loaded.lights[entry.name]
        frost = [each for each in map(self._loaded.kit.find, entry.frost) if each is not None]
        aims = [self._aim(entry, number, looks) for number in range(len(self._candidates))]
        ways: list[tuple[Way, Light]] = []
        ways_at: list[list[int]] = [[] for _ in aims]
        for number, aim in enumerate(aims):
            for way, lamp in self._ways(entry, bare, frost, aim):
                same = [n for n, (each, _) in enumerate(ways) if _alike(each, way)]
                if not same:
                    ways.append((way, lamp))
                ways_at[number].append(same[0] if same else len(ways) - 1)
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
            minutes_per_sheet=self._minutes(entry, "filter") * openings,
            most_loss_stops=MOST_LOSS_STOPS if limit is None else limit,
            level=self._level(entry),
            trims=self._trims(entry, bare),
            views=[self._seen(each) for each in self._views_behind(entry)],
            is_key=entry.name == self._key,
            harmless=self._harmless(entry, bare),
        )
        return Staged(entry, bare, [each[1] for each in ways], light)

    def _aim(self, entry: LightEntry, balance: int, looks: dict[str, list[Floats]]) -> Aim:
        return aim_of(
            entry,
            self._candidates[balance].aim,
            lambda name: looks[folded(name)][balance],
            lambda name: look_in(self._plan, name),
        )

    def _looks(self, light: SceneLight) -> list[Floats]:
        """What a light looks like at each balance when it has its own cheapest option."""
        sheets = [each.members for each in self._filters]
        found = options(self._kit, sheets, light, self._weights)
        places = []
        for balance, each in sorted(found.items()):
            row = int(np.argmin(each.cost))
            aim = light.aims[balance]
            at_mired = aim.mired + each.found.residual_mired[row]
            at_duv = aim.duv + each.found.residual_duv[row]
            bare_uv = uv(light.ways[0].power)
            known = math.isfinite(at_mired)
            places.append(uv_of_mired_duv(at_mired, at_duv) if known else bare_uv)
        return places

    def _ways(
        self, entry: LightEntry, bare: Light, frost: Sequence[Filter], aim: Aim
    ) -> list[tuple[Way, Light]]:
        layers = self._plan.limits.layers if "filter" in entry.moves else 0
        lamps = max(entry.count, len(pieces_of(entry, bare.fitting)))
        found = [(_way("leave", bare, frost, layers), bare)]
        dialled = self._dialled(entry, bare, aim)
        if dialled is not None:
            lamp, dial_k, in_range = dialled
            most = min(layers, DIALLED_LAYERS) if in_range else layers
            minutes = self._minutes(entry, "dial") * entry.count
            way = replace(_way("dial", lamp, frost, most), setting=dial_k, minutes=minutes)
            found.append((way, lamp))
        if "dim" in entry.moves and bare.kind in FILAMENTS and self._level(entry) is not None:
            minutes = self._minutes(entry, "dim") * entry.count
            for stops in DIMMED_STOPS:
                lamp = set_light(bare, dial_k=None, dim_stops=stops)
                way = _way("dim", lamp, frost, layers)
                way = replace(way, setting=stops, level_stops=-stops, minutes=minutes)
                found.append((way, lamp))
        for swap in entry.swap if "swap" in entry.moves else ():
            step = self._plan.camera.tint_step_duv
            lamp = swapped_light(entry, swap, self._folder, tint_step_duv=step)
            way = replace(
                _way("swap", lamp, frost, layers),
                setting=swap.name,
                level_stops=swap.stops,
                minutes=self._minutes(entry, "swap") * lamps,
                uses=(folded(swap.name), lamps),
            )
            found.append((way, lamp))
        if "switch off" in entry.moves:
            minutes = self._minutes(entry, "switch_off")
            found.append((replace(_way("switch off", bare, (), 0), minutes=minutes), bare))
        return found

    def _dialled(
        self, entry: LightEntry, light: Light, aim: Aim
    ) -> tuple[Light, float, bool] | None:
        """An adjustable light at the setting nearest to its aim, that setting, and whether the
        aim lies within its range."""
        if entry.adjustable is None or "dial" not in entry.moves or not math.isfinite(aim.mired):
            return None
        low_k, high_k = entry.adjustable.low_k, entry.adjustable.high_k
        if light.emitters:  # it cannot go further than its own two emitters
            ends = [kelvin(float(mired_duv(uv(each))[0])) for each in light.emitters]
            low_k, high_k = max(low_k, min(ends)), min(high_k, max(ends))
        wanted_k = round(kelvin(aim.mired) / DIAL_STEP_K) * DIAL_STEP_K
        dial_k = round(float(min(max(wanted_k, low_k), high_k)), 1)
        return set_light(light, dial_k=dial_k, dim_stops=0.0), dial_k, low_k <= wanted_k <= high_k

    def _trims(self, entry: LightEntry, bare: Light) -> tuple[Trim, ...]:
        if self._level(entry) is None:
            return (Trim(),)
        found = [Trim()]
        if "scrim" in entry.moves:
            minutes = self._minutes(entry, "scrim") * entry.count
            found += [Trim("scrim", stops, minutes) for _, stops in SCRIMS]
        if "dim" in entry.moves and bare.kind not in FILAMENTS:
            minutes = self._minutes(entry, "dim") * entry.count
            found += [Trim("dim", stops, minutes) for stops in DIMMER_STOPS]
        return tuple(found)

    def _minutes(self, entry: LightEntry, move: str) -> float:
        own, plan = getattr(entry.minutes, move), getattr(self._plan.minutes, move)
        if own is not None:
            return float(own)
        return float(MINUTES[move] if plan is None else plan)

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
            aims=[self._aim(entry, number, {}) for number in range(len(self._candidates))],
            level=self._level(entry),
        )


def _way(move: str, lamp: Light, frost: Sequence[Filter], layers: int) -> Way:
    return Way(move, lamp.power * stack(frost), lamp.members * stack_members(frost), layers)


def _alike(one: Way, other: Way) -> bool:
    return (one.move, one.setting, one.layers) == (other.move, other.setting, other.layers)


def _at_hand(entries: Sequence[LightEntry]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for entry in entries:
        for swap in entry.swap:
            if swap.at_hand is not None:
                counts[folded(swap.name)] = swap.at_hand
    return counts


def like_last(entries: Sequence[LightEntry]) -> list[LightEntry]:
    """Lights in an order in which each follows the one it shall look like."""
    names = {folded(each.name) for each in entries}
    waiting, ordered = list(entries), list[LightEntry]()
    while waiting:
        done = {folded(each.name) for each in ordered}
        ready = [e for e in waiting if e.aim.like is None or folded(e.aim.like) in done]
        ready = ready or [e for e in waiting if folded(e.aim.like or "") not in names]
        ordered += ready
        waiting = [each for each in waiting if each not in ready]
    return ordered
