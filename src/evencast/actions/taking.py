"""From what a person writes to how much light there is, and how the camera takes it."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TypedDict

from evencast.actions.photometric import candela_of_file, is_photometric
from evencast.camera.exposure import (
    DISC_CONSTANT,
    DISC_CONSTANTS,
    DOME_CONSTANT,
    DOME_CONSTANTS,
    exposure_s,
    f_number,
    lux,
    meter_level,
    meter_level_of_ev,
)
from evencast.camera.flicker import FRAMES_PER_S, Mains
from evencast.errors import EvencastError
from evencast.lights.fixture import Fixture, candela_per_watt, typical_candela
from evencast.lights.level import Level, of_candela
from evencast.lights.light import Light
from evencast.results.expose import Range

DEFAULT_FRAMES_PER_S = 24.0
LEAST, MOST = 1e-6, 1e9
"""No lux, watt, volt, index or part of a second that is met lies beyond."""

LEAST_EV, MOST_EV = -10, 30
"""Exposure values for ISO 100 that a meter shows."""

READINGS = "--lux, --fc, --ev, --stop or --candela"


@dataclass(frozen=True, slots=True)
class Taking:
    """How the camera takes a frame.

    index     : exposure index
    time_s    : exposure time
    constants : (low, high) constant of the meter that its stop is told by
    """

    index: float
    time_s: float
    frames_per_s: float
    constants: Range
    mains_hz: Mains | None

    def f_numbers(self, level: Level) -> Range:
        """The stop for a level; a stop that was read needs no constant."""
        low, high = self.constants
        return (
            f_number(level.metered(high).low, index=self.index, exposure_s=self.time_s),
            f_number(level.metered(low).high, index=self.index, exposure_s=self.time_s),
        )

    def stops_above(self, level: Level, other: Level) -> Range:
        """How much brighter a level is than another. [stop; negative is darker]

        Read in one unit they need no constant; else each of the constants is put on both.
        """
        pairs = [(level.metered(each), other.metered(each)) for each in self.constants]
        return (
            min(math.log2(this.low / that.high) for this, that in pairs),
            max(math.log2(this.high / that.low) for this, that in pairs),
        )


class TakingOptions(TypedDict):
    """What `taking` is given."""

    ei: float
    shutter: str
    fps: float | None
    mains: Mains | None
    constant: float | None


@dataclass(frozen=True, slots=True)
class Readings:
    """What the person knows of a light's level; at most one of them may be given."""

    lux: float | None = None
    fc: float | None = None
    ev: float | None = None
    stop: str | None = None
    candela: str | None = None

    def given(self) -> list[str]:
        """Names of those that were given."""
        names = ("lux", "fc", "ev", "stop", "candela")
        return [each for each in names if getattr(self, each) is not None]


def positive(value: float, *, where: str, example: str) -> float:
    """A number that must be above zero, and of a size that is met on a set.

    Raises  EvencastError for zero, less, what is no number, and what lies beyond
    """
    if not (math.isfinite(value) and value > 0):
        raise EvencastError(
            f"{value:g} is not above 0", where=where, remedy=f"Write a number such as {example}."
        )
    if not LEAST <= value <= MOST:
        raise EvencastError(
            f"{value:g} is beyond anything met on a set",
            where=where,
            remedy=f"Write a number such as {example}.",
        )
    return value


def taking(
    *, ei: float, shutter: str, fps: float | None, mains: Mains | None, constant: float | None
) -> Taking:
    """How the camera takes a frame.

    shutter  : an angle such as "180", or a time such as "1/50"
    fps      : frames per second; left out, what is usual on that mains, or 24
    constant : that of the person's own meter; left out, a disc's and a dome's are both used
    """
    usual = DEFAULT_FRAMES_PER_S if mains is None else FRAMES_PER_S[mains]
    frames = usual if fps is None else positive(fps, where="--fps", example="24")
    constants = (DISC_CONSTANT, DOME_CONSTANT)
    if constant is not None:
        own = positive(constant, where="--constant", example="250")
        if not DISC_CONSTANTS[0] <= own <= DOME_CONSTANTS[1]:
            raise EvencastError(
                f"no meter by ISO 2720 has a constant of {own:g}",
                where="--constant",
                remedy=f"A disc has {DISC_CONSTANTS[0]:g} to {DISC_CONSTANTS[1]:g}, a dome "
                f"{DOME_CONSTANTS[0]:g} to {DOME_CONSTANTS[1]:g}; leave it out to see both.",
            )
        constants = (own, own)
    return Taking(
        index=positive(ei, where="--ei", example="800"),
        time_s=shutter_s(shutter, frames_per_s=frames),
        frames_per_s=frames,
        constants=constants,
        mains_hz=mains,
    )


