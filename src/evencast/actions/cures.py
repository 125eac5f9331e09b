"""What helps where a light gives too little, or too much, for what is wanted of it.

In the order of what they cost, common practice, no source: what only takes light comes out; the
light moves; its colour gives; the camera gives, for every light at once; another light gives; one
waits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from evencast.actions.doubt import looks, middle
from evencast.actions.taking import Taking
from evencast.camera.exposure import marked_stop
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.lights import Light, dim_tungsten
from evencast.lights.dimming import MOST_STOPS
from evencast.lights.fixture import SPOT_GAIN_STOPS, Focus
from evencast.lights.level import SCRIM_STOPS, Level, in_reach, is_near
from evencast.quantities import Floats, say_left, say_mired, say_stops, stops_of_density
from evencast.results.expose import Cure, Range

if TYPE_CHECKING:
    from evencast.solver.aim import Aim

MET_STOPS = 1 / 6
"""Half of the smallest step that an iris and a meter show: nearer is as wanted."""

STAYS = ("window", "street")
"""Fittings of lights that nobody moves, swaps or puts a scrim into."""

ND_DENSITIES = (0.15, 0.3, 0.6, 0.9, 1.2)
"""ND as sold: common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Stands:
    """A light as it stands, and what hangs in front of it.

    distance_m  : to the subject
    size_m      : greatest width of what shines
    frost       : what hangs in any case; its loss is told by `frost_stops`
    aim         : the colour it shall have; None where none is known
    """

    light: Light
    distance_m: float | None = None
    size_m: float | None = None
    focus: Focus | None = None
    filters: Sequence[Filter] = ()
    scrim_stops: Range = (0.0, 0.0)
    dim_stops: float = 0.0
    frost: Sequence[Filter] = ()
    frost_stops: Range = (0.0, 0.0)
    aim: Aim | None = None


@dataclass(frozen=True, slots=True)
class OtherBalance:
    """A balance of the camera at which this light's sheets would take so much. [stop]"""

    label: str
    filter_stops: float


@dataclass(frozen=True, slots=True, eq=False)
class OtherLight:
    """Another light of the plan, as it may stand in this one's place.

    level     : bare, where it stands now; its distance is that of the level
    gap_stops : what it misses there, + too little light; None where its level is not judged
    """

    name: str
    light: Light
    level: Level
    gap_stops: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """What else of a plan may help a light.

    against  : the light that its level is judged against; None for the camera's own stop
    falls    : whether that light is daylight, which falls by itself
    shot_f_number : what the lens is set to
    at_hand  : filters of the kit
    balances : other balances and what this light's sheets would take there
    level    : bare level of this light where it stands
    others   : the plan's other lights whose level is known
    """

    against: str | None = None
    falls: bool = False
    shot_f_number: float | None = None
    at_hand: Sequence[Filter] = ()
    balances: Sequence[OtherBalance] = ()
    level: Level | None = None
    others: Sequence[OtherLight] = ()


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
        *_sheets(short, stands, around.at_hand),
        *_frost(short, stands),
        *_balances(short, stands, around.balances),
        *(_lens(short, around.shot_f_number) if camera_gives else []),
        *(_index(short, camera) if camera_gives else []),
        *_swaps(short, stands, around, camera),
        *_waiting(short, around),
        *(_shutter(short, camera) if camera_gives else []),
    ]


def _scrims_out(short: Range, stands: Stands) -> list[Cure]:
    if stands.scrim_stops[1] == 0:
        return []
    return [_cure(f"Scrims out: {_stops(stands.scrim_stops)}", stands.scrim_stops, short)]


def _undimmed(short: Range, stands: Stands) -> list[Cure]:
    if stands.dim_stops == 0:
        return []
    cooler = ", and cooler light" if stands.light.kind == "tungsten" else ""
    gain = (stands.dim_stops, stands.dim_stops)
    return [_cure(f"Dimmer up: {_stops(gain)}{cooler}", gain, short)]


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
    words = f"Spot: {_stops(SPOT_GAIN_STOPS)} on a Fresnel (common practice, no source), and a "
    return [_cure(words + "narrower beam", SPOT_GAIN_STOPS, short)]


