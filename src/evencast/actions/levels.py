"""Levels of a plan: how the camera takes a frame, and how much light each of its lights gives.

Nothing here reads the document itself: faults come back as problems whose `where` is the place
inside it, such as `light "key".level.photometry`, for the caller to put its name before.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.actions.arriving import candela_notes, diffusion_notes, near_field
from evencast.actions.photometric import FileCandela, candela_of_file
from evencast.actions.planned import LoadedPlan
from evencast.actions.softness import frost_loss, frost_of, shining_m
from evencast.actions.taking import (
    Known,
    Taking,
    by_ev,
    by_footcandles,
    by_lux,
    by_stop,
    candela_of_watts,
    positive,
    within_frame,
)
from evencast.camera.exposure import DISC_CONSTANT, DOME_CONSTANT, stops_between
from evencast.camera.flicker import FRAMES_PER_S
from evencast.errors import EvencastError, Problem
from evencast.lights import Light
from evencast.lights.fixture import Fixture, lamp_watts, within_reach
from evencast.lights.level import Level, moving_stops, of_candela
from evencast.plan.place import quoted
from evencast.quantities import say_stops
from evencast.results.expose import Range

if TYPE_CHECKING:
    from evencast.plan.level import Level as LevelKeys
    from evencast.plan.level import Reading
    from evencast.plan.light import Light as LightEntry
    from evencast.plan.plan import Camera, Plan

A_READING = "Give a reading, lux, fc, ev or f_stop; or cd; or the file of its photometry."
T_STOP = (
    "The lens is set by T-stop: taken as the stop that a meter shows, which is what T-stops are "
    "marked for."
)
F_STOP = (
    "The lens is set by f-stop: taken as the stop that a meter shows. Its glass passes less than "
    "the f-stop says; where its T-stop is known, write t_stop."
)
NO_SHOT_STOP = (
    "No stop is set, so that the key and views are not judged: write t_stop or f_stop of the "
    "camera."
)


@dataclass(frozen=True, slots=True)
class BareLevel:
    """How much light one light of a plan gives, by what is known of it.

    level       : at the subject, all its fixtures together, before sheets, scrims and frost; of
                  the role view, what a reflected reading says of it, as a stop
    known_by    : what it was taken from
    notes       : what to know of it, cautions on nearness among them
    frost_stops : what the frost that hangs in any case takes, least and most
    """

    level: Level
    known_by: str
    notes: list[str]
    frost_stops: Range


@dataclass(frozen=True, slots=True)
class Shot:
    """The stop the camera is set to, as a meter would show it; None where the plan has none."""

    f_number: float | None
    note: str


def camera_of(plan: Plan) -> Taking:
    """How the plan's camera takes a frame, by its meter's constant, or by those of a disc
    and of a dome.

    Raises  EvencastError for a shutter longer than a frame, and for numbers beyond a camera's
    """
    camera, mains_hz, own = plan.camera, plan.mains_hz, plan.camera.meter_constant
    frames_per_s = positive(
        camera.frames_per_s or FRAMES_PER_S[mains_hz], where="camera.frames_per_s", example="25"
    )
    shutter = "camera.shutter_s" if camera.shutter_s is not None else "camera.shutter_deg"
    time_s = positive(
        camera.exposure_s(mains_hz=mains_hz),
        where=shutter,
        example="0.02" if camera.shutter_s is not None else "180",
    )
    return Taking(
        index=positive(camera.exposure_index, where="camera.exposure_index", example="800"),
        time_s=within_frame(
            time_s, said=f"of {time_s:g} s", frames_per_s=frames_per_s, where=shutter
        ),
        frames_per_s=frames_per_s,
        constants=(own, own) if own else (DISC_CONSTANT, DOME_CONSTANT),
        mains_hz=mains_hz,
    )


def shot_of(camera: Camera) -> Shot:
    """The stop the camera is set to.

    Raises  EvencastError for a stop that no lens has
    """
    if camera.t_stop is not None:
        return Shot(positive(camera.t_stop, where="camera.t_stop", example="2.8"), T_STOP)
    if camera.f_stop is not None:
        return Shot(positive(camera.f_stop, where="camera.f_stop", example="2.8"), F_STOP)
    return Shot(None, NO_SHOT_STOP)


def over_shot(level: Level, camera: Taking, shot_f_number: float) -> Range:
    """Stops over (+) or under the stop the camera is set to, by both constants of a meter.

    A level that was read as a stop needs none.
    """
    low, high = camera.f_numbers(level)
    return stops_between(shot_f_number, low), stops_between(shot_f_number, high)


def bare_levels(loaded: LoadedPlan, folder: Path) -> tuple[dict[str, BareLevel], list[Problem]]:
    """The level of every light of a plan that has one, and what cannot be read, all at once.

    folder : of the plan, which its photometric files are relative to
    Returns levels by the light's name; a light with a problem has none
    """
    camera, problems = _camera(loaded.plan)
    found: dict[str, BareLevel] = {}
    for entry in loaded.plan.light:
        if entry.level is None:
            continue
        bare = _bare(entry, entry.level, loaded, folder, camera)
        if isinstance(bare, Problem):
            problems.append(bare)
        else:
            found[entry.name] = bare
    return found, problems


def level_of_reading(
    reading: Reading, *, camera: Taking, within: str, at_m: float | None = None
) -> Known:
    """A meter's reading, at the camera's index and shutter unless it names its own.

    within : where in the document it stands
    at_m   : from the light to where it was read
    Raises  EvencastError for a reading beyond any meter
    """
    if reading.lux is not None:
        return by_lux(reading.lux, at_m=at_m, where=f"{within}.lux")
    if reading.fc is not None:
        return by_footcandles(reading.fc, at_m=at_m, where=f"{within}.fc")
    if reading.ev is not None:
        return by_ev(reading.ev, at_m=at_m, where=f"{within}.ev")
    index, time_s = reading.exposure_index, reading.shutter_s
    return by_stop(
        positive(reading.f_stop or 0.0, where=f"{within}.f_stop", example="4"),
        index=positive(index or camera.index, where=f"{within}.exposure_index", example="800"),
        time_s=positive(time_s or camera.time_s, where=f"{within}.shutter_s", example="0.02"),
        at_m=at_m,
    )


def _camera(plan: Plan) -> tuple[Taking, list[Problem]]:
    """The plan's camera and what is wrong with it; where it cannot be, a usual one, so that the
    lights are read as well."""
    camera = Taking(800.0, 0.02, 25.0, (DISC_CONSTANT, DOME_CONSTANT), None)
    problems = []
    try:
        camera = camera_of(plan)
    except EvencastError as error:
        problems.append(Problem("error", error.where, error.what, error.remedy))
    try:
        shot_of(plan.camera)
    except EvencastError as error:
        problems.append(Problem("error", error.where, error.what, error.remedy))
    return camera, problems


def _bare(
    entry: LightEntry, keys: LevelKeys, loaded: LoadedPlan, folder: Path, camera: Taking
) -> BareLevel | Problem:
    """One light's level, or what is wrong with it."""
    light, frost = loaded.lights[entry.name], frost_of(entry, loaded.kit)
    try:
        loss = frost_loss(light, frost)
        bare = (
            _view(entry, keys, camera)
            if entry.role == "view"
            else _lamp(entry, keys, light, folder, camera)
        )
    except EvencastError as error:
        place = f"light {quoted(entry.name)}.{error.where}"
        return Problem("error", place, error.what, error.remedy)
    return replace(bare, notes=bare.notes + diffusion_notes(frost), frost_stops=loss)


