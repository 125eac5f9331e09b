"""From lights that fall on spots to what is told of each spot."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from evencast.actions.match import aim_answer, tolerance_answer
from evencast.actions.reading import rounded
from evencast.actions.spot_mix import MIDDLE, Falling, Mixed, outer, six
from evencast.actions.spot_words import CORRECT, MOST_OF_IT, Blame, advice, cure, unknown, verdict
from evencast.actions.taking import Taking
from evencast.camera.exposure import stops_between
from evencast.camera.ratio import Ratio
from evencast.lights.level import Level
from evencast.plan.scene import SpotRole
from evencast.plan.tolerance import Allowed, LightRole
from evencast.results.expose import Range
from evencast.results.light import Band
from evencast.results.spot import LightAtSpot, SpotAnswer
from evencast.solver.aim import Aim

BY_ROLE = (
    "No spots are given, so they are assumed by role, each light at its level at the subject. "
    "Write a [[spot]] table for each place that counts, with what really falls there."
)
LESS = (
    "Less of a tungsten light by scrims, distance or a weaker lamp: a dimmed filament turns "
    "warmer as well."
)

_NO_MATTER = 1e-6
"""A light that moves the mix by less, as a share of the tolerance, has the colour of the mix."""


@dataclass(frozen=True)
class Place:
    """A spot and the lights that fall there.

    left_out : name and role of those whose level is not known
    """

    name: str
    role: SpotRole
    assumed: bool
    allowed: Allowed
    lights: Sequence[Falling]
    left_out: Sequence[tuple[str, LightRole]]

    @property
    def is_known(self) -> bool:
        """Whether there is light, and some of the spot's own role unless none has it."""
        lit = {each.role for each in self.lights}
        missing = {role for _, role in self.left_out}
        return bool(lit) and (self.role in lit or self.role not in missing)

    @cached_property
    def brightest(self) -> Falling | None:
        """Of the lights of its own role."""
        own = [each for each in self.lights if each.role == self.role]
        return max(own, key=_brightness, default=None)


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What holds for every spot.

    aims      : by name, what a light shall look like where that is not the balance
    shot      : the f-number the camera is set to
    constants : of the meter that lux were turned into stops by; None where nothing was
    """

    balance: Aim
    aims: Mapping[str, Aim]
    camera: Taking
    shot: float | None
    constants: Range | None


def answers(
    places: Sequence[Place], scene: Scene, kept: dict[str, Mixed] | None = None
) -> list[SpotAnswer]:
    """What is told of each spot, in the same order.

    kept : mixes by spot, as they were at another balance or before a change; filled with those of
           this one
    """
    known = {} if kept is None else kept
    mixes = [_mixed(each, _aim(each, scene), known) if each.is_known else None for each in places]
    both = list(zip(places, mixes, strict=True))
    key = next((mixed for place, mixed in both if place.role == "key" and mixed), None)
    return [
        _answer(place, mixed, key, scene) if mixed else _unknown(place, scene)
        for place, mixed in both
    ]


def _mixed(place: Place, aim: Aim, kept: dict[str, Mixed]) -> Mixed:
    found = kept.get(place.name)
    if found is not None and found.allowed == place.allowed and _alike(found.lights, place.lights):
        return found.at(aim)
    kept[place.name] = Mixed(place.name, place.lights, aim, place.allowed)
    return kept[place.name]


def _alike(ones: Sequence[Falling], others: Sequence[Falling]) -> bool:
    """Whether the same lights fall there as they did: seen as they were, and as bright."""
    return ones is others or (
        len(ones) == len(others)
        and all(
            (one.name, one.role, one.lux) == (other.name, other.role, other.lux)
            and one.seen is other.seen
            and np.array_equal(one.amount, other.amount)
            for one, other in zip(ones, others, strict=True)
        )
    )


def _aim(place: Place, scene: Scene) -> Aim:
    """What the brightest light of the spot's own role shall look like, else the balance."""
    if place.brightest is None:
        return scene.balance
    return scene.aims.get(place.brightest.name, scene.balance)


def _brightness(light: Falling) -> float:
    return float(light.amount[MIDDLE] * np.median(light.passed))


