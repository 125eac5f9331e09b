"""Numbers and names beside their points, in a field that grows until all have room."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import SMALL, Panel
from evencast.handouts.charts.ground import Greys
from evencast.handouts.charts.letters import fitted, isolated, width_of
from evencast.handouts.charts.placing import Box, Mark, Segment, place
from evencast.handouts.charts.svg import LINE_PX, SIZE, line, words

MOST_NAMED = 12
"""Points that are named in the picture; more are numbered there and named below it."""
_NAME_PX, _NAME_LINES = 150.0, 2
_TALLER, _MOST_TRIES = 1.3, 12
_LINE = SMALL * LINE_PX / SIZE


@dataclass(frozen=True, slots=True)
class Named:
    """A point that is to be labelled.

    x, y   : where it lies, px
    radius : of its mark, px
    number : of its row
    name   : as the person wrote it; "" for the number alone
    told   : a value in words, where the point itself does not show it
    bold   : for one that stands out
    """

    x: float
    y: float
    radius: float
    number: int
    name: str
    told: str = ""
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Field:
    """What is to be labelled, and what is in the way.

    points : each gets its label
    avoid  : where nothing may be written
    lines  : what labels keep clear of where they can
    """

    points: Sequence[Named]
    avoid: Sequence[Box] = ()
    lines: Sequence[Segment] = ()


@dataclass(frozen=True, slots=True)
class Labelled:
    """A field with its labels.

    panel    : the field, as tall as it had to be
    elements : labels and leaders
    listed   : whether names are still to be told below, by number
    """

    panel: Panel
    elements: list[str]
    listed: bool


def labelled(
    panel_of: Callable[[float], Panel],
    field_of: Callable[[Panel], Field],
    *,
    height: float,
    greys: Greys,
) -> Labelled:
    """The field of least height in which every point has its label.

    panel_of : a field of some height, px
    field_of : what is to be labelled in it
    """
    for _ in range(_MOST_TRIES):
        panel = panel_of(height)
        field = field_of(panel)
        few = len({each.number for each in field.points}) <= MOST_NAMED
        for named in (True, False) if few else (False,):
            elements = _labels(field, panel.box, named=named, greys=greys)
            if elements is not None:
                return Labelled(panel, elements, listed=not named)
        height *= _TALLER
    raise ValueError(f"no room for {len(field.points)} labels")  # of thousands of points


def _labels(field: Field, within: Box, *, named: bool, greys: Greys) -> list[str] | None:
    points = field.points
    texts = [_text(each, named=named) for each in points]
    marks = [
        Mark(
            each.x,
            each.y,
            each.radius,
            max(width_of(text, SMALL, bold=each.bold) for text in lines) + 2.0,
            len(lines) * _LINE,
        )
        for each, (lines, _) in zip(points, texts, strict=True)
    ]
    places = place(marks, within=within, avoid=field.avoid, lines=field.lines)
    if places is None:
        return None
    parts = [line(*each.leader, greys.line) for each in places if each.leader]
    for point, placed, (lines, full) in zip(points, places, texts, strict=True):
        flush = placed.box.left >= point.x
        x = placed.box.left + 1.0 if flush else placed.box.right - 1.0
        at = (x, placed.box.top + _LINE - 4.0)
        anchor = "start" if flush else "end"
        parts += words(
            lines,
            at,
            greys.ink,
            size=SMALL,
            anchor=anchor,
            bold=point.bold,
            full=full,
            halo=greys.panel,
        )
    return parts


def _text(point: Named, *, named: bool) -> tuple[tuple[str, ...], str]:
    """The lines of a label, and the whole name where it was shortened."""
    told = fitted(point.told, _NAME_PX, SMALL, most_lines=3).lines if point.told else ()
    if not named or not point.name:
        return (str(point.number), *told), ""
    name = isolated(point.name)
    fit = fitted(name, _NAME_PX, SMALL, most_lines=_NAME_LINES)
    head, *rest = fit.lines
    return (f"{point.number} {head}", *rest, *told), name if fit.cut else ""
