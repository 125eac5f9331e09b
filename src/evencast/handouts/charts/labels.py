"""Numbers and names beside their points, in a field that grows until all have room."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import SMALL, SMALL_LINE_PX, Panel
from evencast.handouts.charts.ground import Greys
from evencast.handouts.charts.letters import fitted, isolated, width_of
from evencast.handouts.charts.placing import Box, Mark, Placed, Segment, place
from evencast.handouts.charts.svg import line, words

MOST_NAMED = 12
"""Points that are named in the picture; more are numbered there and named below it."""
_NAME_PX, _NAME_LINES = 150.0, 2
MOST_LED = 60
"""Points whose numbers may be led far from them by a line; of more, those that find no room near
by go without and are found by their place in the list."""
_REACH_PX = 45.0
_TALLER, _MOST_TRIES = 1.3, 12


@dataclass(frozen=True, slots=True)
class Named:
    """A point that is to be labelled.

    x, y   : where it lies, px
    radius : of its mark, px
    number : of its row
    name   : as the person wrote it; "" for the number alone
    told   : a value in words, where the point itself does not show it, a part to a line
    bold   : for one that stands out
    """

    x: float
    y: float
    radius: float
    number: int
    name: str
    told: tuple[str, ...] = ()
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
    unlabelled : how many points go without a number
    """

    panel: Panel
    elements: list[str]
    listed: bool
    unlabelled: int


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
        many = len(field.points) > MOST_LED
        for named in _ways(field):
            labels = _Labels(
                field, panel.box, named=named, reach_px=_REACH_PX if many else math.inf
            )
            if many or labels.lacking == 0:
                return Labelled(panel, labels.elements(greys), not named, labels.lacking)
        height *= _TALLER
    raise ValueError(f"no room for {len(field.points)} labels")


def _ways(field: Field) -> tuple[bool, ...]:
    """With names and else with numbers where points are few; with numbers where they are many."""
    few = len({each.number for each in field.points}) <= MOST_NAMED
    return (True, False) if few else (False,)


class _Labels:
    """The labels of a field and their places."""

    def __init__(self, field: Field, within: Box, *, named: bool, reach_px: float) -> None:
        self.points = field.points
        self.texts = [_text(each, named=named) for each in field.points]
        self.places = place(
            [_mark(each, lines) for each, (lines, _) in zip(self.points, self.texts, strict=True)],
            within=within,
            avoid=field.avoid,
            lines=field.lines,
            reach_px=reach_px,
        )

    @property
    def lacking(self) -> int:
        """How many found no place."""
        return sum(each is None for each in self.places)

    def elements(self, greys: Greys) -> list[str]:
        """Lines from points to their labels, then the labels."""
        found = [each for each in self.places if each is not None]
        parts = [line(*each.leader, greys.line) for each in found if each.leader]
        for point, placed, text in zip(self.points, self.places, self.texts, strict=True):
            if placed is not None:
                parts += _label(point, placed, text, greys)
        return parts


_Text = tuple[tuple[str, ...], str]
"""The lines of a label, and the whole name where it was shortened."""


def _mark(point: Named, lines: Sequence[str]) -> Mark:
    width = max(width_of(text, SMALL, bold=point.bold) for text in lines) + 2.0
    return Mark(point.x, point.y, point.radius, width, len(lines) * SMALL_LINE_PX)


def _label(point: Named, placed: Placed, text: _Text, greys: Greys) -> list[str]:
    """A label, its lines flush on the side of its point."""
    lines, full = text
    flush = placed.box.left >= point.x
    x = placed.box.left + 1.0 if flush else placed.box.right - 1.0
    return words(
        lines,
        (x, placed.box.top + SMALL_LINE_PX - 4.0),
        greys.ink,
        size=SMALL,
        anchor="start" if flush else "end",
        bold=point.bold,
        full=full,
        halo=greys.panel,
    )


def _text(point: Named, *, named: bool) -> _Text:
    if not named or not point.name:
        return (str(point.number), *point.told), ""
    name = isolated(point.name)
    fit = fitted(name, _NAME_PX, SMALL, most_lines=_NAME_LINES)
    head, *rest = fit.lines
    return (f"{point.number} {head}", *rest, *point.told), name if fit.cut else ""
