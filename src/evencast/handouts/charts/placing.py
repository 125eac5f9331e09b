"""Labels beside their marks, none over another, none outside the picture.

Each label takes the nearest free place round its mark; where none is free near by it goes
further out and is joined to the mark by a line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast.handouts.charts.svg import Point
from evencast.quantities import Floats

_RINGS = np.array([4.0, 10.0, 18.0, 28.0, 40.0, 56.0, 76.0, 100.0, 130.0, 170.0])[:, None, None]
"""Distances at which labels are tried. [px]"""
_TURNS = np.radians([0, 180, 90, 270, *range(30, 360, 30)])
"""Right, left, above, below, then what lies between."""
_TURNED = np.stack([np.cos(_TURNS), -np.sin(_TURNS)], axis=-1)
_LEADER_FROM_PX = 9.0
_CROSSES, _OVER_DATA = 400.0, 25.0
_ON_ONE_LINE = 0.2
"""How much a label is worth that stands level with its mark, per px."""
_LOOKED_AT = 120
"""Free places that are compared, nearest first."""


Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle. [px]"""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Whether they share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def holds(self, other: Box) -> bool:
        """Whether the other lies inside."""
        across = self.left <= other.left and other.right <= self.right
        return across and self.top <= other.top and other.bottom <= self.bottom


@dataclass(frozen=True, slots=True)
class Mark:
    """What a label belongs to.

    x, y   : its middle
    radius : within which nothing else is written
    width, height : of the label
    """

    x: float
    y: float
    radius: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Placed:
    """A label's place; `leader` joins it to its mark, None where it stands beside it."""

    box: Box
    leader: Segment | None


def place(
    marks: Sequence[Mark],
    *,
    within: Box,
    avoid: Sequence[Box] = (),
    lines: Sequence[Segment] = (),
    reach_px: float = math.inf,
) -> list[Placed | None]:
    """A place for the label of each mark; None for one that finds none.

    within   : what no label leaves
    avoid    : where nothing is written
    lines    : what a label keeps clear of where it can
    reach_px : how far from its mark a label may stand
    """
    field = _Field(within, marks, avoid, lines, reach_px)
    found: list[Placed | None] = [None] * len(marks)
    for number in _crowded_last(marks):
        found[number] = field.placed(marks[number])
    return found


def _crowded_last(marks: Sequence[Mark]) -> list[int]:
    """Marks that stand alone first: what is in their way is least."""
    if not marks:
        return []
    at = np.array([(each.x, each.y) for each in marks])
    apart = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1))
    neighbours = (apart < 60.0).sum(axis=1)
    return sorted(range(len(marks)), key=lambda number: (int(neighbours[number]), number))


class _Field:
    """Where labels may still go."""

    def __init__(
        self,
        within: Box,
        marks: Sequence[Mark],
        avoid: Sequence[Box],
        lines: Sequence[Segment],
        reach_px: float,
    ) -> None:
        self.within, self.reach_px = within, reach_px
        self.lines = np.array([(*one, *other) for one, other in lines]).reshape(-1, 4)
        dots = [
            (each.x - each.radius, each.y - each.radius, each.x + each.radius, each.y + each.radius)
            for each in marks
        ]
        fixed = [(each.left, each.top, each.right, each.bottom) for each in avoid]
        self.taken = np.array([*dots, *fixed], dtype=float).reshape(-1, 4)
        self.labels_from = len(self.taken)
        self.leaders = np.empty((0, 4))

    def placed(self, mark: Mark) -> Placed | None:
        """The best place for one label, which is then taken."""
        for boxes in (_around(mark), self._everywhere(mark)):
            near = boxes[_distance(mark, boxes) <= self.reach_px]
            free = near[self._is_free(near)]
            if len(free):
                order = np.argsort(_distance(mark, free), kind="stable")[:_LOOKED_AT]
                return self._take(mark, free[order])
        return None

    def _is_free(self, boxes: Floats) -> Floats:
        inside = (
            (boxes[:, 0] >= self.within.left)
            & (boxes[:, 1] >= self.within.top)
            & (boxes[:, 2] <= self.within.right)
            & (boxes[:, 3] <= self.within.bottom)
        )
        return np.asarray(inside & ~_overlaps(boxes, self.taken).any(axis=1))

    def _take(self, mark: Mark, free: Floats) -> Placed:
        away = _distance(mark, free)
        level = np.abs((free[:, 1] + free[:, 3]) / 2 - mark.y)
        cost = away + _ON_ONE_LINE * level
        leaders = _leaders(mark, free)
        far = away > _LEADER_FROM_PX
        labels = self.taken[self.labels_from :]
        crossed = _crosses(leaders, labels).sum(axis=1) * far
        over = _crosses(self.leaders, free).sum(axis=0)
        met = _meet(leaders, self.leaders).sum(axis=1) * far
        drawn = _crosses(self.lines, free).sum(axis=0)
        best = int(np.argmin(cost + _CROSSES * (crossed + over + met) + _OVER_DATA * drawn))
        box, leader = free[best], leaders[best]
        self.taken = np.vstack([self.taken, box])
        placed = Box(*(float(each) for each in box))
        if not far[best]:
            return Placed(placed, None)
        self.leaders = np.vstack([self.leaders, leader])
        x1, y1, x2, y2 = (float(each) for each in leader)
        return Placed(placed, ((x1, y1), (x2, y2)))

    def _everywhere(self, mark: Mark) -> Floats:
        """Places in rows and columns over the whole field."""
        x = np.arange(self.within.left, self.within.right - mark.width + 1e-9, mark.width / 2)
        y = np.arange(self.within.top, self.within.bottom - mark.height + 1e-9, mark.height / 2)
        left, top = (each.ravel() for each in np.meshgrid(x, y))
        return np.stack([left, top, left + mark.width, top + mark.height], axis=-1)