def shutter_s(text: str, *, frames_per_s: float) -> float:
    """The camera's exposure time: an angle in degrees, "1/50", or "0.02s". [s]

    Raises  EvencastError for what is no shutter, or is open longer than a frame
    """
    time_s = open_s(text, frames_per_s=frames_per_s, where="--shutter")
    return within_frame(time_s, said=text, frames_per_s=frames_per_s, where="--shutter")


def open_s(text: str, *, frames_per_s: float, where: str) -> float:
    """How long a shutter is open by an angle in degrees, by "1/50", or by "0.02s"; a meter may be
    set to more than a frame. [s]"""
    words = text.strip().casefold()
    part = re.fullmatch(r"1/(\d*\.?\d+)\s*s?", words)
    seconds = re.fullmatch(r"(\d*\.?\d+)\s*s", words)
    angle = re.fullmatch(r"(\d*\.?\d+)\s*(?:deg|degrees|°)?", words)
    if part:
        time_s = 1.0 / positive(float(part[1]), where=where, example="1/50")
    elif seconds:
        time_s = positive(float(seconds[1]), where=where, example="0.02s")
    elif angle:
        turned = positive(float(angle[1]), where=where, example="180")
        time_s = exposure_s(shutter_deg=turned, frames_per_s=frames_per_s)
    else:
        raise EvencastError(
            f'"{text}" is not a shutter', where=where, remedy="Write 180, 172.8, 1/50 or 0.02s."
        )
    return time_s


def within_frame(time_s: float, *, said: str, frames_per_s: float, where: str) -> float:
    """An exposure time that fits into a frame. [s]

    Raises  EvencastError for one that does not
    """
    if time_s * frames_per_s > 1.0 + 1e-9:
        raise EvencastError(
            f"the shutter {said} is longer than one frame at {frames_per_s:g} frames per second",
            where=where,
            remedy="Use at most 360 degrees, or fewer frames per second"
            + (" with --fps." if where.startswith("--") else "."),
        )
    return time_s


def stop_number(text: str, *, where: str) -> float:
    """The number of "f/4", "T2.8" or "4"."""
    match = re.fullmatch(r"(?:f\s*/?|t\s*/?)?\s*(\d*\.?\d+)", text.strip(), re.IGNORECASE)
    if match is None:
        raise EvencastError(
            f'"{text}" is not a stop', where=where, remedy="Write f/4, T2.8 or 5.6."
        )
    return positive(float(match[1]), where=where, example="f/4")


Known = tuple[Level, Range | None, str]
"""A level where it was read, the candelas of one such light if they are known, and by what."""


def level_of(
    readings: Readings, *, fixture: Fixture, light: Light, at_m: float | None, camera: Taking
) -> Known:
    """One light's level where it was read, its candelas if they are known, and by what.

    at_m : distance it was read at, or at which candelas shall be turned into lux
    Raises  EvencastError where nothing or two things are said, and without a distance
    """
    given = readings.given()
    if len(given) > 1:
        raise EvencastError(
            f"the level is given twice, by --{' and by --'.join(given)}",
            where=fixture.light,
            remedy="Keep the one that was read last.",
        )
    if given and readings.candela is None:
        return _as_read(readings, at_m=at_m, camera=camera)
    candela, known_by = _candela(readings, fixture, light)
    if at_m is None:
        raise EvencastError(
            "without a distance nobody can tell how much light arrives",
            where=fixture.light,
            remedy="Add the distance to the subject: --to 3m, or write it behind the light.",
        )
    return of_candela(*candela, distance_m=at_m), candela, known_by


def by_lux(value: float, *, at_m: float | None, where: str) -> Known:
    """A reading in lux."""
    value = positive(value, where=where, example="1000")
    return Level(value, value, "lux", at_m), None, f"{value:g} lx{_place(at_m)}"


def by_footcandles(value: float, *, at_m: float | None, where: str) -> Known:
    """A reading in foot-candles."""
    value = positive(value, where=where, example="100")
    return Level(lux(value), lux(value), "lux", at_m), None, f"{value:g} fc{_place(at_m)}"


