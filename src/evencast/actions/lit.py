"""How much light a solved scene has: each light, the subject, the spots, the views."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from evencast.actions.cures import plan_cures
from evencast.actions.doubt import Looks
from evencast.actions.exposures import Lit, exposures
from evencast.actions.hung import Hung
from evencast.actions.scene import StagedScene
from evencast.actions.softness import frost_loss, frost_of, shining_m, softness
from evencast.actions.spots import spots
from evencast.actions.standing import Around, OtherBalance, OtherLight, Stands
from evencast.actions.views import View, view_answer
from evencast.colour import low_middle_high
from evencast.lights import Light
from evencast.lights.level import in_reach
from evencast.plan.light import Light as LightEntry
from evencast.results.expose import Cure
from evencast.results.exposure import SceneExposure, SoftnessAnswer, Triple, ViewAnswer
from evencast.results.spot import SpotAnswer
from evencast.solver.aim import Aim


def exposure_of(
    staged: StagedScene, lights: Sequence[Hung], seen: Mapping[str, Looks]
) -> SceneExposure | None:
    """What every light that is on gives, and key and fill together; None without levels."""
    if not staged.levels:
        return None
    lit = [
        Lit(
            name=each.staged.entry.name,
            role=each.staged.entry.role,
            aim_stops=None if each.staged.light.level is None else _wanted(each),
            tolerance_stops=each.staged.light.allowed.stops,
            filter_stops=_triple(seen[each.staged.entry.name]),
            scrim_stops=(_scrims(each), _scrims(each)),
            dim_stops=each.dim_stops,
            swap_stops=each.way.level_stops if each.way.move == "swap" else 0.0,
        )
        for each in lights
        if not each.way.is_off
    ]
    return exposures(lit, staged.levels, camera=staged.camera, shot=staged.shot)


def spots_of(
    staged: StagedScene, lights: Sequence[Hung], seen: Mapping[str, Looks], balance: Aim
) -> list[SpotAnswer]:
    """What falls on each spot together; none where no level is known and no spot is named."""
    plan = staged.loaded.plan
    if not staged.levels and not plan.spot:
        return []
    on = [each for each in lights if not each.way.is_off]
    taken = {}
    for each in on:
        bare = staged.levels.get(each.staged.entry.name)
        least, most = (0.0, 0.0) if bare is None else bare.frost_stops
        taken[each.staged.entry.name] = (each.other_stops + least, each.other_stops + most)
    places = spots(
        plan,
        {each.staged.entry.name: seen[each.staged.entry.name] for each in on},
        {name: each.level for name, each in staged.levels.items()},
        taken,
        staged.camera,
    )
    aims = {each.staged.entry.name: each.aim for each in on}
    return places.answers(balance, staged.shot.f_number, aims=aims)


def views_of(staged: StagedScene, lights: Sequence[Hung], balance: int) -> list[ViewAnswer]:
    """What is seen through windows, with the sheets that hang on their panes; nothing through one
    that is blacked out."""
    if staged.shot.f_number is None:
        return []
    found = []
    for each in lights:
        if each.staged.entry.role == "view":
            found += _view(staged, each.staged.entry, each, each.aim)
        for view in () if each.way.is_off else each.staged.light.views:
            entry = next(e for e, _ in staged.views if e.name == view.name)
            found += _view(staged, entry, each, view.aims[balance])
    return found


def softness_of(staged: StagedScene, each: Hung) -> SoftnessAnswer | None:
    """How soft a light is; None where neither its size nor frost is said."""
    entry = each.staged.entry
    frost = frost_of(entry, staged.loaded.kit)
    return softness(
        entry,
        frost,
        loss_stops=frost_loss(each.staged.bare, frost),
        distance_m=_distance_m(staged, entry),
    )


def light_cures(
    staged: StagedScene,
    each: Hung,
    lights: Sequence[Hung],
    exposure: SceneExposure | None,
    others: Mapping[str, float],
) -> list[Cure]:
    """Ways to a light's level, cheapest first; none where it is there, or not judged.

    others : what this light's sheets take at other balances, by their label
    """
    entry = each.staged.entry
    told = {light.name: light for light in exposure.lights} if exposure else {}
    if each.is_level or entry.role == "view" or entry.name not in told:
        return []
    found = told[entry.name]
    if found.gap_stops is None:
        return []
    bare = staged.levels[entry.name]
    frost = frost_of(entry, staged.loaded.kit)
    scrims = _scrims(each)
    stands = Stands(
        light=each.lamp,
        distance_m=_distance_m(staged, entry),
        size_m=shining_m(entry),
        focus=None if entry.level is None else entry.level.focus,
        filters=each.filters,
        scrim_stops=(scrims, scrims),
        dim_stops=each.dim_stops,
        frost=frost,
        frost_stops=bare.frost_stops,
        aim=each.aim,
    )
    by_key = each.staged.light.level is not None and each.staged.light.level.against_key
    against = found.against if by_key else None
    around = Around(
        against=against,
        falls=against is not None and _falls(staged.loaded.lights[against]),
        shot_f_number=staged.shot.f_number,
        at_hand=staged.filters,
        balances=[OtherBalance(label, stops) for label, stops in others.items()],
        level=bare.level,
        others=[
            OtherLight(
                other.staged.entry.name,
                other.staged.bare,
                staged.levels[other.staged.entry.name].level,
                None if other.level_stops is None else -other.level_stops,
            )
            for other in lights
            if other is not each and other.staged.entry.name in told
        ],
    )
    low, _, high = found.gap_stops
    return plan_cures((low, high), stands, around, camera=staged.camera)


def _view(staged: StagedScene, entry: LightEntry, window: Hung, aim: Aim) -> list[ViewAnswer]:
    bare = staged.levels.get(entry.name)
    if bare is None or staged.shot.f_number is None:
        return []
    view = View(
        name=entry.name,
        light=staged.loaded.lights[entry.name],
        bare=bare,
        filters=window.filters,
        aim=aim,
        aim_stops=entry.aim.stops,
        allowed=staged.loaded.plan.allowed(entry.role),
    )
    shot = staged.shot.f_number
    at_hand = staged.filters
    return [view_answer(view, camera=staged.camera, shot_f_number=shot, at_hand=at_hand)]


def _falls(light: Light) -> bool:
    """Whether a light is daylight, which falls by itself."""
    return light.kind == "daylight" or light.fitting == "window"


def _wanted(each: Hung) -> float | None:
    aim = each.staged.light.level
    return None if aim is None or aim.only_under else aim.wanted_stops


def _triple(seen: Looks) -> Triple:
    low, middle, high = (in_reach(float(each)) for each in low_middle_high(seen.loss_stops))
    return low, middle, high


def _scrims(each: Hung) -> float:
    return each.trim.stops if each.trim.what == "scrim" else 0.0


def _distance_m(staged: StagedScene, entry: LightEntry) -> float | None:
    if entry.distance_mm is not None:
        return entry.distance_mm / 1000.0
    bare = staged.levels.get(entry.name)
    return None if bare is None else bare.level.distance_m
