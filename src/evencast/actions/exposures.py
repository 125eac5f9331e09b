"""How much light every light of a plan gives as it hangs, and what that is to key and shot.

A level is known between two ends, a meter's constant between two more. Where two levels are
compared or added they are first brought to one unit by the same constant, once with each: read
in one unit, lights compare without it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from evencast.actions.arriving import constant_notes
from evencast.actions.levels import BareLevel, Shot
from evencast.actions.taking import Taking
from evencast.camera.exposure import meter_level
from evencast.camera.ratio import Ratio, stops
from evencast.lights.level import Level, in_reach, total
from evencast.plan.tolerance import LightRole
from evencast.results.expose import Range
from evencast.results.exposure import (
    LightExposure,
    RatioRange,
    SceneExposure,
    SubjectExposure,
    Triple,
)

THE_SHOT = "the shot"
ON_THE_FACE: tuple[LightRole, ...] = ("key", "fill")
"""Roles whose lights fall on the subject together."""

NARROWER = (
    "Read a stop on your own meter and write it as f_stop, or its meter_constant in the camera"
)
NO_KEY = "No light of the role key has a level: no level against the key is judged."
FILL_BRIGHTER = "The fill is brighter than the key."


@dataclass(frozen=True, slots=True)
class Lit:
    """One light with what hangs in front of it.

    aim_stops       : against the key light; of the first key, and of views, against the shot.
                      None where its level is not judged; the first key always is
    tolerance_stops : how far it may be from that
    filter_stops    : what its filters take
    scrim_stops     : what its scrims take
    dim_stops       : what its dimmer takes
    swap_stops      : how much brighter the lamp is that was put in its place
    """

    name: str
    role: LightRole
    aim_stops: float | None = None
    tolerance_stops: float = 0.5
    filter_stops: Triple = (0.0, 0.0, 0.0)
    scrim_stops: Range = (0.0, 0.0)
    dim_stops: float = 0.0
    swap_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Arriving:
    """Light at the subject, in one unit.

    ends   : least and most
    middle : between the ends, half of its stops to either side
    """

    ends: Level
    middle: Level

    def metered(self, constant: float) -> Arriving:
        """As a meter of that constant takes it."""
        return Arriving(self.ends.metered(constant), self.middle.metered(constant))


def arriving(lit: Lit, bare: BareLevel) -> Arriving:
    """What is left of a light behind sheets, scrims, frost and dimmer."""
    least, middle, most = (in_reach(each) for each in lit.filter_stops)
    dimmed = in_reach(lit.dim_stops - lit.swap_stops)
    (scrim, scrims), (frost, frosts) = lit.scrim_stops, bare.frost_stops
    taken = middle + (scrim + scrims) / 2.0 + (frost + frosts) / 2.0 + dimmed
    centre = math.sqrt(bare.level.low * bare.level.high)
    return Arriving(
        bare.level.losing(least + scrim + frost + dimmed, most + scrims + frosts + dimmed),
        replace(bare.level, low=centre, high=centre).losing(taken, taken),
    )


def together(lights: Sequence[Arriving]) -> Arriving:
    """Several lights on one place, all in one unit."""
    return Arriving(total([each.ends for each in lights]), total([each.middle for each in lights]))


def over(this: Arriving, other: Arriving, camera: Taking) -> Triple:
    """How much brighter a light is than another, by one meter. [stop; negative is darker]"""
    low, high = camera.stops_above(this.ends, other.ends)
    at = _middle_constant(camera)
    middle = math.log2(this.middle.metered(at).low / other.middle.metered(at).low)
    return round(low, 4) + 0.0, round(middle, 4) + 0.0, round(high, 4) + 0.0


def shot_level(shot: Shot, camera: Taking) -> Arriving | None:
    """The light that the stop the camera is set to asks for; None where none is set."""
    if shot.f_number is None:
        return None
    value = meter_level(shot.f_number, index=camera.index, exposure_s=camera.time_s)
    level = Level(value, value, "meter")
    return Arriving(level, level)


def exposures(
    lights: Sequence[Lit], bare: Mapping[str, BareLevel], *, camera: Taking, shot: Shot
) -> SceneExposure:
    """Every light whose level is known, and key and fill together.

    lights : in the plan's order; of them the first key with a level is the key light
    bare   : by name, as `bare_levels` gives it
    """
    known = {each.name: arriving(each, bare[each.name]) for each in lights if each.name in bare}
    hung = [each for each in lights if each.name in known]
    key = next((each for each in hung if each.role == "key"), None)
    scene = _Scene(camera, shot_level(shot, camera), key.name if key else None, known)
    by_lux = any(each.ends.unit == "lux" for each in known.values())
    return SceneExposure(
        shot_f_number=shot.f_number,
        exposure_index=camera.index,
        exposure_s=camera.time_s,
        frames_per_s=camera.frames_per_s,
        meter_constants=camera.constants if by_lux else None,
        key=scene.key,
        lights=[scene.light(each, bare[each.name]) for each in hung],
        subject=scene.subject([each for each in lights if each.role in ON_THE_FACE]),
        notes=_notes(lights, known, scene, shot),
    )


@dataclass(frozen=True, slots=True)
class _Scene:
    """What every light of a plan is judged by.

    shot  : the light that the camera's stop asks for
    key   : name of the key light
    known : what arrives from each light, by name
    """

    camera: Taking
    shot: Arriving | None
    key: str | None
    known: Mapping[str, Arriving]

    def light(self, lit: Lit, bare: BareLevel) -> LightExposure:
        """One light alone."""
        level = self.known[lit.name]
        aim_stops = lit.aim_stops
        if aim_stops is None and lit.name == self.key:
            aim_stops = 0.0
        against, reference = self._reference(lit)
        gap = None
        if aim_stops is not None and reference is not None:
            gap = _gap(aim_stops, over(level, reference, self.camera))
        return LightExposure(
            name=lit.name,
            role=lit.role,
            known_by=bare.known_by,
            f_number=_significant(self.camera.f_numbers(level.ends)),
            lux=_lux(level.ends),
            over_shot_stops=None if self.shot is None else over(level, self.shot, self.camera),
            against=against if gap else None,
            aim_stops=aim_stops if gap else None,
            gap_stops=gap,
            tolerance_stops=lit.tolerance_stops,
            within_tolerance=abs(gap[1]) <= lit.tolerance_stops if gap else None,
            notes=bare.notes,
        )

    def _reference(self, lit: Lit) -> tuple[str, Arriving | None]:
        """What a light is judged against, by name and by level; no level where there is none."""
        if lit.role == "view" or lit.name == self.key:
            return THE_SHOT, self.shot
        return self.key or "", self.known.get(self.key or "")

    def subject(self, on_face: Sequence[Lit]) -> SubjectExposure | None:
        """Key and fill together; None where the level of neither is known."""
        lit = [each for each in on_face if each.name in self.known]
        if not lit:
            return None
        levels = [self.known[each.name] for each in lit]
        keys = [self.known[each.name] for each in lit if each.role == "key"]
        fills = [self.known[each.name] for each in lit if each.role == "fill"]
        by_disc, between, by_dome = (
            together([each.metered(at) for each in levels]) for at in self._constants
        )
        summed = Arriving(Level(by_dome.ends.low, by_disc.ends.high, "meter"), between.middle)
        in_lux = all(each.ends.unit == "lux" for each in levels)
        ratios = self._ratios(keys, fills)
        to_fill = _range_of(ratios, lambda ratio: ratio.key_to_fill)
        return SubjectExposure(
            lights=[each.name for each in lit],
            unknown=[each.name for each in on_face if each.name not in self.known],
            f_number=_significant(self.camera.f_numbers(summed.ends)),
            lux=_lux(together(levels).ends) if in_lux else None,
            over_shot_stops=None if self.shot is None else over(summed, self.shot, self.camera),
            key_to_fill=to_fill,
            sum_to_fill=_range_of(ratios, lambda ratio: ratio.sum_to_fill),
            notes=[FILL_BRIGHTER] if to_fill and to_fill.to_one[1] < 1.0 else [],
        )

    @property
    def _constants(self) -> Triple:
        """Of a disc, halfway, and of a dome: the same light is most by the disc's."""
        low, high = self.camera.constants
        return low, _middle_constant(self.camera), high

    def _ratios(self, keys: Sequence[Arriving], fills: Sequence[Arriving]) -> list[_Ratios]:
        """Least, middle and most with each constant on both; none without key or fill."""
        if not keys or not fills:
            return []
        found = []
        for at in self._constants:
            key = together([each.metered(at) for each in keys])
            fill = together([each.metered(at) for each in fills])
            least, most = Ratio(key.ends.low, fill.ends.high), Ratio(key.ends.high, fill.ends.low)
            found.append((least, Ratio(key.middle.low, fill.middle.low), most))
        return found