def by_ev(ev: float, *, at_m: float | None, where: str) -> Known:
    """A reading as an exposure value for ISO 100."""
    if not LEAST_EV <= ev <= MOST_EV:
        raise EvencastError(
            f"EV {ev:g} is beyond any meter",
            where=where,
            remedy=f"Write the exposure value for ISO 100, {LEAST_EV} to {MOST_EV}.",
        )
    value = meter_level_of_ev(ev)
    return Level(value, value, "meter", at_m), None, f"EV {ev:g} for ISO 100{_place(at_m)}"


def by_stop(
    number: float, *, index: float, time_s: float, at_m: float | None, shutter: str = ""
) -> Known:
    """A stop as read on the person's own meter, set to that index and time.

    shutter : the time as written, where it is not the camera's
    """
    value = meter_level(number, index=index, exposure_s=time_s)
    return (
        Level(value, value, "meter", at_m),
        None,
        f"f/{number:g} read at {index:g}{shutter and f' and {shutter}'}{_place(at_m)}",
    )


def _place(at_m: float | None) -> str:
    return "" if at_m is None else f" at {at_m:.3g} m"


def _as_read(readings: Readings, *, at_m: float | None, camera: Taking) -> Known:
    if readings.lux is not None:
        return by_lux(readings.lux, at_m=at_m, where="--lux")
    if readings.fc is not None:
        return by_footcandles(readings.fc, at_m=at_m, where="--fc")
    if readings.ev is not None:
        return by_ev(readings.ev, at_m=at_m, where="--ev")
    return _by_stop_text(readings.stop or "", at_m, camera)


def _by_stop_text(text: str, at_m: float | None, camera: Taking) -> Known:
    """A stop as read, by "f/4", "f/4 at 400" or "f/4 at 400 1/50"."""
    stop, _, taken = text.partition(" at ")
    index_text, _, time_text = taken.strip().partition(" ")
    index, time_s = camera.index, camera.time_s
    if index_text:
        try:
            index = positive(float(index_text), where="--stop", example='"f/4 at 400"')
        except ValueError:
            raise EvencastError(
                f'"{index_text}" is not an exposure index',
                where="--stop",
                remedy='Write "f/4", "f/4 at 400" or "f/4 at 400 1/50".',
            ) from None
    if time_text:
        time_s = open_s(time_text, frames_per_s=camera.frames_per_s, where="--stop")
    number = stop_number(stop, where="--stop")
    return by_stop(number, index=index, time_s=time_s, at_m=at_m, shutter=time_text.strip())


def _candela(readings: Readings, fixture: Fixture, light: Light) -> tuple[Range, str]:
    if readings.candela is not None and is_photometric(readings.candela):
        found = candela_of_file(Path(readings.candela))
        for each in found.candela:
            positive(each, where=readings.candela, example="9000")
        return found.candela, ": ".join(filter(None, (found.known_by, found.assumed)))
    if readings.candela is not None:
        low, high = _candelas(readings.candela)
        told = f"{low:g} cd" if low == high else f"{low:g} to {high:g} cd"
        return (low, high), told
    if fixture.watts is None:
        raise EvencastError(
            "how bright it is is not said",
            where=fixture.light,
            remedy=f"Give one reading, {READINGS}; or for a tungsten Fresnel its watts, "
            'as in "650 tungsten 3m flood".',
        )
    return candela_of_watts(fixture, light)


def candela_of_watts(fixture: Fixture, light: Light) -> tuple[Range, str]:
    """The candelas that a tungsten Fresnel of those watts usually has, and by what.

    Raises  EvencastError for any other light
    """
    candela = typical_candela(fixture, light)
    low, high = candela_per_watt(fixture.focus)
    focus = f"in {fixture.focus}" if fixture.focus else "anywhere from flood to spot"
    return candela, (
        f"{fixture.watts:g} W {focus}, {low:g} to {high:g} cd per watt for a Fresnel: common "
        "practice, no source"
    )


def _candelas(text: str) -> Range:
    ends = re.fullmatch(r"(\d*\.?\d+)(?:\s*-\s*(\d*\.?\d+))?", text.strip())
    if ends is None:
        raise EvencastError(
            f'"{text}" is no number of candelas',
            where="--candela",
            remedy="Write 9000, from flood to spot 9000-60000, or a file ending in .ies, .ldt or "
            ".gdtf.",
        )
    low = positive(float(ends[1]), where="--candela", example="9000")
    high = low if ends[2] is None else positive(float(ends[2]), where="--candela", example="9000")
    if high < low:
        raise EvencastError(
            f"{low:g} to {high:g} candelas runs downwards",
            where="--candela",
            remedy=f"Write the lower end first: {high:g}-{low:g}.",
        )
    return low, high
