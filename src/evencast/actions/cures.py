"""What helps where a light gives too little, or too much, for what is wanted of it.

In the order of what they cost, common practice, no source: what only takes light comes out; the
light moves; its colour gives; the camera gives, for every light at once; another light gives; one
waits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from evencast.actions.doubt import looks, middle
from evencast.actions.sheet_cures import left_over, sheet_cures
from evencast.actions.standing import MET_STOPS, Around, OtherBalance, Stands, cure, stop_range
from evencast.actions.taking import Taking
from evencast.camera.exposure import marked_stop
from evencast.errors import EvencastError
from evencast.lights import dim_tungsten
from evencast.lights.dimming import MOST_STOPS
from evencast.lights.fixture import SPOT_GAIN_STOPS
from evencast.lights.level import SCRIM_STOPS, in_reach, is_near
from evencast.quantities import say_mired, say_stops, stops_of_density
from evencast.results.expose import Cure, Range

STAYS = ("window", "street")
"""Fittings of lights that nobody moves, swaps or puts a scrim into."""

ND_DENSITIES = (0.15, 0.3, 0.6, 0.9, 1.2)
"""ND as sold: common practice, no source."""


def cures(gap: Range, stands: Stands, *, camera: Taking) -> list[Cure]:
    """Ways to the stop that is wanted of one light alone, cheapest first.

    gap : stops missing at least and at most; + too little light
    """
    return plan_cures(gap, stands, Around(), camera=camera)


def plan_cures(
    gap: Range, stands: Stands, around: Around, *, camera: Taking, met_stops: float = MET_STOPS
) -> list[Cure]:
    """Ways to the level that is wanted of one light of a plan, cheapest first.

    gap       : stops missing at least and at most; + too little light
    met_stops : what counts as met
    Returns none where the gap is met at its worst
    """
    gap = (in_reach(gap[0]), in_reach(gap[1]))
    if gap[1] <= met_stops:
        return _too_much(gap, stands, around, camera) if gap[0] < -met_stops else []
    short = (max(gap[0], 0.0), gap[1])
    camera_gives = around.against is None
    return [
        *_scrims_out(short, stands),
        *_undimmed(short, stands),
        *_closer(short, stands),
        *_spot(short, stands),
        *sheet_cures(short, stands, around.at_hand),
        *_frost(short, stands),
        *_balances(short, stands, around.balances),
        *(_lens(short, around.shot_f_number) if camera_gives else []),
        *(_index(short, camera) if camera_gives else []),
        *_swaps(short, stands, around, camera),
        *_other_down(short, around),
        *_waiting(short, around),
        *(_shutter(short, camera) if camera_gives else []),
    ]


def _scrims_out(short: Range, stands: Stands) -> list[Cure]:
    if stands.scrim_stops[1] == 0:
        return []
    return [cure(f"Scrims out: {stop_range(stands.scrim_stops)}", stands.scrim_stops, short)]


def _undimmed(short: Range, stands: Stands) -> list[Cure]:
    if stands.dim_stops == 0:
        return []
    cooler = ", and cooler light" if stands.light.kind == "tungsten" else ""
    gain = (stands.dim_stops, stands.dim_stops)
    return [cure(f"Dimmer up: {stop_range(gain)}{cooler}", gain, short)]


def _closer(short: Range, stands: Stands) -> list[Cure]:
    if stands.distance_m is None or stands.light.fitting in STAYS:
        return []
    near, far = (stands.distance_m * 2.0 ** (-stops / 2.0) for stops in (short[1], short[0]))
    words = f"Closer: {_between(near, far)} m from the subject"
    if stands.light.is_hot:
        words += "; hot, so keep the clearance on its label"
    if stands.size_m is not None and is_near(near, size_m=stands.size_m):
        words += f"; near for its {stands.size_m:g} m, so it gains less than that: meter it"
    return [Cure(words, short, stands.size_m is None or far >= stands.size_m)]


def _spot(short: Range, stands: Stands) -> list[Cure]:
    if stands.focus != "flood" or stands.light.kind != "tungsten":
        return []
    words = f"Spot: {stop_range(SPOT_GAIN_STOPS)} on a Fresnel (common practice, no source), and a "
    return [cure(words + "narrower beam", SPOT_GAIN_STOPS, short)]


def _frost(short: Range, stands: Stands) -> list[Cure]:
    if not stands.frost:
        return []
    names = " and ".join(each.name for each in stands.frost)
    words = f"Without {names}: {stop_range(stands.frost_stops)}, and the light is harder"
    return [cure(words, stands.frost_stops, short)]


def _balances(short: Range, stands: Stands, balances: Sequence[OtherBalance]) -> list[Cure]:
    """The two that give most back."""
    now = middle(looks(stands.light, stands.filters).loss_stops) if stands.filters else 0.0
    gains = [(round(now - each.filter_stops, 4), each) for each in balances]
    best = sorted((each for each in gains if each[0] > MET_STOPS), key=lambda each: -each[0])[:2]
    return [
        cure(
            f"Balance {other.label}: {say_stops(gain)}, its sheets take "
            f"{say_stops(other.filter_stops)} there; every other light's sheets change too",
            (gain, gain),
            short,
        )
        for gain, other in best
    ]


def _lens(gap: Range, shot_f_number: float | None) -> list[Cure]:
    if shot_f_number is None:
        return []
    ends = [marked_stop(shot_f_number * 2.0 ** (-stops / 2.0)) for stops in reversed(gap)]
    words = ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
    how = "less in focus, and all else brighter" if gap[1] > 0 else "all else darker"
    return [Cure(f"Lens at {words}: {how} by as much", gap, True)]


def _index(gap: Range, camera: Taking) -> list[Cure]:
    low, high = (_two_digits(camera.index * 2.0**stops) for stops in gap)
    words = f"Index {low:g}" if low == high else f"Index {low:g} to {high:g}"
    noisier = ": noisier by as many stops" if gap[1] > 0 else ""
    return [Cure(words + noisier, gap, True)]


def _swaps(short: Range, stands: Stands, around: Around, camera: Taking) -> list[Cure]:
    """The two brightest that may stand here and can spare what they lose by it."""
    here = around.level
    if here is None or here.distance_m is None or stands.light.fitting in STAYS:
        return []
    found = []
    for other in around.others:
        if other.level.distance_m is None or other.light.fitting in STAYS:
            continue
        low, high = camera.stops_above(other.level.moved(here.distance_m), here)
        gain = (low + high) / 2.0
        spared = other.gap_stops is None or other.gap_stops + gain <= MET_STOPS
        if gain > MET_STOPS and spared:
            found.append((gain, (round(max(low, 0.0), 4), round(high, 4)), other.name))
    return [
        cure(
            f'Swap places with "{name}": {stop_range(ends)} before sheets, and as much less where '
            "that one stands",
            ends,
            short,
        )
        for _, ends, name in sorted(found, key=lambda each: -each[0])[:2]
    ]


def _other_down(short: Range, around: Around) -> list[Cure]:
    """What it is judged against, darker instead."""
    if around.against is None or around.falls or around.level is None:
        return []
    words = f'"{around.against}" down by {stop_range(short)} instead, and the lens open by as much'
    return [Cure(words, short, True)]


def _waiting(short: Range, around: Around) -> list[Cure]:
    if around.against is None or not around.falls:
        return []
    words = f'Wait until "{around.against}" has fallen by {stop_range(short)}: dusk, cloud or shade'
    return [Cure(f"{words}; then read its colour again", short, True)]


def _shutter(short: Range, camera: Taking) -> list[Cure]:
    gain = -math.log2(camera.time_s * camera.frames_per_s)
    if gain < MET_STOPS:
        return []
    words = f"Shutter: {say_stops(gain)} at most, fully open, and more motion blur"
    return [cure(words, (0.0, round(gain, 4)), short)]


def _too_much(gap: Range, stands: Stands, around: Around, camera: Taking) -> list[Cure]:
    """Where there is more light than wanted."""
    over = (gap[0], min(gap[1], 0.0))
    take = (-over[1], -over[0])
    found = [*_taken_out(over, take, stands), *_dimmed(over, take, stands)]
    if stands.distance_m is not None and stands.light.fitting not in STAYS:
        near, far = (stands.distance_m * 2.0 ** (stops / 2.0) for stops in take)
        found.append(Cure(f"Further: {_between(near, far)} m from the subject", over, True))
    if around.against is None:
        found += [*_lens(over, around.shot_f_number), *_index(over, camera)]
    return found


def _taken_out(over: Range, take: Range, stands: Stands) -> list[Cure]:
    """Scrims and ND, and which of them."""
    by_nd = say_nd(sum(take) / 2.0)
    by_scrims = _scrims(sum(take) / 2.0) if stands.light.fitting in ("fixture", "") else ""
    what = "Scrim or ND" if by_scrims else "ND"
    which = ", or ".join(each for each in (by_scrims, by_nd) if each)
    words = f"{what}: {stop_range(take)}, without a change of colour"
    return [Cure(f"{words} ({which})" if which else words, over, True)]


def _scrims(stops: float) -> str:
    """The scrims that take about so much; none for less than half of a single, or too many."""
    doubles, singles = divmod(round(stops / SCRIM_STOPS["single"][0]), 2)
    names = ["double"] * doubles + ["single"] * singles
    return " + ".join(names) if 0 < len(names) <= 2 else ""


def say_nd(stops: float) -> str:
    """The ND sheet, or the two, that take nearest to so many stops: "ND 0.6 + ND 0.3".

    Nothing for less than half of the weakest.
    """
    singles = [(each,) for each in ND_DENSITIES]
    pairs = [(one, two) for one in ND_DENSITIES for two in ND_DENSITIES if one >= two]
    best = min(
        [(), *singles, *pairs],
        key=lambda sheets: (round(abs(stops_of_density(sum(sheets)) - stops), 2), len(sheets)),
    )
    return " + ".join(f"ND {each:g}" for each in best)


def _dimmed(over: Range, take: Range, stands: Stands) -> list[Cure]:
    """A dimmer, for the lights that may hang on one: filaments, and panels at their own."""
    light, most = stands.light, take[1]
    if light.fitting == "panel":
        words = f"Dimmer of its own: {stop_range(take)}; read its colour again"
        return [Cure(words, over, True)]
    if light.kind != "tungsten" or light.fitting in STAYS or most > MOST_STOPS:
        return []
    try:
        darker = looks(dim_tungsten(light, most), stands.filters).filtered
    except EvencastError:  # it would glow below the warmest white
        return []
    if stands.aim is not None:
        colour = f"it is {left_over(darker.mired, darker.duv, stands.aim)}"
    else:
        with np.errstate(invalid="ignore"):
            shifts = np.asarray(darker.mired - looks(light, stands.filters).filtered.mired)
        shift = middle(shifts)
        colour = f"up to {say_mired(shift)}er" if abs(shift) >= 0.5 else "a warmer lamp"
    return [Cure(f"Dimmer: {stop_range(take)}, and {colour}", over, True)]


def _two_digits(value: float) -> float:
    return float(f"{value:.2g}")


def _between(low: float, high: float) -> str:
    first, last = (f"{each:.3g}" if each < 100 else f"{each:.0f}" for each in (low, high))
    return first if first == last else f"{first} to {last}"