def _around(mark: Mark) -> Floats:
    """Places round a mark, near ones first. [(n, 4)]"""
    size = np.array([mark.width, mark.height])
    out = _TURNED * (mark.radius + _RINGS + size / 2)
    corner = (np.array([mark.x, mark.y]) + out - size / 2).reshape(-1, 2)
    return np.concatenate([corner, corner + size], axis=1)


def _overlaps(boxes: Floats, others: Floats) -> Floats:
    """Whether each of some boxes shares room with each of others. [(n, 4), (m, 4) to (n, m)]"""
    one, other = boxes[:, None], others[None]
    across = (one[..., 0] < other[..., 2]) & (other[..., 0] < one[..., 2])
    return np.asarray(across & (one[..., 1] < other[..., 3]) & (other[..., 1] < one[..., 3]))


def _nearest(mark: Mark, boxes: Floats) -> tuple[Floats, Floats]:
    """The point of each box that is next to the mark."""
    return np.clip(mark.x, boxes[:, 0], boxes[:, 2]), np.clip(mark.y, boxes[:, 1], boxes[:, 3])


def _distance(mark: Mark, boxes: Floats) -> Floats:
    x, y = _nearest(mark, boxes)
    return np.asarray(np.hypot(x - mark.x, y - mark.y) - mark.radius)


def _leaders(mark: Mark, boxes: Floats) -> Floats:
    """A line from the edge of the mark to each box. [(n, 4)]"""
    x, y = _nearest(mark, boxes)
    away = np.maximum(np.hypot(x - mark.x, y - mark.y), 1e-9)
    share = np.minimum(mark.radius / away, 1.0)
    start_x, start_y = mark.x + (x - mark.x) * share, mark.y + (y - mark.y) * share
    return np.stack([start_x, start_y, x, y], axis=-1)


def _crosses(lines: Floats, boxes: Floats) -> Floats:
    """Whether each line runs through each box. [(n, 4), (m, 4) to (n, m)]"""
    if not len(lines) or not len(boxes):
        return np.zeros((len(lines), len(boxes)), dtype=bool)
    share = np.linspace(0.0, 1.0, 24)[:, None, None]
    x = lines[None, :, 0, None] + share * (lines[:, 2] - lines[:, 0])[None, :, None]
    y = lines[None, :, 1, None] + share * (lines[:, 3] - lines[:, 1])[None, :, None]
    inside = (x > boxes[:, 0]) & (x < boxes[:, 2]) & (y > boxes[:, 1]) & (y < boxes[:, 3])
    return np.asarray(inside.any(axis=0))


def _meet(lines: Floats, others: Floats) -> Floats:
    """Whether each line crosses each other line. [(n, 4), (m, 4) to (n, m)]"""
    if not len(lines) or not len(others):
        return np.zeros((len(lines), len(others)), dtype=bool)
    one, other = lines[:, None], others[None]
    apart = _side(one, other[..., 0], other[..., 1]) * _side(one, other[..., 2], other[..., 3]) < 0
    back = _side(other, one[..., 0], one[..., 1]) * _side(other, one[..., 2], one[..., 3]) < 0
    return np.asarray(apart & back)


def _side(lines: Floats, x: Floats, y: Floats) -> Floats:
    """On which side of each line a point lies."""
    dx, dy = lines[..., 2] - lines[..., 0], lines[..., 3] - lines[..., 1]
    return np.asarray(dx * (y - lines[..., 1]) - dy * (x - lines[..., 0]))
