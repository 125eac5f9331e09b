"""What helps where a light gives too little, or too much, for the stop that is wanted."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evencast.actions.doubt import looks, middle
from evencast.actions.taking import Taking
from evencast.filters import Filter
from evencast.lights import Light
from evencast.lights.fixture import SPOT_GAIN_STOPS, Fixture
from evencast.quantities import say_stops
from evencast.results.expose import Cure, Range

MET_STOPS = 1 / 6
"""Half of the smallest step that an iris and a meter show: nearer is as wanted."""


def cures(
    gap: Range,
    *,
    distance_m: float | None,
    camera: Taking,
    light: Light,
    fixture: Fixture,
    filters: Sequence[Filter],
    scrim_stops: Range,
) -> list[Cure]:
    """Ways to the stop that is wanted, those that cost nothing in front of the lamp first.

    gap : stops missing at least and at most; + too little light
    """
    if gap[1] <= MET_STOPS:
        return _dimmer(gap, distance_m=distance_m, camera=camera) if gap[0] < -MET_STOPS else []
    short = (max(gap[0], 0.0), gap[1])
    return [
        *_closer(short, distance_m),
        *_spot(short, light, fixture),
        *_sheets(short, light, filters),
        *_scrims(short, scrim_stops),
        *_shutter(short, camera),
        Cure(f"Index {_index(camera, short)}: noisier by as many stops", short, True),
    ]


def _closer(short: Range, distance_m: float | None) -> list[Cure]:
    if distance_m is None:
        return []
    near, far = (distance_m * 2.0 ** (-stops / 2.0) for stops in (short[1], short[0]))
    return [Cure(f"Closer: {_between(near, far)} m from the subject", short, True)]


def _spot(short: Range, light: Light, fixture: Fixture) -> list[Cure]:
    if fixture.focus != "flood" or light.kind != "tungsten":
        return []
    low, high = SPOT_GAIN_STOPS
    return [
        Cure(
            f"Spot: {say_stops(low)} to {say_stops(high)} on a Fresnel (common practice, no "
            "source), and a narrower beam",
            SPOT_GAIN_STOPS,
            high >= short[0],
        )
    ]


def _sheets(short: Range, light: Light, filters: Sequence[Filter]) -> list[Cure]:
    """What each sheet gives back that is left out, with the colour it changes."""
    found: dict[str, Cure] = {}
    whole = middle(looks(light, filters).loss_stops)
    for place, each in enumerate(filters):
        rest = [*filters[:place], *filters[place + 1 :]]
        gain = whole - (middle(looks(light, rest).loss_stops) if rest else 0.0)
        found[each.name] = Cure(
            f"Without {each.name}: {say_stops(gain)}, and its colour is gone",
            (round(gain, 4), round(gain, 4)),
            gain >= short[0],
        )
    return list(found.values())


def _scrims(short: Range, scrim_stops: Range) -> list[Cure]:
    if scrim_stops[1] == 0:
        return []
    low, high = scrim_stops
    told = say_stops(high) if low == high else f"{say_stops(low)} to {say_stops(high)}"
    return [Cure(f"Scrims out: {told}", scrim_stops, high >= short[0])]


def _shutter(short: Range, camera: Taking) -> list[Cure]:
    gain = -math.log2(camera.time_s * camera.frames_per_s)
    if gain < MET_STOPS:
        return []
    return [
        Cure(
            f"Shutter: {say_stops(gain)} at most, fully open, and more motion blur",
            (0.0, round(gain, 4)),
            gain >= short[0],
        )
    ]


def _dimmer(gap: Range, *, distance_m: float | None, camera: Taking) -> list[Cure]:
    """Where there is more light than wanted."""
    over = (gap[0], min(gap[1], 0.0))
    least, most = (max(-gap[1], 0.0), -gap[0])
    told = f"{say_stops(least)} to {say_stops(most)}" if most - least > 0.05 else say_stops(most)
    found = [Cure(f"Scrim or ND: {told}, without a change of colour", over, True)]
    if distance_m is not None:
        near, far = (distance_m * 2.0 ** (stops / 2.0) for stops in (least, most))
        found.append(Cure(f"Further: {_between(near, far)} m from the subject", over, True))
    return [*found, Cure(f"Index {_index(camera, gap)}", over, True)]


def _index(camera: Taking, gap: Range) -> str:
    low, high = (_two_digits(camera.index * 2.0**stops) for stops in gap)
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _two_digits(value: float) -> float:
    return float(f"{value:.2g}")


def _between(low: float, high: float) -> str:
    first, last = (f"{each:.3g}" if each < 100 else f"{each:.0f}" for each in (low, high))
    return first if first == last else f"{first} to {last}"
