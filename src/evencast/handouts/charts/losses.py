"""What every sheet of a kit costs against what it does: loss in stops up, shift across."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import (
    MARGIN,
    Entry,
    Panel,
    Part,
    Sample,
    checked_width,
    footed,
    grid,
    heading,
    key,
    paragraph,
    room_beside,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.labels import Field, Labelled, Named, labelled
from evencast.handouts.charts.letters import isolated
from evencast.handouts.charts.marks import ARROW_PX, SHAPES, cross_sample, shape, shape_sample
from evencast.handouts.charts.placing import Box, Segment
from evencast.handouts.charts.scale import Scale, window
from evencast.handouts.charts.svg import Point, arrow, data_fill, line, picture, titled
from evencast.handouts.charts.values import Ends, Table, finite, say_ends, signed_duv
from evencast.quantities import listed, say_duv, say_loss, say_mired, say_stops, say_turn

MOST_MIRED, MOST_STOPS = 300.0, 6.0
TICK_DUV, TICK_PX = 0.01, 26.0
"""An arrow of this length stands for this much Duv."""
LEAST_DUV = 0.0005
_HEIGHT_OF_WIDTH, _POINT = 0.58, 4.5


@dataclass(frozen=True, slots=True)
class SheetPoint:
    """One filter in front of one light.

    number      : of its row
    role        : correction, green, diffusion, ND, effect
    shift_mired : filtered minus bare, + warmer; None where either has no colour temperature
    shift_duv   : filtered minus bare, + greener
    loss_stops  : light lost; None where nothing passes
    band_mired, band_stops : of shift and loss; None where the sheet is measured
    fill        : how the light looks through it at the balance, "#rrggbb"
    """

    number: int
    name: str
    role: str
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float | None
    band_mired: Ends | None
    band_stops: Ends | None
    fill: str


@dataclass(frozen=True, slots=True)
class LossesChart:
    """Every filter of a kit.

    on : the light they are in front of, in words, a sentence
    """

    title: str
    on: str
    sheets: tuple[SheetPoint, ...]


def rows(chart: LossesChart) -> Table:
    """The chart as a table."""
    return Table(
        headers=("", "Filter", "Role", "Shift", "Duv", "Loss"),
        rows=tuple(
            (
                str(each.number),
                isolated(each.name),
                each.role,
                _with_band(_told_shift(each), each.band_mired, say_mired),
                "none" if each.shift_duv is None else signed_duv(each.shift_duv),
                _with_band(_told_loss(each.loss_stops), each.band_stops, "{:.2f}".format),
            )
            for each in chart.sheets
        ),
    )


def svg(chart: LossesChart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """The chart as a picture."""
    greys, width = GREYS[ground], checked_width(width)
    head = heading(isolated(chart.title), width, greys, under=chart.on)
    marks = key(_key(chart, greys), width, head.bottom, greys)
    top, left = marks.bottom + 12.0, room_beside(["1 1/3 stop"])

    def panel_of(height: float) -> Panel:
        return _panel(chart, Box(left, top, width - MARGIN, top + height))

    drawn = labelled(
        panel_of,
        lambda panel: Field(_points(chart, panel), (), _lines(chart, panel)),
        height=width * _HEIGHT_OF_WIDTH,
        greys=greys,
    )
    panel = drawn.panel
    body = [*head.elements, *marks.elements, *_axes(panel, greys)]
    for each in chart.sheets:
        body += _sheet(each, panel, greys)
    body += drawn.elements
    foot = _foot(chart, drawn, width, greys)
    return picture(
        width,
        foot.bottom + MARGIN,
        [*body, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


def _told_shift(each: SheetPoint) -> str:
    if each.shift_mired is None:
        return "no colour temperature"
    return say_turn(each.shift_mired)


def _told_loss(stops: float | None) -> str:
    return "nothing passes" if stops is None else say_loss(stops)


def _with_band(told: str, band: Ends | None, say: Callable[[float], str]) -> str:
    """A value and what it may be: "1/3 stop (0.26), 0.14 to 0.38"."""
    return told if band is None else f"{told}, {say_ends(band, say)}"


def described(chart: LossesChart) -> str:
    """The chart in sentences."""
    told = [
        f"{each.number} {isolated(each.name)}: {_told_shift(each)}, {_told_loss(each.loss_stops)}"
        for each in chart.sheets
    ]
    return f"{chart.on} {'; '.join(told) or 'No filters'}."


def _place(each: SheetPoint) -> Point | None:
    """Shift and loss; None where either is none."""
    if each.shift_mired is None or each.loss_stops is None:
        return None
    return each.shift_mired, each.loss_stops


def _panel(chart: LossesChart, box: Box) -> Panel:
    placed = [each for each in chart.sheets if _place(each) is not None]
    across = [each.shift_mired for each in placed]
    up = [each.loss_stops for each in placed]
    for each in placed:
        across += each.band_mired or ()
        up += each.band_stops or ()
    (cool, warm), _ = window(
        (each * 1.06 for each in finite(across)),
        least=(-20.0, 20.0),
        most=(-MOST_MIRED, MOST_MIRED),
        steps=(10.0, 25.0, 50.0, 100.0),
    )
    highest = min(max([1.0, *(each + 0.15 for each in finite(up))]), MOST_STOPS)
    most = math.ceil(highest * 3.0 - 1e-9) / 3.0
    return Panel(box, Scale(cool, warm, box.left, box.right), Scale(0.0, most, box.bottom, box.top))


def _axes(panel: Panel, greys: Greys) -> list[str]:
    span = panel.x.high - panel.x.low
    step = next((each for each in (10.0, 25.0, 50.0) if span / each <= 9.0), 100.0)
    across = [(each, _mired_mark(each)) for each in panel.x.marks(step)]
    up = [(each, stops_mark(each)) for each in panel.y.marks(1 / 3)]
    return grid(panel, greys, across=across, up=up, strong=(0.0, 0.0))


def _mired_mark(mired: float) -> str:
    if round(mired) == 0:
        return "no shift"
    return f"{abs(mired):.0f} {'warmer' if mired > 0 else 'cooler'}"


def stops_mark(stops: float) -> str:
    """A value of an axis in thirds: "1 1/3 stop", "0 stop"."""
    return say_stops(stops) if round(abs(stops) * 3) else "0 stop"


def _points(chart: LossesChart, panel: Panel) -> list[Named]:
    points = []
    for each in chart.sheets:
        place = _place(each)
        if place is None:
            continue
        x, y = panel.at(*place)
        outside = panel.beyond(*place) is not None
        told = (_told_shift(each), say_stops(place[1])) if outside else ()
        radius = ARROW_PX if outside else _POINT + 1.5
        points.append(Named(x, y, radius, each.number, each.name, told))
    return points


def _lines(chart: LossesChart, panel: Panel) -> list[Segment]:
    """Whiskers and arrows."""
    lines: list[Segment] = []
    for each in chart.sheets:
        lines += _whiskers(each, panel)
        tick = _tick(each, panel)
        lines += [tick] if tick else []
    return lines


def _whiskers(each: SheetPoint, panel: Panel) -> list[Segment]:
    place = _place(each)
    if place is None or panel.beyond(*place) is not None:
        return []
    x, y = panel.at(*place)
    found: list[Segment] = []
    if each.band_mired is not None:
        low, high = panel.x.ends(*each.band_mired)
        found.append(((low, y), (high, y)))
    if each.band_stops is not None:
        low, high = panel.y.ends(*each.band_stops)
        found.append(((x, low), (x, high)))
    return found


def _tick(each: SheetPoint, panel: Panel) -> Segment | None:
    """The arrow of the Duv shift: from the point up for greener, down for more magenta."""
    place, duv = _place(each), each.shift_duv or 0.0
    if place is None or panel.beyond(*place) is not None or abs(duv) < LEAST_DUV:
        return None
    x, y = panel.at(*place)
    tip = min(max(y - duv / TICK_DUV * TICK_PX, panel.box.top), panel.box.bottom)
    return (x, y), (x, tip)


def _sheet(each: SheetPoint, panel: Panel, greys: Greys) -> list[str]:
    place = _place(each)
    if place is None:
        return []
    fill, at, away = data_fill(each.fill), panel.at(*place), panel.beyond(*place)
    if away is not None:
        parts = [arrow(at, away, fill=fill, stroke=greys.ink)]
    else:
        parts = [line(*ends, greys.line) for ends in _whiskers(each, panel)]
        tick = _tick(each, panel)
        if tick is not None:
            parts += _pointer(tick, greys)
        parts.append(shape(at, SHAPES[each.role], _POINT, fill=fill, stroke=greys.ink))
    return [titled(parts, f"{each.number} {isolated(each.name)}: {_told(each)}")]


def _told(each: SheetPoint) -> str:
    duv = say_duv(each.shift_duv or 0.0)
    return f"{_told_shift(each)}, {_told_loss(each.loss_stops)}, Duv shift {duv}"


def _pointer(tick: Segment, greys: Greys) -> list[str]:
    (x, y), tip = tick
    up = -1.0 if tip[1] < y else 1.0
    size = min(3.5, abs(tip[1] - y) / 2)
    head = arrow(tip, (0.0, up), fill=greys.ink, stroke=greys.ink, size=size) if size > 1 else ""
    return [line((x, y), tip, greys.ink, width=2.0), head]


def _key(chart: LossesChart, greys: Greys) -> list[tuple[Sample, str]]:
    roles = [role for role in SHAPES if any(each.role == role for each in chart.sheets)]
    entries: list[tuple[Sample, str]] = [
        (shape_sample(SHAPES[role], greys), role) for role in roles
    ]
    if any(each.band_mired is not None for each in chart.sheets):
        entries.append((cross_sample(greys.line), "nine in ten of what it may be"))
    entries.append(
        (
            lambda at: _pointer(((at[0], at[1] + 9.0), (at[0], at[1] + 9.0 - 18.0)), greys),
            f"Duv: up greener, down more magenta, this long {18.0 / TICK_PX * TICK_DUV:.3f}",
        )
    )
    return entries


def _foot(chart: LossesChart, drawn: Labelled, width: float, greys: Greys) -> Part:
    """Names by number where they are not in the picture, then what has no place in it."""
    text = "Across: shift in mired, cooler to the left, warmer to the right. Up: loss in stops."
    if drawn.unlabelled:
        text += f" {drawn.unlabelled} points lie too close for a number: find them by the list."
    told = paragraph(text, width, drawn.panel.box.bottom + 24.0, greys)
    entries = [Entry(each.number, isolated(each.name), _told_short(each)) for each in chart.sheets]
    return footed(
        told,
        width,
        greys,
        entries=entries if drawn.listed else [],
        texts=_left_out(chart.sheets),
    )


def _told_short(each: SheetPoint) -> str:
    """Shift and loss, which find the point where its number had no room."""
    if each.loss_stops is None:
        return "nothing passes"
    return f"{_told_shift(each)}, {say_stops(each.loss_stops)}"


def _left_out(sheets: Sequence[SheetPoint]) -> list[str]:
    dark = [each for each in sheets if each.loss_stops is None]
    none = [each for each in sheets if each.shift_mired is None and each not in dark]
    told = [
        f"{each.number} {isolated(each.name)} ({say_stops(each.loss_stops or 0.0)})"
        for each in none
    ]
    names = [f"{each.number} {isolated(each.name)}" for each in dark]
    return [
        *([f"Without a colour temperature, so not in the chart: {listed(told)}."] if told else []),
        *([f"Nothing of the light passes: {listed(names)}."] if names else []),
    ]