_Ratios = tuple[Ratio, Ratio, Ratio]


def _range_of(ratios: Sequence[_Ratios], of: Callable[[Ratio], float]) -> RatioRange | None:
    """One definition of the ratio; None where there is none."""
    if not ratios:
        return None
    ends = (
        min(of(least) for least, _, _ in ratios),
        of(ratios[1][1]),
        max(of(most) for _, _, most in ratios),
    )
    low, middle, high = (float(f"{each:.6g}") for each in ends)
    return RatioRange(
        to_one=(low, middle, high),
        stops=(round(stops(low), 4), round(stops(middle), 4), round(stops(high), 4)),
    )


def _gap(aim_stops: float, over_stops: Triple) -> Triple:
    """What is missing to an aim. [stop; + too little light]"""
    low, middle, high = (round(aim_stops - each, 4) + 0.0 for each in reversed(over_stops))
    return low, middle, high


def _notes(
    lights: Sequence[Lit], known: Mapping[str, Arriving], scene: _Scene, shot: Shot
) -> list[str]:
    if not known:
        return []
    notes = [shot.note]
    judged = any(each.aim_stops is not None and each.role not in ("key", "view") for each in lights)
    if scene.key is None and judged:
        notes.append(NO_KEY)
    in_lux = next((each.ends for each in known.values() if each.ends.unit == "lux"), None)
    return notes + (constant_notes(in_lux, scene.camera, narrow=NARROWER) if in_lux else [])


def _middle_constant(camera: Taking) -> float:
    """Halfway between a meter's two constants in stops."""
    low, high = camera.constants
    return math.sqrt(low * high)


def _lux(level: Level) -> Range | None:
    return _significant((level.low, level.high)) if level.unit == "lux" else None


def _significant(ends: Range) -> Range:
    low, high = (float(f"{each:.6g}") for each in ends)
    return low, high