def _sheets(short: Range, stands: Stands, at_hand: Sequence[Filter]) -> list[Cure]:
    """What each sheet gives back that is left out or made weaker, with the colour it changes."""
    found: list[Cure] = []
    seen = set[str]()
    for place, each in enumerate(stands.filters):
        if each.name in seen:
            continue
        seen.add(each.name)
        before, after = stands.filters[:place], stands.filters[place + 1 :]
        weaker = [
            _without(f"{other.name} for {each.name}", [*before, other, *after], stands, short)
            for other in at_hand
            if other.series == each.series != "" and other.name != each.name
        ]
        gaining = sorted(
            (cure for cure in weaker if cure and cure.gain_stops[0] >= MET_STOPS),
            key=lambda cure: cure.gain_stops[0],
        )
        enough = next((cure for cure in gaining if cure.enough), None)
        found += dict.fromkeys(cure for cure in (*gaining[:1], enough) if cure)
        bare = _without(f"Without {each.name}", [*before, *after], stands, short)
        found += [bare] if bare else []
    return found


def _without(words: str, filters: Sequence[Filter], stands: Stands, short: Range) -> Cure | None:
    """What other sheets in place of those that hang give back; None where nothing is known."""
    whole = middle(looks(stands.light, stands.filters).loss_stops)
    through = looks(stands.light, filters)
    gain = round(whole - middle(through.loss_stops), 4)
    if not math.isfinite(gain):
        return None
    colour = "its colour is gone" if not filters else "its colour is another"
    if stands.aim is not None:
        colour = f"it is {_left(through.filtered.mired, through.filtered.duv, stands.aim)}"
    return _cure(f"{words}: {say_stops(gain)}, and {colour}", (gain, gain), short)


def _left(mired: Floats, duv: Floats, aim: Aim) -> str:
    """A colour beside its aim, in words."""
    with np.errstate(invalid="ignore"):
        said = say_left(middle(np.asarray(mired - aim.mired)), middle(np.asarray(duv - aim.duv)))
    return "still as wanted" if said == "0 mired" else said


def _frost(short: Range, stands: Stands) -> list[Cure]:
    if not stands.frost:
        return []
    names = " and ".join(each.name for each in stands.frost)
    words = f"Without {names}: {_stops(stands.frost_stops)}, and the light is harder"
    return [_cure(words, stands.frost_stops, short)]


def _balances(short: Range, stands: Stands, balances: Sequence[OtherBalance]) -> list[Cure]:
    """The two that give most back."""
    now = middle(looks(stands.light, stands.filters).loss_stops) if stands.filters else 0.0
    gains = [(round(now - each.filter_stops, 4), each) for each in balances]
    best = sorted((each for each in gains if each[0] > MET_STOPS), key=lambda each: -each[0])[:2]
    return [
        _cure(
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
        _cure(
            f'Swap places with "{name}": {_stops(ends)} before sheets, and as much less where '
            "that one stands",
            ends,
            short,
        )
        for _, ends, name in sorted(found, key=lambda each: -each[0])[:2]
    ]


def _waiting(short: Range, around: Around) -> list[Cure]:
    if around.against is None or not around.falls:
        return []
    words = f'Wait until "{around.against}" has fallen by {_stops(short)}: dusk, cloud or shade'
    return [Cure(f"{words}; then read its colour again", short, True)]


def _shutter(short: Range, camera: Taking) -> list[Cure]:
    gain = -math.log2(camera.time_s * camera.frames_per_s)
    if gain < MET_STOPS:
        return []
    words = f"Shutter: {say_stops(gain)} at most, fully open, and more motion blur"
    return [_cure(words, (0.0, round(gain, 4)), short)]


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
    words = f"{what}: {_stops(take)}, without a change of colour"
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
        words = f"Dimmer of its own: {_stops(take)}; read its colour again"
        return [Cure(words, over, True)]
    if light.kind != "tungsten" or light.fitting in STAYS or most > MOST_STOPS:
        return []
    try:
        darker = looks(dim_tungsten(light, most), stands.filters).filtered
    except EvencastError:  # it would glow below the warmest white
        return []
    if stands.aim is not None:
        colour = f"it is {_left(darker.mired, darker.duv, stands.aim)}"
    else:
        with np.errstate(invalid="ignore"):
            shifts = np.asarray(darker.mired - looks(light, stands.filters).filtered.mired)
        shift = middle(shifts)
        colour = f"up to {say_mired(shift)}er" if abs(shift) >= 0.5 else "a warmer lamp"
    return [Cure(f"Dimmer: {_stops(take)}, and {colour}", over, True)]


def _cure(words: str, gain: Range, short: Range) -> Cure:
    """A cure that gives so much, and whether its most reaches the least that is missing."""
    return Cure(words, gain, gain[1] >= short[0])


def _stops(ends: Range) -> str:
    low, high = (say_stops(each) for each in ends)
    return low if low == high else f"{low} to {high}"


def _two_digits(value: float) -> float:
    return float(f"{value:.2g}")


def _between(low: float, high: float) -> str:
    first, last = (f"{each:.3g}" if each < 100 else f"{each:.0f}" for each in (low, high))
    return first if first == last else f"{first} to {last}"