def _unknown(place: Place, scene: Scene) -> SpotAnswer:
    left_out = [name for name, _ in place.left_out]
    own = [name for name, role in place.left_out if role == place.role]
    return SpotAnswer(
        name=place.name,
        role=place.role,
        assumed=place.assumed,
        aim=aim_answer(scene.balance),
        tolerance=tolerance_answer(place.role, place.allowed),
        lights=[],
        left_out=left_out,
        mix=None,
        residual_mired=None,
        residual_duv=None,
        band=None,
        within_tolerance=None,
        blames=None,
        lux=None,
        level_stops=None,
        f_number=None,
        over_stops=None,
        verdict=unknown(own or left_out),
        notes=[BY_ROLE] if place.assumed else [],
    )


def _answer(place: Place, mixed: Mixed, key: Mixed | None, scene: Scene) -> SpotAnswer:
    left_out = [name for name, _ in place.left_out]
    residual, band = _residual(mixed)
    is_inside = mixed.strain_together <= 1.0
    lights = _lights(place, mixed)
    blame = None if is_inside else _blame(place, mixed, lights)
    low, middle, high = (float(each) for each in mixed.levels)
    is_lux = all(each.lux is not None for each in mixed.lights) and scene.constants is None
    f_number = scene.camera.f_numbers(Level(low, high, "lux" if is_lux else "meter"))
    stops = None if key is None else math.log2(middle / float(key.levels[MIDDLE]))
    return SpotAnswer(
        name=place.name,
        role=place.role,
        assumed=place.assumed,
        aim=aim_answer(mixed.aim),
        tolerance=tolerance_answer(place.role, place.allowed),
        lights=[
            _advised(each, blame, is_inside=is_inside)
            for each in sorted(lights, key=lambda each: -each.share)
        ],
        left_out=left_out,
        mix=mixed.reading,
        residual_mired=residual[0],
        residual_duv=residual[1],
        band=band,
        within_tolerance=is_inside,
        blames=None if blame is None else blame.light.name,
        lux=_told((low, high)) if is_lux else None,
        level_stops=None if stops is None else rounded(stops, 4),
        f_number=_told(f_number),
        over_stops=_over(f_number, scene.shot),
        verdict=verdict(
            residual,
            band,
            place.allowed,
            is_inside=is_inside,
            blame=blame,
            left_out=left_out,
        ),
        notes=_notes(place, mixed, key, blame, scene),
    )


def _residual(mixed: Mixed) -> tuple[tuple[float | None, float | None], Band | None]:
    """Mired and Duv of the mix against its aim, and the band where there is doubt."""
    by_mired, by_duv = mixed.reach
    left_mired, left_duv = by_mired - mixed.aim.mired, by_duv - mixed.aim.duv
    residual = (rounded(left_mired[MIDDLE], 3), rounded(left_duv[MIDDLE], 6))
    if mixed.is_exact:
        return residual, None
    with np.errstate(divide="ignore"):
        cct_k = 1e6 / by_mired[::-1]
    return residual, {
        "residual_mired": outer(left_mired, 3),
        "residual_duv": outer(left_duv, 6),
        "cct_k": outer(np.where(np.isfinite(by_mired[::-1]), cct_k, np.nan), 2),
        "mired": outer(by_mired, 3),
        "duv": outer(by_duv, 6),
    }


def _lights(place: Place, mixed: Mixed) -> list[LightAtSpot]:
    """Every light of a mix, in the order of the mix."""
    own_mired, own_duv = mixed.alone
    left_mired = (own_mired - mixed.aim.mired).tolist()
    left_duv = (own_duv - mixed.aim.duv).tolist()
    by_mired, by_duv = (each[MIDDLE] for each in mixed.pulls)
    is_off = (mixed.strain_alone > 1.0).tolist()
    is_away = (mixed.strain_together > mixed.without + _NO_MATTER).tolist()
    is_single = len(mixed.lights) == 1
    is_outside = is_off if is_single else (mixed.allowed.strain(by_mired, by_duv) > 1.0).tolist()
    told = []
    for row, (light, part) in enumerate(zip(mixed.lights, mixed.told, strict=True)):
        within, away = not is_outside[row], is_away[row]
        less = 0.0 if within else _stops_less(mixed, row) if away else None
        told.append(
            LightAtSpot(
                name=light.name,
                role=light.role,
                share=part.share,
                stops=part.stops,
                lux=part.lux,
                residual_mired=rounded(left_mired[row], 3),
                residual_duv=rounded(left_duv[row], 6),
                off_colour=is_off[row],
                pull_mired=part.pull_mired,
                pull_duv=part.pull_duv,
                band=part.band,
                within=within,
                away=away,
                stops_less=less,
                advice=advice(
                    within=within,
                    away=away,
                    is_off=is_off[row],
                    lights_it=light.role == place.role or part.share >= MOST_OF_IT,
                    stops_less=less,
                ),
            )
        )
    return told