def _view(entry: LightEntry, keys: LevelKeys, camera: Taking) -> BareLevel:
    """What is seen through a window, by a reflected reading: as bright from anywhere, and through
    one pane as through three."""
    level, _, known_by = level_of_reading(keys, camera=camera, within="level")
    notes = []
    if entry.count > 1 or keys.distance_mm is not None or entry.distance_mm is not None:
        notes.append("A view looks as bright from anywhere: its count and distance are not used.")
    return BareLevel(level, f"{known_by}, reflected", notes, (0.0, 0.0))


@dataclass(frozen=True, slots=True)
class _Lamp:
    """What is known of one fixture: its level where it was read, and what to know of that."""

    known: Known
    notes: list[str]
    size_m: float | None


def _lamp(
    entry: LightEntry, keys: LevelKeys, light: Light, folder: Path, camera: Taking
) -> BareLevel:
    """What arrives from all of its fixtures."""
    read_m = _metres(keys.distance_mm, where="level.distance")
    stands_m = _metres(entry.distance_mm, where="distance")
    to_m = read_m if stands_m is None else stands_m
    if keys.cd is None and keys.watts is None and keys.photometry is None:
        known = level_of_reading(keys, camera=camera, within="level", at_m=read_m)
        lamp = _Lamp(known, [], None)
    else:
        lamp = _by_candela(keys, light, to_m, folder)
    one, candela, known_by = lamp.known
    level = one if to_m is None or one.distance_m == to_m else one.moved(to_m)
    size_m = shining_m(entry, unless_said_m=lamp.size_m)
    notes = [*lamp.notes, *candela_notes(candela, keys.watts)]
    notes += _moved(one, to_m) + near_field(
        to_m,
        one.distance_m,
        size_m=size_m,
        ask="Say how large the lit frost is, with frost_size"
        if entry.frost
        else "Say how large it is, with size",
    )
    known_by = known_by if entry.count == 1 else f"{entry.count} times {known_by}"
    return BareLevel(level.times(entry.count), known_by, notes, (0.0, 0.0))


