"""Spectra: the power of lights or the transmittance of stacks over wavelength, with bands."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import (
    MARGIN,
    SMALL,
    SMALL_LINE_PX,
    Panel,
    Part,
    checked_width,
    grid,
    heading,
    key,
    paragraph,
    room_beside,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.letters import Fitted, fitted, isolated, width_of
from evencast.handouts.charts.marks import area_sample
from evencast.handouts.charts.placing import Box
from evencast.handouts.charts.scale import Scale, round_step
from evencast.handouts.charts.svg import LINE_PX, Point, data_fill, dot, line, path, picture, words
from evencast.handouts.charts.values import Table

HUES = (
    (380.0, 450.0, "violet"),
    (450.0, 490.0, "blue"),
    (490.0, 560.0, "green"),
    (560.0, 590.0, "yellow"),
    (590.0, 630.0, "orange"),
    (630.0, 780.0, "red"),
)
"""Names of colours by wavelength. Common practice, no source: every table draws them a little
differently."""
TOLD_NM = 20.0
"""How far apart the wavelengths are whose values the table gives."""
MOST_CURVES = 8
_DASHES = ("", "8 4", "2 3", "10 3 2 3", "5 3", "1 3", "12 5", "6 2 1 2 1 2")
_QUANTITY = {"power": "relative power", "transmittance": "transmittance"}
_HEIGHT_OF_WIDTH, _NAME_SHARE = 0.45, 0.24
_SEEN_THROUGH = 0.6
_HUE_SIZES = (11.0, 9.0)


@dataclass(frozen=True, slots=True)
class Curve:
    """One light or stack.

    values    : one for each wavelength, 0 up; transmittances to 1
    low, high : 5th and 95th percentile of what it may be, likewise; None where it is known
    fill      : how it looks, "#rrggbb"
    """

    name: str
    values: tuple[float, ...]
    low: tuple[float, ...] | None
    high: tuple[float, ...] | None
    fill: str


@dataclass(frozen=True, slots=True)
class SpectraChart:
    """Spectra on one scale.

    quantity : "power" or "transmittance"
    wavelengths_nm : of the values, ascending
    scale    : what the values are relative to, a sentence
    """

    title: str
    quantity: str
    wavelengths_nm: tuple[float, ...]
    curves: tuple[Curve, ...]
    scale: str


def rows(chart: SpectraChart) -> Table:
    """The chart as a table: values at every 20 nm."""
    return Table(
        headers=("nm", *(isolated(each.name) for each in chart.curves)),
        rows=tuple(
            (f"{nm:.0f}", *(_told(each, place) for each in chart.curves))
            for place, nm in enumerate(chart.wavelengths_nm)
            if nm % TOLD_NM == 0
        ),
    )


def svg(chart: SpectraChart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """The chart as a picture.

    Raises  ValueError for more curves than can be told apart
    """
    if len(chart.curves) > MOST_CURVES:
        raise ValueError(f"{len(chart.curves)} curves, more than {MOST_CURVES}")
    greys, width = GREYS[ground], checked_width(width)
    head = heading(isolated(chart.title), width, greys)
    banded = any(each.low for each in chart.curves)
    marks = key([(area_sample(greys.band), BANDED)] if banded else [], width, head.bottom, greys)
    panel = _panel(chart, width, marks.bottom + 26.0)
    body = [*head.elements, *marks.elements, *_axes(chart, panel, greys)]
    for each in chart.curves:
        body += _band(chart, each, panel, greys)
    for number, each in enumerate(chart.curves):
        points = _points(chart, each.values, panel)
        body.append(path(points, stroke=greys.ink, width=1.6, dash=_DASHES[number]))
    names = _names(chart, panel, width, greys)
    foot = paragraph(chart.scale, width, panel.box.bottom + 42.0, greys)
    return picture(
        width,
        max(foot.bottom, names.bottom) + MARGIN,
        [*body, *names.elements, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


BANDED = "nine in ten of what it may be"


def _told(each: Curve, place: int) -> str:
    told = f"{each.values[place]:.2f}"
    if each.low is None or each.high is None:
        return told
    return f"{told} ({each.low[place]:.2f} to {each.high[place]:.2f})"


def described(chart: SpectraChart) -> str:
    """The chart in sentences."""
    told = []
    for each in chart.curves:
        peak = max(range(len(each.values)), key=lambda place: each.values[place])
        at = chart.wavelengths_nm[peak]
        told.append(f"{isolated(each.name)}: most at {at:.0f} nm, {each.values[peak]:.2f}")
    return f"{_QUANTITY[chart.quantity].capitalize()} from 380 to 780 nm. {'; '.join(told)}."


def _top(chart: SpectraChart) -> float:
    """The upper end of the scale: 1, or what the highest curve or band needs, a round value."""
    most = max(
        (
            max(values)
            for each in chart.curves
            for values in (each.values, each.high or each.values)
        ),
        default=1.0,
    )
    step = round_step(max(most, 1.0), 6)
    return max(1.0, step * math.ceil(most / step - 1e-9))


def _panel(chart: SpectraChart, width: float, top: float) -> Panel:
    left = room_beside(["0.00"])
    right = width - MARGIN - width * _NAME_SHARE
    box = Box(left, top, right, top + width * _HEIGHT_OF_WIDTH)
    return Panel(
        box,
        Scale(380.0, 780.0, box.left, box.right),
        Scale(0.0, _top(chart), box.bottom, box.top),
    )


def _axes(chart: SpectraChart, panel: Panel, greys: Greys) -> list[str]:
    step = round_step(panel.y.high, 6)
    across = [(nm, f"{nm:.0f}") for nm in panel.x.marks(50.0)]
    up = [(value, f"{value:.1f}") for value in panel.y.marks(step)]
    parts = grid(panel, greys, across=across, up=up)
    foot = panel.box.bottom + 2.0 * LINE_PX
    for low, high, hue in HUES:
        middle = (panel.x.at(low) + panel.x.at(high)) / 2
        room = panel.x.at(high) - panel.x.at(low)
        size = next((each for each in _HUE_SIZES if width_of(hue, each) <= room), None)
        if size is not None:
            parts += words([hue], (middle, foot), greys.soft, size=size, anchor="middle")
        if low > 380.0:
            x = panel.x.at(low)
            parts.append(line((x, foot - 11.0), (x, foot + 3.0), greys.grid))
    nm = (panel.box.right + 8.0, panel.box.bottom + LINE_PX)
    name = [_QUANTITY[chart.quantity]]
    parts += words(["nm"], nm, greys.soft, size=SMALL)
    return parts + words(name, (MARGIN, panel.box.top - 9.0), greys.soft, size=SMALL)


def _points(chart: SpectraChart, values: Sequence[float], panel: Panel) -> list[Point]:
    return [panel.at(nm, value) for nm, value in zip(chart.wavelengths_nm, values, strict=True)]


def _band(chart: SpectraChart, each: Curve, panel: Panel, greys: Greys) -> list[str]:
    if each.low is None or each.high is None:
        return []
    up, down = _points(chart, each.high, panel), _points(chart, each.low, panel)
    area = path([*up, *reversed(down)], fill=greys.band, closed=True, opacity=_SEEN_THROUGH)
    return [area, path(up, stroke=greys.line, width=0.5), path(down, stroke=greys.line, width=0.5)]


def _names(chart: SpectraChart, panel: Panel, width: float, greys: Greys) -> Part:
    """Each curve's name at its right end, apart from the others, with its dash and its colour."""
    left = panel.box.right + 30.0
    room = width - MARGIN - left
    fits = [fitted(isolated(each.name), room, SMALL, most_lines=3) for each in chart.curves]
    ends = [panel.y.clamped(each.values[-1]) for each in chart.curves]
    tops = spread(
        ends,
        [_height(fit) for fit in fits],
        top=panel.box.top,
        bottom=max(panel.box.bottom, panel.box.top + sum(_height(fit) for fit in fits)),
    )
    parts = []
    for number, (each, fit, end, top) in enumerate(
        zip(chart.curves, fits, ends, tops, strict=True)
    ):
        foot = (panel.box.right, end)
        parts.append(line(foot, (panel.box.right + 10.0, top + 8.0), greys.line))
        full = each.name if fit.cut else ""
        y = top + 8.0
        sample = (left - 18.0, y), (left + 24.0, y)
        parts.append(line(*sample, greys.ink, width=1.6, dash=_DASHES[number]))
        parts.append(
            dot((left + 36.0, y), 5.0, fill=data_fill(each.fill), stroke=greys.ink, width=1.0)
        )
        parts += words(fit.lines, (left, top + 28.0), greys.ink, size=SMALL, full=full)
    lowest = [top + _height(fit) for top, fit in zip(tops, fits, strict=True)]
    return Part(parts, max(lowest, default=panel.box.bottom))


def _height(fit: Fitted) -> float:
    return 22.0 + len(fit.lines) * SMALL_LINE_PX


def spread(
    wanted: Sequence[float], heights: Sequence[float], *, top: float, bottom: float
) -> list[float]:
    """Upper edges of boxes, each as near as may be to its place without touching the next.

    wanted  : where the middle of each belongs, px
    top, bottom : between which all lie; the room is enough for all
    """
    order = sorted(range(len(wanted)), key=lambda each: (wanted[each], each))
    tops = [0.0] * len(wanted)
    free = top
    for each in order:
        tops[each] = max(free, wanted[each] - heights[each] / 2)
        free = tops[each] + heights[each]
    limit = bottom
    for each in reversed(order):
        tops[each] = min(tops[each], limit - heights[each])
        limit = tops[each]
    return tops
