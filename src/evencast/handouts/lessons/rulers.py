"""One sheet on two rulers: Kelvin above, mired below."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.handouts.charts.ground import Greys, Ground
from evencast.handouts.charts.scale import Scale
from evencast.handouts.charts.svg import arrow, dot, element, line, words
from evencast.handouts.lessons.sheet import (
    MARGIN,
    SMALL_TYPE,
    TYPE,
    WIDTH,
    ended,
    greys_of,
    lines,
)

COOLEST_K, WARMEST_K = 20_000.0, 1800.0
_KELVINS = (2000, 5000, 10_000, 15_000, 20_000)
_MIREDS = (100, 200, 300, 400, 500)


@dataclass(frozen=True, slots=True)
class Slide:
    """The sheet in front of one lamp.

    lamp_k, through_k : before and after; None for after where there is no colour temperature
    told_k, told_mired : how far it goes on either ruler, in words
    live  : the one that the slider stands at
    """

    name: str
    lamp_k: float
    through_k: float | None
    told_k: str
    told_mired: str
    live: bool = False


@dataclass(frozen=True, slots=True)
class RulersChart:
    """The same sheet in front of several lamps.

    sheet : its name
    """

    title: str
    sheet: str
    slides: tuple[Slide, ...]

    def svg(self, *, ground: Ground = "paper", columns: int = 1) -> str:
        """The picture; with two columns the rulers stand beside each other."""
        greys, body = greys_of(ground), list[str]()
        left, right = MARGIN + 22.0, WIDTH - MARGIN - 22.0
        kelvins = Scale(0.0, COOLEST_K, left, right)
        mireds = Scale(0.0, 1e6 / WARMEST_K, left, right)
        foot = _ruler(body, self, kelvins, MARGIN, greys, is_kelvin=True)
        if columns == 1:
            foot = _ruler(body, self, mireds, foot + 18.0, greys, is_kelvin=False)
        else:
            beside = Scale(mireds.low, mireds.high, left + WIDTH, right + WIDTH)
            foot = max(foot, _ruler(body, self, beside, MARGIN, greys, is_kelvin=False))
        told = " ".join(f"{each.name}: {each.told_k}, {each.told_mired}." for each in self.slides)
        columns = min(columns, 2)
        return ended(body, (WIDTH * columns, foot), title=self.title, told=told, ground=ground)


def _ruler(
    body: list[str], chart: RulersChart, scale: Scale, top: float, greys: Greys, *, is_kelvin: bool
) -> float:
    """One ruler with the sheet laid on it once for each lamp. Returns where it ends."""
    left = scale.start - 22.0
    head = "In Kelvin: bluer to the right" if is_kelvin else "In mired: bluer to the left"
    foot = lines(body, head, (left, top), WIDTH - 2 * MARGIN, greys.ink, size=TYPE, bold=True)
    axis = foot + 12.0
    body.append(line((scale.start, axis), (scale.end, axis), greys.line, width=1.5))
    for value in _KELVINS if is_kelvin else _MIREDS:
        x = scale.at(value)
        body.append(line((x, axis - 5.0), (x, axis + 5.0), greys.line, width=1.5))
        body += words(
            [f"{value} K" if is_kelvin and value in (_KELVINS[0], _KELVINS[-1]) else f"{value}"],
            (x, axis + 5.0 + SMALL_TYPE),
            greys.soft,
            size=SMALL_TYPE,
            anchor="middle",
        )
    foot = axis + SMALL_TYPE + 14.0
    for each in chart.slides:
        foot = _slide(body, each, scale, foot, greys, is_kelvin=is_kelvin)
    return foot


def _slide(
    body: list[str], each: Slide, scale: Scale, top: float, greys: Greys, *, is_kelvin: bool
) -> float:
    """One lamp: a ring where it is bare, a dot where it is behind the sheet, the sheet between."""
    told = each.told_k if is_kelvin else each.told_mired
    left = scale.start - 22.0
    foot = lines(
        body,
        f"{each.name}: {told}",
        (left, top),
        WIDTH - 2 * MARGIN,
        greys.ink if each.live else greys.soft,
        bold=each.live,
    )
    y = foot + 12.0
    start = scale.clamped(each.lamp_k if is_kelvin else 1e6 / each.lamp_k)
    body.append(line((scale.start, y), (scale.end, y), greys.grid))
    end_value = (
        None if each.through_k is None else (each.through_k if is_kelvin else 1e6 / each.through_k)
    )
    beyond = end_value is None or not scale.holds(end_value)
    bluest = scale.end if is_kelvin else scale.start
    end = bluest if end_value is None else scale.clamped(end_value)
    height = 14.0 if each.live else 8.0
    if abs(end - start) > 0.5:
        body.append(
            element(
                "rect",
                x=min(start, end),
                y=y - height / 2,
                width=abs(end - start),
                height=height,
                fill=greys.soft if each.live else greys.band,
            )
        )
    body.append(dot((start, y), 6.0, fill=greys.ground, stroke=greys.ink, width=2.0))
    if beyond:
        towards = (1.0, 0.0) if end == scale.end else (-1.0, 0.0)
        tip = (end + 12.0 * towards[0], y)
        body.append(arrow(tip, towards, fill=greys.ink, stroke=greys.ink))
    else:
        body.append(dot((end, y), 6.0, fill=greys.ink, stroke=greys.ink))
    return y + 14.0
