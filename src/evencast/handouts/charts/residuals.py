"""What every light leaves against its aim: mired and Duv side by side, tolerance drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import (
    MARGIN,
    SMALL,
    SMALL_LINE_PX,
    Panel,
    Sample,
    checked_width,
    ground_of,
    heading,
    key,
    names_below,
    paragraph,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.letters import Fitted, fitted, isolated
from evencast.handouts.charts.marks import area_sample
from evencast.handouts.charts.placing import Box
from evencast.handouts.charts.scale import Scale, Window, round_step, window
from evencast.handouts.charts.svg import (
    LINE_PX,
    Point,
    arrow,
    data_fill,
    element,
    line,
    picture,
    titled,
    words,
)
from evencast.handouts.charts.values import Ends, Table, Tolerance, finite, say_band, signed_duv
from evencast.quantities import say_left

MOST_MIRED, MOST_DUV = 40.0, 0.01
_FOOT = "An arrow at the edge: further out, as told at the right. Bold: outside its tolerance."
_ROW, _BAR = 26.0, 9.0
_NAME_SHARE, _TOLD_SHARE, _GAP = 0.22, 0.2, 18.0


@dataclass(frozen=True, slots=True)
class Residual:
    """One light as it hangs, against its aim.

    number    : of its row
    mired     : + warm; None without a colour temperature, and where it is switched off
    duv       : + green; None likewise
    band_mired, band_duv : of these; None where all is known
    inside    : whether it comes out as it shall
    off       : whether it is switched off
    fill      : how it looks at the balance, "#rrggbb"
    """

    number: int
    name: str
    mired: float | None
    duv: float | None
    band_mired: Ends | None
    band_duv: Ends | None
    tolerance: Tolerance
    inside: bool
    off: bool
    fill: str


@dataclass(frozen=True, slots=True)
class ResidualsChart:
    """Every light of a scene."""

    title: str
    lights: tuple[Residual, ...]


def rows(chart: ResidualsChart) -> Table:
    """The chart as a table."""
    return Table(
        headers=("", "Light", "Left", "Duv", "Band", "Tolerance", "Inside"),
        rows=tuple(
            (
                str(each.number),
                isolated(each.name),
                _told(each),
                "-" if each.duv is None else signed_duv(each.duv),
                say_band(each.band_mired, each.band_duv),
                f"{each.tolerance.role}: {each.tolerance.say()}",
                "-" if each.off else ("yes" if each.inside else "no"),
            )
            for each in chart.lights
        ),
    )


def svg(chart: ResidualsChart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """The chart as a picture."""
    greys, width = GREYS[ground], checked_width(width)
    head = heading(isolated(chart.title), width, greys)
    marks = key(_key(chart, greys), width, head.bottom, greys)
    top = marks.bottom + 42.0
    fits = [_name(each, width) for each in chart.lights]
    told = [_words(each, width) for each in chart.lights]
    heights = [
        max(_ROW, max(len(one.lines), len(other.lines)) * SMALL_LINE_PX + 8.0)
        for one, other in zip(fits, told, strict=True)
    ]
    bottom = top + max(sum(heights), _ROW)
    mired, duv = _panels(chart, width, Box(0.0, top, width, bottom))
    body = [*head.elements, *marks.elements, *_frames(mired, duv, greys)]
    y = top
    for each, fit, height in zip(chart.lights, fits, heights, strict=True):
        body += _row(each, fit, (y, y + height), (mired, duv), width, greys)
        y += height
    foot = paragraph(
        _FOOT if chart.lights else "There is no light to show.",
        width,
        bottom + 24.0,
        greys,
    )
    return picture(
        width,
        foot.bottom + MARGIN,
        [*body, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


def _told(each: Residual) -> str:
    return "switched off" if each.off else say_left(each.mired, each.duv)


def described(chart: ResidualsChart) -> str:
    """The chart in sentences."""
    told = [f"{each.number} {isolated(each.name)}: {_told(each)}" for each in chart.lights]
    return f"What is left against each aim. {'; '.join(told) or 'No lights'}."


def _name(each: Residual, width: float) -> Fitted:
    room = width * _NAME_SHARE - 44.0
    return fitted(isolated(each.name), room / (1.0 if each.inside else 1.05), SMALL, most_lines=4)


def _words(each: Residual, width: float) -> Fitted:
    return fitted(_told(each), (width * _TOLD_SHARE - 10.0) / 1.05, SMALL, most_lines=3)


def _panels(chart: ResidualsChart, width: float, box: Box) -> tuple[Panel, Panel]:
    """Two fields of equal width that share their rows."""
    left, right = MARGIN + width * _NAME_SHARE, width - MARGIN - width * _TOLD_SHARE
    half = (right - left - _GAP) / 2
    rows_ = Scale(0.0, 1.0, box.top, box.bottom)
    first = Box(left, box.top, left + half, box.bottom)
    second = Box(right - half, box.top, right, box.bottom)
    (cool, warm), (magenta, green) = _windows([each for each in chart.lights if not each.off])
    return (
        Panel(first, Scale(cool, warm, first.left, first.right), rows_),
        Panel(second, Scale(magenta, green, second.left, second.right), rows_),
    )


def _windows(lights: Sequence[Residual]) -> tuple[Window, Window]:
    """What the fields hold: what is left of lights that are near enough, their bands and
    tolerances; a light far out does not squeeze the others."""
    mired: list[float | None] = []
    duv: list[float | None] = []
    for each in lights:
        allowed = each.tolerance
        mired += [each.mired, *(each.band_mired or ()), allowed.mired_low, allowed.mired_high]
        duv += [each.duv, *(each.band_duv or ()), -allowed.duv, allowed.duv]
    inside = [abs(each.mired or 0.0) for each in lights if each.inside]
    most = max([MOST_MIRED, *(1.3 * each for each in inside)])
    across, _ = window(
        (each * 1.05 for each in finite(mired)),
        least=(-10.0, 10.0),
        most=(-most, most),
        steps=(5.0, 10.0, 20.0),
    )
    up, _ = window(
        (each * 1.05 for each in finite(duv)),
        least=(-0.003, 0.003),
        most=(-MOST_DUV, MOST_DUV),
        steps=(0.001, 0.002),
    )
    return across, up


def _frames(mired: Panel, duv: Panel, greys: Greys) -> list[str]:
    parts = []
    for panel, titles in ((mired, ("cool", "mired", "warm")), (duv, ("magenta", "Duv", "green"))):
        box = panel.box
        parts.append(ground_of(box, greys))
        step = round_step(panel.x.high - panel.x.low, 5)
        for value in panel.x.marks(step):
            x = panel.x.at(value)
            parts.append(line((x, box.top), (x, box.bottom), greys.grid))
        names = [(panel.x.at(value), _mark(value)) for value in panel.x.marks(step)]
        parts += names_below(names, box.bottom + LINE_PX, (box.left - 8.0, box.right + 8.0), greys)
        left, quantity, right = titles
        middle = ((box.left + box.right) / 2, box.top - 24.0)
        parts += words([quantity], middle, greys.ink, size=SMALL, anchor="middle")
        parts += words([left], (box.left, box.top - 8.0), greys.soft, size=SMALL)
        at = (box.right, box.top - 8.0)
        parts += words([right], at, greys.soft, size=SMALL, anchor="end")
    return parts


def _mark(value: float) -> str:
    shown = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    return "0" if value == 0 else f"{'+' if value > 0 else '−'}{shown}"


def _row(
    each: Residual,
    fit: Fitted,
    rows_: tuple[float, float],
    panels: tuple[Panel, Panel],
    width: float,
    greys: Greys,
) -> list[str]:
    """One light: its name, a bar in each field, and both in words."""
    middle = sum(rows_) / 2
    mired, duv = panels
    bold = not (each.inside or each.off)
    first = middle - (len(fit.lines) - 1) * SMALL_LINE_PX / 2 + 4.0
    full = each.name if fit.cut else ""
    parts = words(
        [str(each.number)], (MARGIN + 20.0, first), greys.ink, size=SMALL, anchor="end", bold=bold
    )
    parts += words(fit.lines, (MARGIN + 28.0, first), greys.ink, size=SMALL, bold=bold, full=full)
    if not each.off:
        low, high = each.tolerance.mired_low, each.tolerance.mired_high
        parts += _bar(each, each.mired, each.band_mired, (low, high), rows_, mired, greys)
        within = (-each.tolerance.duv, each.tolerance.duv)
        parts += _bar(each, each.duv, each.band_duv, within, rows_, duv, greys)
    told = _words(each, width)
    at = (duv.box.right + 10.0, middle - (len(told.lines) - 1) * SMALL_LINE_PX / 2 + 4.0)
    return parts + words(told.lines, at, greys.ink, size=SMALL, bold=bold)


def _bar(
    each: Residual,
    value: float | None,
    band: Ends | None,
    within: tuple[float, float],
    rows_: tuple[float, float],
    panel: Panel,
    greys: Greys,
) -> list[str]:
    """The tolerance as an area, the residual as a bar from 0, its band as a whisker."""
    y = sum(rows_) / 2
    low, high = (panel.x.clamped(end) for end in within)
    zero = panel.x.at(0.0)
    parts = [
        element(
            "rect",
            x=low,
            y=rows_[0] + 2.0,
            width=high - low,
            height=rows_[1] - rows_[0] - 4.0,
            fill=greys.allowed,
        ),
        line((zero, rows_[0]), (zero, rows_[1]), greys.line),
    ]
    if value is None:
        return parts
    x, fill = panel.x.clamped(value), data_fill(each.fill)
    parts.append(
        element(
            "rect",
            x=min(zero, x),
            y=y - _BAR / 2,
            width=max(abs(x - zero), 1.0),
            height=_BAR,
            fill=fill,
            stroke=greys.ink,
        )
    )
    if panel.x.beyond(value):
        parts.append(
            arrow((x, y), (float(panel.x.beyond(value)), 0.0), fill=fill, stroke=greys.ink)
        )
    if band is not None:
        parts += _whisker(panel.x.ends(*band), y, greys)
    return [titled(parts, f"{each.number} {isolated(each.name)}: {_told(each)}")]


def _whisker(ends: tuple[float, float], y: float, greys: Greys) -> list[str]:
    low, high = ends
    return [
        line((low, y), (high, y), greys.ink, width=1.5),
        line((low, y - 6.0), (low, y + 6.0), greys.ink, width=1.5),
        line((high, y - 6.0), (high, y + 6.0), greys.ink, width=1.5),
    ]


def _key(chart: ResidualsChart, greys: Greys) -> list[tuple[Sample, str]]:
    def bar(at: Point) -> list[str]:
        x, y = at
        return [
            element(
                "rect", x=x - 12, y=y - 4, width=24, height=_BAR, fill=greys.panel, stroke=greys.ink
            )
        ]

    entries: list[tuple[Sample, str]] = [
        (bar, "what is left against its aim"),
        (area_sample(greys.allowed), "its tolerance"),
    ]
    if any(each.band_mired is not None for each in chart.lights):
        entries.append(
            (
                lambda at: _whisker((at[0] - 12.0, at[0] + 12.0), at[1], greys),
                "nine in ten of what it may be",
            )
        )
    return entries
