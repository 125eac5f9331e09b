"""The exposure of a scene as a ladder: every light's stops against the shot, f-numbers beside."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from evencast.camera.exposure import marked_stop
from evencast.handouts.charts.frame import (
    MARGIN,
    SMALL,
    SMALL_LINE_PX,
    Entry,
    Panel,
    Part,
    Sample,
    checked_width,
    footed,
    grid,
    heading,
    key,
    room_beside,
)
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.letters import Fitted, fitted, isolated, width_of
from evencast.handouts.charts.placing import Box
from evencast.handouts.charts.scale import Scale
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
from evencast.handouts.charts.values import Table, say_over, say_stops_between

Kind = Literal["light", "sum", "view"]
MOST_STOPS, LEAST_STOPS = 6.0, -8.0
"""What is further from the reference is told at the edge."""
MOST_NAMED = 9
_LEAST_COLUMN, _MOST_COLUMN, _MOST_BAR = 22.0, 90.0, 26.0
_WIDEST = "8 stops under"
_THIRD_PX, _LEAST_TALL = 11.0, 200.0
_OUTLINE: dict[Kind, dict[str, str | float]] = {
    "light": {},
    "sum": {"stroke_width": 2.5},
    "view": {"stroke_dasharray": "3 2"},
}

Triple = tuple[float, float, float]
"""Least, middle and most."""


@dataclass(frozen=True, slots=True)
class Rung:
    """One light alone, key and fill together, or a view.

    number    : of its row
    kind      : "light", "sum" or "view"
    over      : stops over (+) or under the reference
    f_number  : the stop it gives alone, least and most
    aim       : where it shall be, against the reference, least and most; None where that is not
                judged
    inside    : whether it is there; None likewise
    fill      : how it looks at the balance, "#rrggbb"; a sum has a grey
    """

    number: int
    name: str
    kind: Kind
    over: Triple
    f_number: tuple[float, float] | None
    aim: tuple[float, float] | None
    inside: bool | None
    fill: str


@dataclass(frozen=True, slots=True)
class LadderChart:
    """The levels of a scene.

    reference : what stops are counted from: "the shot", "the key"
    f_number  : of the reference
    unknown   : names of lights whose level is not known
    notes     : told below, sentences
    """

    title: str
    reference: str
    f_number: float
    rungs: tuple[Rung, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


def rows(chart: LadderChart) -> Table:
    """The chart as a table."""
    return Table(
        headers=("", "Light", "Level", "Range", "Stop", "Aim", "Inside"),
        rows=tuple(
            (
                str(each.number),
                isolated(each.name),
                say_over(each.over[1], chart.reference),
                f"{_signed(each.over[0])} to {_signed(each.over[2])} stop",
                "-" if each.f_number is None else _f_numbers(each.f_number),
                "not judged" if each.aim is None else say_stops_between(*each.aim),
                {None: "-", True: "yes", False: "no"}[each.inside],
            )
            for each in chart.rungs
        ),
    )


def svg(chart: LadderChart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """The chart as a picture: one ladder below the other where one has not room for all."""
    greys, width = GREYS[ground], checked_width(width)
    under = f"Stops over and under {chart.reference}, {marked_stop(chart.f_number)}."
    head = heading(isolated(chart.title), width, greys, under=under)
    marks = key(_key(chart, greys), width, head.bottom, greys)
    body, bottom = [*head.elements, *marks.elements], marks.bottom
    left, right = room_beside([_WIDEST]), width - MARGIN - width_of("f/22.5", SMALL) - 8.0
    most = max(1, int((right - left) // _LEAST_COLUMN))
    named = len(chart.rungs) <= min(MOST_NAMED, most)
    low, high = _ends(chart.rungs)
    tall = max(_LEAST_TALL, (high - low) * 3.0 * _THIRD_PX)
    ladders = max(1, -(-len(chart.rungs) // most))
    share = max(1, -(-len(chart.rungs) // ladders))
    for start in range(0, max(len(chart.rungs), 1), share):
        rungs = chart.rungs[start : start + share]
        box = Box(left, bottom + 14.0, right, bottom + 14.0 + tall)
        across = max(float(share), (right - left) / _MOST_COLUMN)
        panel = Panel(box, Scale(0.0, across, left, right), Scale(low, high, box.bottom, box.top))
        parts, bottom = _ladder(chart, rungs, panel, greys, named=named)
        body += parts
    foot = _foot(chart, width, bottom, greys, named=named)
    return picture(
        width,
        foot.bottom + MARGIN,
        [*body, *foot.elements],
        title=chart.title,
        described=described(chart),
        greys=greys,
    )


def _signed(stops: float) -> str:
    return f"{round(stops, 2) + 0.0:+.2f}"


def _f_numbers(ends: tuple[float, float]) -> str:
    low, high = (marked_stop(each) for each in ends)
    return low if low == high else f"{low} to {high}"


def described(chart: LadderChart) -> str:
    """The chart in sentences."""
    told = [
        f"{each.number} {isolated(each.name)}: {say_over(each.over[1], chart.reference)}"
        for each in chart.rungs
    ]
    return " ".join([f"{'; '.join(told) or 'No levels'}.", *_unknown(chart)])


def _unknown(chart: LadderChart) -> list[str]:
    names = ", ".join(isolated(each) for each in chart.unknown)
    return [f"Level not known: {names}."] if names else []


def _ends(rungs: Sequence[Rung]) -> tuple[float, float]:
    """The ends of the ladder, whole stops."""
    values = [0.0, *(value for each in rungs for value in (*each.over, *(each.aim or ())))]
    low = max(min(values), LEAST_STOPS)
    high = min(max(values), MOST_STOPS)
    return min(float(math.floor(low)), -1.0), max(float(math.ceil(high)), 1.0)


def _ladder(
    chart: LadderChart, rungs: Sequence[Rung], panel: Panel, greys: Greys, *, named: bool
) -> tuple[list[str], float]:
    up = [(each, _mark(each, chart.reference)) for each in panel.y.marks(1 / 3)]
    parts = grid(panel, greys, across=[], up=up, strong=(None, 0.0))
    for stops in panel.y.marks(1.0):
        y = panel.y.at(stops)
        if stops != 0.0:
            parts.append(line((panel.box.left, y), (panel.box.right, y), greys.line, dash="1 3"))
        f_number = chart.f_number * 2.0 ** (stops / 2.0)
        at = (panel.box.right + 7.0, y + 4.0)
        parts += words([marked_stop(f_number)], at, greys.soft, size=SMALL)
    bottom = panel.box.bottom + LINE_PX
    for place, each in enumerate(rungs):
        x = panel.x.at(place + 0.5)
        parts += _rung(chart, each, x, panel, greys)
        fit = _name(each, panel.x.at(1.0) - panel.x.at(0.0) - 6.0, named=named)
        full = each.name if fit.cut else ""
        at = (x, panel.box.bottom + LINE_PX)
        parts += words(fit.lines, at, greys.ink, size=SMALL, anchor="middle", full=full)
        bottom = max(bottom, at[1] + (len(fit.lines) - 1) * SMALL_LINE_PX)
    return parts, bottom


def _name(each: Rung, room: float, *, named: bool) -> Fitted:
    if not named:
        return Fitted((str(each.number),), cut=False)
    fit = fitted(isolated(each.name), room, SMALL, most_lines=4)
    return Fitted((str(each.number), *fit.lines), fit.cut)


def _mark(stops: float, reference: str) -> str:
    """A whole stop of the ladder; what lies between has a line alone."""
    if abs(stops - round(stops)) > 1e-6:
        return ""
    if round(stops) == 0:
        return reference if len(reference) <= len(_WIDEST) else "even"
    whole = abs(round(stops))
    return f"{whole} {'stop' if whole == 1 else 'stops'} {'over' if stops > 0 else 'under'}"


def _rung(chart: LadderChart, each: Rung, x: float, panel: Panel, greys: Greys) -> list[str]:
    """A bar from least to most, its middle, and where it shall be."""
    column = panel.x.at(1.0) - panel.x.at(0.0)
    half = min(column * 0.32, _MOST_BAR / 2)
    middle = each.over[1]
    y = panel.y.clamped(middle)
    parts = _aim(each, x, half, panel, greys)
    if panel.y.beyond(middle):
        away = (0.0, -float(panel.y.beyond(middle)))
        parts.append(arrow((x, y), away, fill=data_fill(each.fill), stroke=greys.ink))
        told = f"{abs(middle):.1f}"
        at = (x, y - away[1] * 24.0 + 4.0)
        parts += words([told], at, greys.ink, size=SMALL, anchor="middle", halo=greys.panel)
    else:
        parts += _bar(each, x, half, panel, greys)
    told = say_over(middle, chart.reference)
    return [titled(parts, f"{each.number} {isolated(each.name)}: {told}")]


def _bar(each: Rung, x: float, half: float, panel: Panel, greys: Greys) -> list[str]:
    low, middle, high = each.over
    top, foot = panel.y.clamped(high), panel.y.clamped(low)
    y = panel.y.at(middle)
    fill = data_fill(each.fill) if each.kind == "light" else greys.panel
    bar = element(
        "rect",
        x=x - half,
        y=min(top, y - 1.5),
        width=2 * half,
        height=max(foot - top, 3.0),
        fill=fill,
        stroke=greys.ink,
        **_OUTLINE[each.kind],
    )
    return [bar, line((x - half - 4.0, y), (x + half + 4.0, y), greys.ink, width=2.5)]


def _aim(each: Rung, x: float, half: float, panel: Panel, greys: Greys) -> list[str]:
    """Brackets beside the bar from the least to the most that it may be."""
    if each.aim is None:
        return []
    low, high = (panel.y.clamped(end) for end in each.aim)
    return _brackets(x, (low, high), (half + 6.0, half + 1.0), greys)


def _brackets(
    x: float, ends: tuple[float, float], out: tuple[float, float], greys: Greys
) -> list[str]:
    """A bracket to either side of a place.

    ends : between which heights
    out  : how far from the place their backs stand and their tips end
    """
    parts = []
    for side in (-1.0, 1.0):
        edge, inner = (x + side * each for each in out)
        parts.append(line((edge, ends[0]), (edge, ends[1]), greys.ink, width=1.4))
        parts += [line((edge, end), (inner, end), greys.ink, width=1.4) for end in ends]
    return parts


def _key(chart: LadderChart, greys: Greys) -> list[tuple[Sample, str]]:
    def bar(kind: Kind) -> Sample:
        more, fill = _OUTLINE[kind], greys.band if kind == "light" else greys.panel

        def draw(at: Point) -> list[str]:
            x, y = at
            box = element(
                "rect", x=x - 6, y=y - 8, width=12, height=16, fill=fill, stroke=greys.ink, **more
            )
            return [box, line((x - 10, y), (x + 10, y), greys.ink, width=2.5)]

        return draw

    def brackets(at: Point) -> list[str]:
        x, y = at
        return _brackets(x, (y - 8, y + 8), (10.0, 5.0), greys)

    kinds = {each.kind for each in chart.rungs}
    entries: list[tuple[Sample, str]] = [(bar("light"), "a light: least, middle, most")]
    if "sum" in kinds:
        entries.append((bar("sum"), "several together"))
    if "view" in kinds:
        entries.append((bar("view"), "a view"))
    if any(each.aim for each in chart.rungs):
        entries.append((brackets, "where it may be"))
    return entries


def _foot(chart: LadderChart, width: float, top: float, greys: Greys, *, named: bool) -> Part:
    """Names by number where they are not in the picture, then what is to be known."""
    entries = [Entry(each.number, isolated(each.name)) for each in chart.rungs]
    return footed(
        Part([], top + 6.0),
        width,
        greys,
        entries=[] if named else entries,
        texts=[*chart.notes, *_unknown(chart)],
    )
