"""`expose`: the stop that a light gives at the subject, through sheets and scrims."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Unpack

from evencast.actions import resolve
from evencast.actions.arriving import (
    T_STOPS,
    candela_notes,
    constant_notes,
    diffusion_notes,
    near_field,
)
from evencast.actions.cautions import cautions, move_cautions
from evencast.actions.cures import cures
from evencast.actions.doubt import light_notes, looks, middle
from evencast.actions.flicker import flicker
from evencast.actions.kit import load_kit
from evencast.actions.standing import Stands
from evencast.actions.taking import Readings, Taking, TakingOptions, level_of, stop_number, taking
from evencast.camera.exposure import stops_between
from evencast.colour import low_middle_high
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.lights import Light
from evencast.lights.fixture import Fixture, parse_fixture, parse_length_m
from evencast.lights.level import SCRIM_STOPS, Level
from evencast.results.expose import Cure, ExposeAnswer, Range

NARROWER = "Read a stop on your own meter (--stop) or give its constant (--constant)"


def expose(
    light_text: str,
    *,
    readings: Readings,
    at: str | None = None,
    to: str | None = None,
    size: str | None = None,
    through: Sequence[str] = (),
    scrims: Sequence[str] = (),
    want: str | None = None,
    kind: str | None = None,
    kit: Path | None = None,
    **taken: Unpack[TakingOptions],
) -> ExposeAnswer:
    """The stop at the subject.

    light_text : a light as it stands, "650 tungsten 3m flood", or any light
    at, to     : how far from it the bare light was read, and where the subject is
    taken      : index, shutter, frame rate, mains and the meter's constant, as `taking` has them
    """
    fixture = parse_fixture(light_text)
    light = resolve.light(fixture.light, kind)
    camera = taking(**taken)
    at_m, to_m = _distances(fixture, readings, at=at, to=to)
    one, candela, known_by = level_of(
        readings, fixture=fixture, light=light, at_m=at_m, camera=camera
    )
    front = _front(light, through, scrims, kit)
    bare = _arriving(one.times(fixture.count), to_m)
    left = bare.losing(*front.loss_stops)
    stop = camera.f_numbers(left)
    wanted, gap = _gap(stop, want)
    return ExposeAnswer(
        light=light.name,
        known_by=known_by,
        count=fixture.count,
        distance_m=to_m,
        candela=candela,
        bare_lux=_lux(bare),
        illuminance_lux=_lux(left),
        filters=[each.name for each in front.filters],
        scrims=list(scrims),
        filter_loss_stops=round(front.middle_stops, 4),
        loss_stops=_rounded(front.loss_stops),
        exposure_index=camera.index,
        exposure_s=camera.time_s,
        frames_per_s=camera.frames_per_s,
        meter_constants=camera.constants if left.unit == "lux" else None,
        f_number=_rounded(stop),
        want=wanted,
        gap_stops=gap,
        cures=_cures(gap, to_m, camera, light, fixture, front),
        notes=_notes(light, fixture, front.filters, left, camera, candela)
        + light_notes(light, from_file=resolve.is_path(fixture.light)),
        cautions=cautions(light, front.filters, front.middle_stops)
        + move_cautions(light, swapped=False, dimmed=False, scrims=bool(scrims))
        + flicker(light, camera)
        + _near_field(to_m, at_m, size),
    )


@dataclass(frozen=True, slots=True)
class _Front:
    """What stands in front of the light, and what it takes.

    middle_stops : of the filters alone, the middle of what they may take
    filter_stops : of them, nine in ten of what they may take
    """

    filters: Sequence[Filter]
    middle_stops: float
    filter_stops: Range
    scrim_stops: Range

    @property
    def loss_stops(self) -> Range:
        """Filters and scrims together."""
        return (
            self.filter_stops[0] + self.scrim_stops[0],
            self.filter_stops[1] + self.scrim_stops[1],
        )


def _front(light: Light, through: Sequence[str], scrims: Sequence[str], kit: Path | None) -> _Front:
    loaded = load_kit(kit) if kit else None
    filters = [resolve.filter_named(text, loaded) for text in through]
    middle_stops, filter_stops = _filter_loss(light, filters)
    return _Front(filters, middle_stops, filter_stops, _scrim_loss(scrims))


def _cures(
    gap: Range | None,
    to_m: float | None,
    camera: Taking,
    light: Light,
    fixture: Fixture,
    front: _Front,
) -> list[Cure]:
    if gap is None:
        return []
    stands = Stands(
        light,
        distance_m=to_m,
        focus=fixture.focus,
        filters=front.filters,
        scrim_stops=front.scrim_stops,
    )
    return cures(gap, stands, camera=camera)


def _distances(
    fixture: Fixture, readings: Readings, *, at: str | None, to: str | None
) -> tuple[float | None, float | None]:
    """Where the level holds, and where the subject is. [m]"""
    at_m = None if at is None else parse_length_m(at, where="--at")
    to_m = None if to is None else parse_length_m(to, where="--to")
    if at_m is not None and fixture.distance_m is not None and at_m != fixture.distance_m:
        raise EvencastError(
            f"the light stands at {fixture.distance_m:g} m and was read at {at_m:g} m",
            where="--at",
            remedy="Leave the distance behind the light out, and say with --to where the "
            "subject is.",
        )
    at_m = at_m if at_m is not None else fixture.distance_m
    of_candelas = readings.candela is not None or not readings.given()
    if at_m is None and of_candelas:
        at_m = to_m
    if at_m is None and to_m is not None:
        raise EvencastError(
            "the reading has no distance, so it cannot be moved",
            where="--to",
            remedy="Say with --at how far from the light it was read; or leave --to out if "
            "that was at the subject.",
        )
    return at_m, to_m if to_m is not None else at_m


def _filter_loss(light: Light, filters: Sequence[Filter]) -> tuple[float, Range]:
    """What the sheets take: the middle, and nine in ten of what they may. [stop]"""
    if not filters:
        return 0.0, (0.0, 0.0)
    losses = looks(light, filters).loss_stops
    low, _, high = (float(each) for each in low_middle_high(losses))
    if not high < float("inf"):
        raise EvencastError(
            f"nothing of {light.name} passes",
            where=" + ".join(each.name for each in filters),
            remedy="Use sheets that pass some of the wavelengths this light has.",
        )
    return middle(losses), (low, high)


def _scrim_loss(scrims: Sequence[str]) -> Range:
    low, high = 0.0, 0.0
    for name in scrims:
        least, most = SCRIM_STOPS[name]
        low, high = low + least, high + most
    return low, high


def _gap(stop: Range, want: str | None) -> tuple[float | None, Range | None]:
    """The stop that is wanted and what is missing to it, + too little light. [stop]"""
    if want is None:
        return None, None
    wanted = stop_number(want, where="--want")
    return wanted, _rounded((stops_between(stop[1], wanted), stops_between(stop[0], wanted)))


def _arriving(level: Level, to_m: float | None) -> Level:
    """A level where the subject is."""
    return level if to_m is None or to_m == level.distance_m else level.moved(to_m)


def _lux(level: Level) -> Range | None:
    return _rounded((level.low, level.high)) if level.unit == "lux" else None


def _rounded(ends: Range) -> Range:
    low, high = (float(f"{each:.6g}") + 0.0 for each in ends)
    return low, high


def _notes(
    light: Light,
    fixture: Fixture,
    filters: Sequence[Filter],
    left: Level,
    camera: Taking,
    candela: Range | None,
) -> list[str]:
    notes = constant_notes(left, camera, narrow=NARROWER)
    notes += candela_notes(candela, fixture.watts)
    notes += diffusion_notes(filters)
    if filters and light.lacks_colours:
        notes.append("A meter and a camera part ways on this lamp: shoot a test frame.")
    return [*notes, T_STOPS]


def _near_field(to_m: float | None, at_m: float | None, size: str | None) -> list[str]:
    size_m = None if size is None else parse_length_m(size, where="--size")
    return near_field(to_m, at_m, size_m=size_m, ask="Say with --size how large it is")
