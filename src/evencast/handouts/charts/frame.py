"""The parts of a picture that are not data: title, axes, key, lists of names, notes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evencast.handouts.charts.ground import Greys
from evencast.handouts.charts.letters import fitted, width_of
from evencast.handouts.charts.placing import Box
from evencast.handouts.charts.scale import Scale
from evencast.handouts.charts.svg import LINE_PX, SIZE, Point, element, line, words

MARGIN = 16.0
SMALL = 12.0
SMALL_LINE_PX = SMALL * LINE_PX / SIZE
"""Height of a line of text of the small size."""
TITLE_SIZE = 15.0
NARROWEST, WIDEST = 480, 2400
_KEY_ROW, _SAMPLE = 20.0, 30.0

Sample = Callable[[Point], list[str]]
"""Draws a mark of the key about a point."""


@dataclass(frozen=True, slots=True)
class Part:
    """Elements that belong together, and where they end below. [px]"""

    elements: list[str]
    bottom: float


@dataclass(frozen=True, slots=True)
class Panel:
    """The area of the data.

    box  : its edges
    x, y : from values to places
    """

    box: Box
    x: Scale
    y: Scale

    def at(self, x: float, y: float) -> Point:
        """Where a pair of values lies, at the edge if beyond it."""
        return self.x.clamped(x), self.y.clamped(y)

    def beyond(self, x: float, y: float) -> Point | None:
        """Direction in which a pair of values lies outside; None inside."""
        away = float(self.x.beyond(x)), -float(self.y.beyond(y))
        return None if away == (0.0, 0.0) else away


def checked_width(width: float) -> float:
    """A picture's width.

    Raises  ValueError outside what a layout can do with
    """
    if not NARROWEST <= width <= WIDEST:
        raise ValueError(f"a chart is {NARROWEST} to {WIDEST} px wide, not {width}")
    return float(width)


def heading(title: str, width: float, greys: Greys, *, under: str = "") -> Part:
    """The title over the picture, and a line under it."""
    room = width - 2 * MARGIN
    fit = fitted(title, room / 1.05, TITLE_SIZE, most_lines=2)
    full = title if fit.cut else ""
    at = (MARGIN, MARGIN + 12.0)
    parts = words(fit.lines, at, greys.ink, size=TITLE_SIZE, bold=True, full=full)
    bottom = at[1] + (len(fit.lines) - 1) * TITLE_SIZE * LINE_PX / SIZE + 6.0
    if under:
        return paragraph(under, width, bottom + 2.0, greys, before=parts)
    return Part(parts, bottom)


def paragraph(
    text: str, width: float, top: float, greys: Greys, *, before: Sequence[str] = ()
) -> Part:
    """A text over the whole width, every word of it."""
    fit = fitted(text, width - 2 * MARGIN, SMALL, most_lines=200)
    parts = words(fit.lines, (MARGIN, top + 13.0), greys.soft, size=SMALL)
    return Part([*before, *parts], top + 13.0 + (len(fit.lines) - 1) * SMALL_LINE_PX + 5.0)


def key(entries: Sequence[tuple[Sample, str]], width: float, top: float, greys: Greys) -> Part:
    """What each mark stands for, in rows."""
    parts: list[str] = []
    x, y = MARGIN, top + _KEY_ROW / 2
    for sample, text in entries:
        room = width - 2 * MARGIN - _SAMPLE - 4.0
        shown = fitted(text, room, SMALL).lines[0]
        needs = _SAMPLE + 4.0 + width_of(shown, SMALL)
        if x > MARGIN and x + needs > width - MARGIN:
            x, y = MARGIN, y + _KEY_ROW
        parts += sample((x + _SAMPLE / 2, y))
        parts += words([shown], (x + _SAMPLE + 4.0, y + 4.0), greys.soft, size=SMALL)
        x += needs + 18.0
    return Part(parts, y + _KEY_ROW / 2 if entries else top)


def grid(
    panel: Panel,
    greys: Greys,
    *,
    across: Sequence[tuple[float, str]],
    up: Sequence[tuple[float, str]],
    strong: Sequence[float | None] = (None, None),
) -> list[str]:
    """The ground of the data, lines at round values, and what these are called.

    strong : the value across and the one up whose lines stand out
    """
    box = panel.box
    parts = [ground_of(box, greys)]
    for value, _ in across:
        x = panel.x.at(value)
        stroke = greys.line if value == strong[0] else greys.grid
        parts.append(line((x, box.top), (x, box.bottom), stroke))
    for value, _ in up:
        y = panel.y.at(value)
        stroke = greys.line if value == strong[1] else greys.grid
        parts.append(line((box.left, y), (box.right, y), stroke))
    below = [(panel.x.at(value), label) for value, label in across if label]
    parts += names_below(below, box.bottom + LINE_PX, about(box), greys)
    beside = [(panel.y.at(value), label) for value, label in up if label]
    return parts + names_beside(beside, box.left - 7.0, greys)


def ground_of(box: Box, greys: Greys) -> str:
    """What lies behind the data."""
    return element(
        "rect",
        x=box.left,
        y=box.top,
        width=box.right - box.left,
        height=box.bottom - box.top,
        fill=greys.panel,
    )


def names_below(
    names: Sequence[tuple[float, str]], foot: float, between: tuple[float, float], greys: Greys
) -> list[str]:
    """Names of values across, centred, moved in where they would leave their room; of names that
    would touch every second is told, every third, and so on."""
    placed = []
    for x, label in sorted(names):
        half = width_of(label, SMALL) / 2
        middle = max(min(x, between[1] - half), between[0] + half)
        placed.append((middle - half, middle, middle + half, label))
    return [
        part
        for _, middle, _, label in _apart(placed)
        for part in words([label], (middle, foot), greys.soft, size=SMALL, anchor="middle")
    ]


_Extent = tuple[float, float, float, str]
"""Start, middle and end of a name, and the name."""


def _apart(names: list[_Extent]) -> list[_Extent]:
    """Every name, or every second, or every third: what stands apart."""
    for stride in range(1, len(names)):
        chosen = names[::stride]
        if all(one[2] + 7.0 <= other[0] for one, other in pairwise(chosen)):
            return chosen
    return names[:1]


def about(box: Box) -> tuple[float, float]:
    """Where names of values across may stand: a little beyond the field they belong to."""
    return box.left - MARGIN, box.right + MARGIN - 2.0


def room_beside(labels: Sequence[str]) -> float:
    """Left of a field, what names of values up need. [px]"""
    return MARGIN + max(width_of(label, SMALL) for label in labels) + 7.0


def names_beside(names: Sequence[tuple[float, str]], right: float, greys: Greys) -> list[str]:
    """Names of values up, to the left of their lines, thinned out likewise."""
    placed = [(y - 4.0, y, y + 4.0, label) for y, label in sorted(names)]
    return [
        part
        for _, y, _, label in _apart(placed)
        for part in words([label], (right, y + 4.0), greys.soft, size=SMALL, anchor="end")
    ]


@dataclass(frozen=True, slots=True)
class Entry:
    """One name of a list.

    number : of its row
    name   : cleaned
    told   : what is to be known of it, on a line of its own
    """

    number: int
    name: str
    told: str = ""


def listing(
    entries: Sequence[Entry], width: float, top: float, greys: Greys, *, wide: float = 215.0
) -> Part:
    """Names by number, in as many columns as fit, down and then across.

    wide : of one column at least, px
    """
    if not entries:
        return Part([], top)
    columns = max(1, min(len(entries), int((width - 2 * MARGIN) // wide)))
    column = (width - 2 * MARGIN) / columns
    margin = max(width_of(str(each.number), SMALL, bold=True) for each in entries) + 8.0
    share = -(-len(entries) // columns)
    parts: list[str] = []
    bottom = top
    for start in range(0, len(entries), share):
        x, y = MARGIN + column * (start // share), top + 13.0
        for each in entries[start : start + share]:
            told, y = _entry(each, (x + margin, y), column - margin - 12.0, greys)
            parts += told
        bottom = max(bottom, y)
    return Part(parts, bottom - 6.0)


def footed(
    part: Part,
    width: float,
    greys: Greys,
    *,
    entries: Sequence[Entry] = (),
    texts: Sequence[str] = (),
) -> Part:
    """A part with names by number below it, then sentences below these.

    entries : none where the picture names all itself
    """
    names = listing(entries, width, part.bottom + 4.0, greys) if entries else Part([], part.bottom)
    found = Part([*part.elements, *names.elements], names.bottom)
    for text in texts:
        found = paragraph(text, width, found.bottom, greys, before=found.elements)
    return found


def _entry(each: Entry, at: Point, room: float, greys: Greys) -> tuple[list[str], float]:
    """One entry, and the foot of the next."""
    x, y = at
    fit = fitted(each.name, room, SMALL, most_lines=2)
    told = fitted(each.told, room, SMALL) if each.told else None
    number = str(each.number)
    parts = words([number], (x - 8.0, y), greys.ink, size=SMALL, anchor="end", bold=True)
    full = each.name if fit.cut else ""
    parts += words(fit.lines, at, greys.ink, size=SMALL, full=full)
    y += len(fit.lines) * SMALL_LINE_PX
    if told is not None:
        full = each.told if told.cut else ""
        parts += words(told.lines, (x, y), greys.soft, size=SMALL, full=full)
        y += SMALL_LINE_PX
    return parts, y + 2.0


def clipped(points: Sequence[Point], box: Box) -> list[list[Point]]:
    """The pieces of a line through points that lie inside a box."""
    pieces: list[list[Point]] = []
    for start, end in pairwise(points):
        cut = _cut(start, end, box)
        if cut is None:
            continue
        if pieces and pieces[-1][-1] == cut[0]:
            pieces[-1].append(cut[1])
        else:
            pieces.append(list(cut))
    return pieces


def _cut(start: Point, end: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a straight line inside a box. Source: Liang and Barsky (1984)."""
    (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
    low, high = 0.0, 1.0
    for away, room in (
        (-dx, x - box.left),
        (dx, box.right - x),
        (-dy, y - box.top),
        (dy, box.bottom - y),
    ):
        if away == 0:
            if room < 0:
                return None
            continue
        share = room / away
        low, high = (max(low, share), high) if away < 0 else (low, min(high, share))
    if low > high:
        return None
    first = start if low == 0.0 else (x + dx * low, y + dy * low)
    last = end if high == 1.0 else (x + dx * high, y + dy * high)
    return first, last
