"""The marks of lights, the same in every chart, and how the key shows them."""

from __future__ import annotations

from typing import Literal

from evencast.handouts.charts.frame import Sample
from evencast.handouts.charts.ground import Greys
from evencast.handouts.charts.svg import Point, arrow, data_fill, dot, element, line, path

RING_PX, DOT_PX, ARROW_PX = 5.5, 5.0, 12.0
"""Half the size of an open mark, of a filled one, and of an arrow at the edge."""


def light_mark(
    place: Point, colour: str, greys: Greys, *, bare: bool, away: Point | None = None
) -> str:
    """A light: open where it is bare, filled as it hangs, an arrow where it is outside.

    away : the direction in which it lies outside the field; None inside
    """
    fill = data_fill(colour)
    if away is not None:
        return arrow(place, away, fill=fill, stroke=greys.ink)
    if not bare:
        return dot(place, DOT_PX, fill=fill, stroke=greys.ink)
    x, y = place
    edge = dot(place, RING_PX, fill=greys.panel, stroke=greys.ink, width=4.0)
    return edge + element(
        "circle", cx=x, cy=y, r=RING_PX, fill="none", stroke=fill, stroke_width=2.0
    )


def cross(place: Point, stroke: str, *, width: float = 1.0, half: float = 8.0) -> list[str]:
    """An upright cross."""
    x, y = place
    return [
        line((x - half, y), (x + half, y), stroke, width=width),
        line((x, y - half), (x, y + half), stroke, width=width),
    ]


def bare_sample(greys: Greys) -> Sample:
    """An open mark."""
    return lambda at: [dot(at, RING_PX, fill=greys.panel, stroke=greys.ink)]


def hung_sample(greys: Greys) -> Sample:
    """A filled mark."""
    return lambda at: [dot(at, DOT_PX, fill=greys.line, stroke=greys.ink)]


def cross_sample(stroke: str, *, width: float = 1.0) -> Sample:
    """A cross."""
    return lambda at: cross(at, stroke, width=width)


def outline_sample(stroke: str, dash: str) -> Sample:
    """An outlined box."""
    return lambda at: [path(_corners(at), stroke=stroke, dash=dash, closed=True)]


def area_sample(fill: str) -> Sample:
    """A filled box."""
    return lambda at: [path(_corners(at), fill=fill, closed=True)]


def stroke_sample(stroke: str, dash: str = "") -> Sample:
    """A line."""
    return lambda at: [
        line((at[0] - 13.0, at[1]), (at[0] + 13.0, at[1]), stroke, width=1.5, dash=dash)
    ]


def _corners(at: Point) -> list[Point]:
    x, y = at
    return [(x - 12, y - 6), (x + 12, y - 6), (x + 12, y + 6), (x - 12, y + 6)]


Shape = Literal["round", "diamond", "square", "up", "down"]

SHAPES: dict[str, Shape] = {
    "correction": "round",
    "green": "diamond",
    "ND": "square",
    "diffusion": "up",
    "effect": "down",
}
"""The shape of a filter's mark by its role."""

_CORNERS: dict[Shape, tuple[Point, ...]] = {
    "diamond": ((0.0, -1.3), (1.3, 0.0), (0.0, 1.3), (-1.3, 0.0)),
    "square": ((-0.95, -0.95), (0.95, -0.95), (0.95, 0.95), (-0.95, 0.95)),
    "up": ((0.0, -1.3), (1.2, 0.9), (-1.2, 0.9)),
    "down": ((0.0, 1.3), (1.2, -0.9), (-1.2, -0.9)),
}


def shape(place: Point, form: Shape, radius: float, *, fill: str, stroke: str) -> str:
    """A mark told by its shape."""
    if form == "round":
        return dot(place, radius, fill=fill, stroke=stroke, width=1.3)
    x, y = place
    corners = [(x + right * radius, y + down * radius) for right, down in _CORNERS[form]]
    return path(corners, fill=fill, stroke=stroke, width=1.3, closed=True)


def shape_sample(form: Shape, greys: Greys) -> Sample:
    """A mark told by its shape."""
    return lambda at: [shape(at, form, 5.0, fill=greys.grid, stroke=greys.ink)]
