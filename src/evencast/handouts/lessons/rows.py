"""Rows of lit patches: what a camera makes of them, one state beside another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.camera.patches import Patch
from evencast.handouts.charts.ground import Greys, Ground
from evencast.handouts.charts.svg import element
from evencast.handouts.lessons.sheet import (
    COMPUTED,
    MARGIN,
    SMALL_TYPE,
    TYPE,
    WIDTH,
    ended,
    greys_of,
    line_px,
    lines,
)
from evencast.handouts.pictures import drawn_patch

_PATCH, _INSIDE, _GAP, _BETWEEN = 66.0, 8.0, 4.0, 16.0
BEYOND = "Corner cut: beyond what this display shows."


@dataclass(frozen=True, slots=True)
class Half:
    """Patches that belong together under one label."""

    label: str
    patches: Sequence[Patch]
    marked: bool = False


@dataclass(frozen=True, slots=True)
class PatchRow:
    """One row.

    head   : over it
    told   : sentences under the head
    halves : from left to right; labels stand over the patches
    """

    head: str
    told: Sequence[str]
    halves: Sequence[Half]


@dataclass(frozen=True, slots=True)
class PatchRows:
    """Rows of patches under one title, which is told but not drawn.

    key : what the patches of a row are, from left to right
    """

    title: str
    rows: Sequence[PatchRow]
    key: str = "In each: grey, light skin, dark skin."

    def svg(self, *, ground: Ground = "paper", columns: int = 1) -> str:
        """The picture, its rows in so many columns, filled across."""
        greys, body, foot = greys_of(ground), list[str](), MARGIN
        for start in range(0, len(self.rows), columns):
            across = self.rows[start : start + columns]
            foot = _across(body, across, foot, greys) + _BETWEEN
        limited = any(
            patch.limited for row in self.rows for half in row.halves for patch in half.patches
        )
        foot_words = " ".join([self.key, COMPUTED, *([BEYOND] if limited else [])])
        width = WIDTH * columns
        foot = lines(body, foot_words, (MARGIN, foot - 4.0), width - 2 * MARGIN, greys.soft)
        return ended(body, (width, foot), title=self.title, told=self._told(), ground=ground)

    def _told(self) -> str:
        said = []
        for row in self.rows:
            said += [f"{row.head}.", *(f"{each}." for each in row.told)]
            said += [
                f"{half.label}: {', '.join(f'{each.name} {each.hex}' for each in half.patches)}."
                for half in row.halves
            ]
        return " ".join([*said, COMPUTED])


def _across(body: list[str], rows: Sequence[PatchRow], top: float, greys: Greys) -> float:
    """Rows beside each other, their patches on one line. Returns where they end."""
    heads = []
    for place, row in enumerate(rows):
        left, room = WIDTH * place + MARGIN, WIDTH - 2 * MARGIN
        foot = lines(body, row.head, (left, top), room, greys.ink, size=TYPE, bold=True)
        for each in row.told:
            foot = lines(body, each, (left, foot), room, greys.soft)
        heads.append(foot)
    foot = max(heads) + 2.0
    for place, row in enumerate(rows):
        _halves(body, row.halves, (WIDTH * place + MARGIN, foot), greys)
    return foot + line_px(SMALL_TYPE) + 4.0 + _PATCH + 2 * _INSIDE


def _halves(body: list[str], halves: Sequence[Half], at: tuple[float, float], greys: Greys) -> None:
    """Groups of patches on one grey surround, each under its label."""
    x, top = at
    room = WIDTH - 2 * MARGIN
    field = top + line_px(SMALL_TYPE) + 4.0
    height = _PATCH + 2 * _INSIDE
    body.append(element("rect", x=x, y=field, width=room, height=height, fill=greys.allowed))
    apart = _INSIDE * 1.5
    wide = (room - 2 * _INSIDE - apart * (len(halves) - 1)) / len(halves)
    for number, half in enumerate(halves):
        left = x + _INSIDE + number * (wide + apart)
        fill = greys.ink if half.marked or len(halves) < 3 else greys.soft
        size = SMALL_TYPE if len(halves) < 5 else SMALL_TYPE - 2.0
        lines(body, half.label, (left, top), wide + apart, fill, size=size, bold=half.marked)
        _patches(body, half, (left, field + _INSIDE), wide)
        if half.marked:
            body.append(
                element(
                    "rect", x=left, y=field + height - 5.0, width=wide, height=3.0, fill=greys.ink
                )
            )


def _patches(body: list[str], half: Half, at: tuple[float, float], wide: float) -> None:
    x, y = at
    each_wide = (wide - _GAP * (len(half.patches) - 1)) / len(half.patches)
    for number, patch in enumerate(half.patches):
        left = x + number * (each_wide + _GAP)
        body.append(drawn_patch(patch, (left, y), (each_wide, _PATCH)))
