"""Where lights lie in the CIE 1976 u', v' diagram, about the loci of Planck and of daylight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from evencast.colour import cie_1931_2deg, uv_of_mired_duv, uv_of_xyz, white_uv
from evencast.colour.difference import upvp_of_uv
from evencast.handouts.charts.frame import (
    MARGIN,
    Entry,
    Panel,
    Sample,
    checked_width,
    clipped,
    footed,
    grid,
    heading,
    key,
    paragraph,
    room_beside,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.labels import Field, Named, labelled
from evencast.handouts.charts.letters import isolated, width_of
from evencast.handouts.charts.marks import (
    ARROW_PX,
    RING_PX,
    bare_sample,
    cross,
    cross_sample,
    hung_sample,
    light_mark,
    stroke_sample,
)
from evencast.handouts.charts.placing import Box, Segment
from evencast.handouts.charts.scale import Scale, round_step
from evencast.handouts.charts.svg import (
    Point,
    line,
    path,
    picture,
    titled,
    words,
)
from evencast.handouts.charts.values import Table, Tolerance
from evencast.quantities import Floats, listed

ROUND_K = (1500, 2000, 2500, 3000, 3500, 4000, 5000, 6000, 7000, 8000, 10000, 15000, 25000)
TICK_DUV = 0.006
LEAST_SPAN = 0.03
_TICK_SIZE = 11.0
_DAYLIGHT_K = (4000.0, 25000.0)
_HEIGHT_OF_WIDTH = 0.62

Pair = tuple[float, float]
"""CIE 1976 u', v'."""


@dataclass(frozen=True, slots=True)
class PlacedLight:
    """One light.

    number : of its row
    bare, hung : u', v' as the lamp is and as it hangs; None where there is nothing to show
    bare_fill, fill : how they look at the balance, "#rrggbb"
    told   : its colour in words, as it hangs or else bare
    """

    number: int
    name: str
    bare: Pair | None
    hung: Pair | None
    bare_fill: str
    fill: str
    told: str


@dataclass(frozen=True, slots=True)
class ColoursChart:
    """Lights in u', v'.

    balance   : u', v' of the camera's balance; None without one
    tolerance : about an aim of that mired and Duv, drawn as an outline; none for no aim
    window    : least and greatest u', least and greatest v'; None to choose it from the lights
    """

    title: str
    lights: tuple[PlacedLight, ...]
    balance: Pair | None
    balance_told: str
    tolerances: tuple[tuple[float, float, Tolerance], ...]
    window: tuple[Pair, Pair] | None = None


def rows(chart: ColoursChart) -> Table:
    """The chart as a table; what hangs has a column where anything does."""
    hung = any(each.hung is not None for each in chart.lights)
    columns = ["", "Light", "Bare u', v'", *(["As it hangs u', v'"] if hung else []), "Colour"]
    return Table(
        headers=tuple(columns),
        rows=tuple(
            (
                str(each.number),
                isolated(each.name),
                _pair(each.bare),
                *([_pair(each.hung)] if hung else []),
                each.told,
            )
            for each in chart.lights
        ),
    )


def svg(chart: ColoursChart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """The chart as a picture."""
    greys, width = GREYS[ground], checked_width(width)
    head = heading(isolated(chart.title), width, greys)
    marks = key(_key(chart, greys), width, head.bottom, greys)
    top, left = marks.bottom + 12.0, room_beside(["0.000"])

    def panel_of(height: float) -> Panel:
        return _panel(chart, Box(left, top, width - MARGIN, top + height))

    drawn = labelled(
        panel_of,
        lambda panel: Field(_points(chart, panel), _taken(chart, panel), _lines(chart, panel)),
        height=width * _HEIGHT_OF_WIDTH,
        greys=greys,
    )
    panel = drawn.panel
    ticks = _ticks(chart, panel)
    body = [*head.elements, *marks.elements, *_axes(panel, greys), *_loci(panel, ticks, greys)]
    body += _outlines(chart, panel, greys)
    for each in chart.lights:
        body += _light(each, panel, greys)
    body += [*_kelvins(ticks, panel, greys), *_balance(chart, panel, greys), *drawn.elements]
    foot = paragraph(
        "CIE 1976 u' across, v' up: equal steps look about equal. Up and left is greener, right "
        "is warmer. An arrow at the edge: outside the picture.",
        width,
        panel.box.bottom + 24.0,
        greys,
    )
    foot = footed(foot, width, greys, texts=_left_out(chart))
    entries = [Entry(each.number, isolated(each.name)) for each in chart.lights]
    foot = footed(foot, width, greys, entries=entries if drawn.listed else [])
    return picture(
        width,
        foot.bottom + MARGIN,
        [*body, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


def _left_out(chart: ColoursChart) -> list[str]:
    if not chart.lights:
        return ["There is no light to show."]
    nowhere = [f"{each.number} {isolated(each.name)}" for each in chart.lights if not _shown(each)]
    return [f"Not in the chart: {listed(nowhere)}."] if nowhere else []


def _pair(place: Pair | None) -> str:
    return "-" if place is None else f"{place[0]:.4f}, {place[1]:.4f}"


def described(chart: ColoursChart) -> str:
    """The chart in sentences."""
    told = [f"{each.number} {isolated(each.name)}: {each.told}" for each in chart.lights]
    balance = f"The balance: {chart.balance_told}. " if chart.balance else ""
    return f"{balance}{'; '.join(told) or 'No lights'}."


def _shown(each: PlacedLight) -> list[tuple[Pair, str, bool]]:
    """Places of a light with their colour, and whether bare."""
    places = [(each.bare, each.bare_fill, True), (each.hung, each.fill, False)]
    return [(place, fill, bare) for place, fill, bare in places if place is not None]


def _panel(chart: ColoursChart, box: Box) -> Panel:
    """The field: what is to be seen, widened until both axes have one scale."""
    if chart.window is not None:
        (u_low, u_high), (v_low, v_high) = chart.window
    else:
        places = [place for each in chart.lights for place, _, _ in _shown(each)]
        places += [chart.balance] if chart.balance else []
        at = np.array(places or [(0.21, 0.48)])
        (u_low, v_low), (u_high, v_high) = at.min(axis=0), at.max(axis=0)
    u, v = (u_low + u_high) / 2, (v_low + v_high) / 2
    wide, tall = box.right - box.left, box.bottom - box.top
    room = 1.0 if chart.window is not None else 1.25
    per_px = max(
        max(float(u_high - u_low) * room, LEAST_SPAN) / wide,
        max(float(v_high - v_low) * room, LEAST_SPAN * tall / wide) / tall,
    )
    half_u, half_v = per_px * wide / 2, per_px * tall / 2
    return Panel(
        box,
        Scale(float(u - half_u), float(u + half_u), box.left, box.right),
        Scale(float(v - half_v), float(v + half_v), box.bottom, box.top),
    )


def _axes(panel: Panel, greys: Greys) -> list[str]:
    step = round_step(panel.x.high - panel.x.low, 8)
    digits = 3 if step < 0.01 else 2
    across = [(each, f"{each:.{digits}f}") for each in panel.x.marks(step)]
    up = [(each, f"{each:.{digits}f}") for each in panel.y.marks(step)]
    return grid(panel, greys, across=across, up=up)


@cache
def _planckian() -> tuple[Pair, ...]:
    mired = np.arange(10.0, 1000.0 + 2.0, 2.0)
    return _pairs(upvp_of_uv(uv_of_mired_duv(mired, np.zeros_like(mired))))


@cache
def _daylight() -> tuple[Pair, ...]:
    mired = np.arange(1e6 / _DAYLIGHT_K[1], 1e6 / _DAYLIGHT_K[0] + 0.1, 5.0)
    places = [white_uv(float(each), locus="daylight") for each in 1e6 / mired]
    return _pairs(upvp_of_uv(np.array(places)))


@cache
def _spectrum() -> tuple[Pair, ...]:
    """The locus of the spectrum and the purple line. CIE 1931 observer."""
    cmf = cie_1931_2deg().cmf
    places = uv_of_xyz(cmf[cmf.sum(axis=1) > 1e-3])
    return _pairs(upvp_of_uv(np.vstack([places, places[:1]])))


def _pairs(places: Floats) -> tuple[Pair, ...]:
    return tuple((float(u), float(v)) for u, v in places)


def _curve(places: Sequence[Pair], panel: Panel) -> list[list[Point]]:
    """The pieces of a curve inside the field."""
    return clipped([(panel.x.at(u), panel.y.at(v)) for u, v in places], panel.box)


def _loci(panel: Panel, ticks: Sequence[_Tick], greys: Greys) -> list[str]:
    parts = [path(each, stroke=greys.line, width=1.5) for each in _curve(_spectrum(), panel)]
    parts += [
        path(each, stroke=greys.soft, width=1.3, dash="7 4") for each in _curve(_daylight(), panel)
    ]
    parts += [path(each, stroke=greys.soft, width=1.6) for each in _curve(_planckian(), panel)]
    return parts + [line(*tick, greys.soft) for tick, _, _ in ticks]


_Tick = tuple[Segment, str, Box]
"""A tick, its Kelvin, and the place where these are written."""


def _ticks(chart: ColoursChart, panel: Panel) -> list[_Tick]:
    """Ticks across the Planckian locus that lie in the field: their Kelvin at the lower end or the
    upper one, none over another or a mark."""
    marks = _every_mark(chart, panel)
    found: list[_Tick] = []
    for cct_k in ROUND_K:
        green, magenta = _tick(cct_k)
        if not all(panel.x.holds(u) and panel.y.holds(v) for u, v in (green, magenta)):
            continue
        top, foot = panel.at(*green), panel.at(*magenta)
        label = f"{cct_k} K"
        half = width_of(label, _TICK_SIZE) / 2 + 2.0
        for x, y in ((foot[0], foot[1] + 2.0), (top[0], top[1] - 16.0)):
            box = Box(x - half, y, x + half, y + 14.0)
            taken = [*marks, *(other for _, _, other in found)]
            if panel.box.holds(box) and not any(box.overlaps(other) for other in taken):
                found.append(((top, foot), label, box))
                break
    return found


def _kelvins(ticks: Sequence[_Tick], panel: Panel, greys: Greys) -> list[str]:
    parts = []
    for _, label, box in ticks:
        at = ((box.left + box.right) / 2, box.bottom - 4.0)
        parts += words([label], at, greys.soft, size=_TICK_SIZE, anchor="middle", halo=greys.panel)
    return parts


@cache
def _tick(cct_k: float) -> tuple[Pair, Pair]:
    """Across the Planckian locus, from the green to the magenta side."""
    mired = np.full(2, 1e6 / cct_k)
    ends = _pairs(upvp_of_uv(uv_of_mired_duv(mired, np.array([TICK_DUV, -TICK_DUV]))))
    return ends[0], ends[1]


def _outlines(chart: ColoursChart, panel: Panel, greys: Greys) -> list[str]:
    """Each tolerance about its aim, as it lies in u', v'."""
    parts = []
    for mired, duv, allowed in dict.fromkeys(chart.tolerances):
        low, high = mired + allowed.mired_low, mired + allowed.mired_high
        across = np.linspace(max(low, 5.0), min(high, 1200.0), 12)
        round_ = np.concatenate([across, across[::-1], across[:1]])
        up = np.concatenate([np.full(12, allowed.duv), np.full(12, -allowed.duv), [allowed.duv]])
        places = _pairs(upvp_of_uv(uv_of_mired_duv(round_, duv + up)))
        parts += [path(each, stroke=greys.soft, dash="3 3") for each in _curve(places, panel)]
    return parts


def _points(chart: ColoursChart, panel: Panel) -> list[Named]:
    points = []
    for each in chart.lights:
        shown = _shown(each)
        for place, _, bare in shown:
            last = place is shown[-1][0]
            outside = panel.beyond(*place) is not None
            if last or outside:
                x, y = panel.at(*place)
                told = ("bare" if bare else "as it hangs", _pair(place)) if outside else ()
                radius = ARROW_PX if outside else RING_PX + 1.0
                points.append(Named(x, y, radius, each.number, each.name if last else "", told))
    return points


def _taken(chart: ColoursChart, panel: Panel) -> list[Box]:
    """Marks without a label of their own, and the Kelvins of ticks."""
    places = [place for each in chart.lights for place, _, _ in _shown(each)[:-1]]
    places += [chart.balance] if chart.balance else []
    kelvins = [box for _, _, box in _ticks(chart, panel)]
    return _boxes(places, panel) + kelvins


def _every_mark(chart: ColoursChart, panel: Panel) -> list[Box]:
    places = [place for each in chart.lights for place, _, _ in _shown(each)]
    return _boxes([*places, *([chart.balance] if chart.balance else [])], panel)


def _boxes(places: Sequence[Pair], panel: Panel) -> list[Box]:
    at = [panel.at(*place) for place in places]
    return [Box(x - RING_PX, y - RING_PX, x + RING_PX, y + RING_PX) for x, y in at]


def _lines(chart: ColoursChart, panel: Panel) -> list[Segment]:
    lines = []
    for each in chart.lights:
        at = [panel.at(*place) for place, _, _ in _shown(each)]
        lines += [(at[0], at[1])] if len(at) == 2 else []
    curve = [each for piece in _curve(_planckian(), panel) for each in piece[::4]]
    return lines + list(pairwise(curve))


def _light(each: PlacedLight, panel: Panel, greys: Greys) -> list[str]:
    shown = _shown(each)
    at = [panel.at(*place) for place, _, _ in shown]
    parts = [line(at[0], at[1], greys.line, width=1.2)] if len(at) == 2 else []
    for (place, colour, bare), point in zip(shown, at, strict=True):
        away = panel.beyond(*place)
        parts.append(light_mark(point, colour, greys, bare=bare, away=away))
    return [titled(parts, f"{each.number} {isolated(each.name)}: {each.told}")] if parts else []


def _balance(chart: ColoursChart, panel: Panel, greys: Greys) -> list[str]:
    if chart.balance is None or panel.beyond(*chart.balance) is not None:
        return []
    parts = cross(panel.at(*chart.balance), greys.ink, width=1.6, half=9.0)
    return [titled(parts, f"the balance: {chart.balance_told}")]


def _key(chart: ColoursChart, greys: Greys) -> list[tuple[Sample, str]]:
    entries: list[tuple[Sample, str]] = []
    if any(each.bare for each in chart.lights):
        entries.append((bare_sample(greys), "bare"))
    if any(each.hung for each in chart.lights):
        entries.append((hung_sample(greys), "as it hangs"))
    if chart.balance is not None:
        entries.append((cross_sample(greys.ink, width=1.6), f"the balance, {chart.balance_told}"))
    if chart.tolerances:
        entries.append((stroke_sample(greys.soft, "3 3"), "tolerance"))
    entries.append((stroke_sample(greys.soft), "Planck's locus, ticks ±0.006 Duv"))
    entries.append((stroke_sample(greys.soft, "7 4"), "CIE daylight"))
    return entries