def _by_candela(keys: LevelKeys, light: Light, to_m: float | None, folder: Path) -> _Lamp:
    """By candelas, as given, as a file has them, or as a lamp of those watts usually has."""
    notes: list[str] = []
    size_m = None
    if keys.cd is not None:
        cd = positive(keys.cd, where="level.cd", example="9000")
        candela, known_by = (cd, cd), f"{cd:g} cd"
    elif keys.photometry is not None:
        found = _photometry(keys.photometry, folder)
        candela, known_by, size_m = found.candela, found.known_by, found.size_m
        told = [*filter(None, (found.assumed,)), *found.remarks]
        notes = [f"{keys.photometry}: {each}." for each in told]
    else:
        candela, known_by = _watts(keys, light)
    if to_m is None:
        raise EvencastError(
            "without a distance nobody can tell how much light arrives",
            where="level",
            remedy="Say how far it stands from the subject, as in distance_m = 3.",
        )
    return _Lamp((of_candela(*candela, distance_m=to_m), candela, known_by), notes, size_m)


def _photometry(name: str, folder: Path) -> FileCandela:
    """The candelas of a photometric file, or of a fixture's, beside the plan."""
    try:
        found = candela_of_file(folder / name)
        for each in found.candela:
            positive(each, where=name, example="9000")
    except EvencastError as error:
        raise EvencastError(
            f"{name}: {error.what}", where="level.photometry", remedy=error.remedy
        ) from None
    return found


def _watts(keys: LevelKeys, light: Light) -> tuple[Range, str]:
    watts = lamp_watts(keys.watts or 0.0, where="level.watts")
    try:
        return candela_of_watts(Fixture(light.name, watts=watts, focus=keys.focus), light)
    except EvencastError as error:
        raise EvencastError(
            error.what,
            where="level.watts",
            remedy="Typical candelas are at hand for tungsten Fresnels alone "
            '(kind = "tungsten", fitting = "fixture"). ' + A_READING,
        ) from None


def _metres(length_mm: float | None, *, where: str) -> float | None:
    return None if length_mm is None else within_reach(length_mm / 1000.0, where=where)


def _moved(one: Level, to_m: float | None) -> list[str]:
    """A word where a reading was taken to another distance."""
    if to_m is None or one.distance_m is None or to_m == one.distance_m:
        return []
    gain = moving_stops(from_m=one.distance_m, to_m=to_m)
    return [
        f"Moved from {one.distance_m:.3g} m, where it was read, to {to_m:.3g} m: "
        f"{say_stops(gain)} {'more' if gain > 0 else 'less'}, by inverse square."
    ]