def _stops_less(mixed: Mixed, row: int) -> float | None:
    """How many stops less of a light bring its pull inside, rounded up."""
    less = mixed.stops_to_pull_inside(row)
    return None if less is None else math.ceil(less * 1e4) / 1e4


def _blame(place: Place, mixed: Mixed, lights: Sequence[LightAtSpot]) -> Blame | None:
    """The light without which the spot would be nearest to its aim; None where each helps."""
    is_lit_by = [
        each.off_colour and (each.role == place.role or each.share >= MOST_OF_IT) for each in lights
    ]
    blamed = [row for row, each in enumerate(lights) if each.away or is_lit_by[row]]
    if not blamed:
        return None
    worst = min(blamed, key=lambda row: float(mixed.without[row]))
    light = lights[worst]
    if is_lit_by[worst]:
        return Blame(light, lights_it=True)
    if light.stops_less is not None:
        dimmed = mixed.dimmed(worst, np.array([light.stops_less]))
        if mixed.strain(dimmed)[0] <= 1.0:
            return Blame(light, stops_less=light.stops_less, is_enough=True)
    less = mixed.stops_to_be_inside(worst)
    if less is not None:
        return Blame(light, stops_less=less, is_enough=True)
    return Blame(light, stops_less=light.stops_less or None)


def _advised(light: LightAtSpot, blame: Blame | None, *, is_inside: bool) -> LightAtSpot:
    """A light with what to do about it, now that it is known what helps the spot."""
    if blame is not None and light is blame.light:
        return replace(light, advice=cure(blame))
    if blame is None and not is_inside and light.off_colour:
        return replace(light, advice=CORRECT)
    return light


def _notes(
    place: Place, mixed: Mixed, key: Mixed | None, blame: Blame | None, scene: Scene
) -> list[str]:
    notes = [BY_ROLE] if place.assumed else []
    if scene.constants is not None:
        notes.append(_constant_said(scene.constants))
    if place.role == "fill" and key is not None:
        notes += _ratio_said(mixed, key)
    if blame is not None and blame.stops_less is not None:
        light = next(each for each in mixed.lights if each.name == blame.light.name)
        notes += [LESS] if light.seen.light.kind == "tungsten" else []
    return notes


def _constant_said(constants: Range) -> str:
    low, high = constants
    if low == high:
        return f"Levels in lux and levels as a stop are compared by your meter's constant, {low:g}."
    return (
        "Levels in lux and levels as a stop are compared by a meter constant of "
        f"{math.sqrt(low * high):.0f}, the geometric mean of {low:g} (disc) and {high:g} (dome); "
        "the bands hold both. Read all of them alike, and they narrow."
    )


def _ratio_said(mixed: Mixed, key: Mixed) -> list[str]:
    """Both ratios, by name; nothing where no light of the role key is on the key side."""
    alone = sum(
        float(part[:, 1].mean())
        for light, part in zip(key.lights, key.parts, strict=True)
        if light.role == "key"
    )
    if not alone:
        return []
    ratio = Ratio(alone, float(mixed.levels[MIDDLE]))
    return [
        f"Ratio: {ratio.key_to_fill:.3g} to 1 as key : {mixed.name}, {ratio.sum_to_fill:.3g} to 1 "
        f"as (key + {mixed.name}) : {mixed.name}."
    ]


def _over(f_number: Range, shot: float | None) -> Range | None:
    """Stops over (+) or under the stop that the camera is set to."""
    if shot is None:
        return None
    low, high = (round(stops_between(shot, each), 4) + 0.0 for each in f_number)
    return low, high


def _told(ends: Range) -> Range:
    return six(ends[0]), six(ends[1])
