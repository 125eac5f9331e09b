"""Rows of lit patches: what a camera makes of them, one state beside another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from evencast.camera.patches import Patch
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.svg import element
from evencast.handouts.lessons.sheet import MARGIN, PAGE, WALL, WIDTH, Letters, ended, lines
from evencast.handouts.pictures import COMPUTED, drawn_patch

_PATCH, _INSIDE, _GAP, _BETWEEN = 66.0, 8.0, 4.0, 16.0
_FEW = 3
"""More groups than these in a row stand under smaller labels."""
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

    def svg(self, *, ground: Ground = "paper", wall: bool = False) -> str:
        """The picture: rows below each other; for a wall three and more in two columns, without
        what is told under their heads."""
        greys, body, foot = GREYS[ground], list[str](), MARGIN
        letters = WALL if wall else PAGE
        columns = 2 if wall and len(self.rows) > 2 else 1
        rows = [replace(each, told=[]) for each in self.rows] if wall else self.rows
        for start in range(0, len(rows), columns):
            across = rows[start : start + columns]
            foot = _across(body, across, foot, greys, letters) + _BETWEEN
        limited = any(
            patch.limited for row in self.rows for half in row.halves for patch in half.patches
        )
        foot_words = " ".join([self.key, COMPUTED, *([BEYOND] if limited else [])]).strip()
        width = WIDTH * columns
        foot = lines(
            body, foot_words, (MARGIN, foot - 4.0), width - 2 * MARGIN, greys.soft, size=PAGE.told
        )
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


def _across(
    body: list[str], rows: Sequence[PatchRow], top: float, greys: Greys, letters: Letters
) -> float:
    """Rows beside each other, their patches on one line. Returns where they end."""
    heads = []
    for place, row in enumerate(rows):
        left, room = WIDTH * place + MARGIN, WIDTH - 2 * MARGIN
        foot = lines(body, row.head, (left, top), room, greys.ink, size=letters.head, bold=True)
        for each in row.told:
            foot = lines(body, each, (left, foot), room, greys.soft, size=letters.told)
        heads.append(foot)
    top, field = max(heads) + 2.0, 0.0
    for place, row in enumerate(rows):
        for half, left, wide in _places(row.halves, WIDTH * place + MARGIN):
            field = max(field, _label(body, half, (left, top), wide, greys, letters, row))
    for place, row in enumerate(rows):
        _halves(body, row.halves, (WIDTH * place + MARGIN, field + 4.0), greys)
    return field + 4.0 + _PATCH + 2 * _INSIDE


def _places(halves: Sequence[Half], x: float) -> list[tuple[Half, float, float]]:
    """Groups of patches side by side: each with its left edge and its width."""
    room, apart = WIDTH - 2 * MARGIN, _INSIDE * 1.5
    wide = (room - 2 * _INSIDE - apart * (len(halves) - 1)) / len(halves)
    return [
        (half, x + _INSIDE + number * (wide + apart), wide) for number, half in enumerate(halves)
    ]


def _label(
    body: list[str],
    half: Half,
    at: tuple[float, float],
    wide: float,
    greys: Greys,
    letters: Letters,
    row: PatchRow,
) -> float:
    """What stands over a group. Returns where it ends."""
    many = len(row.halves) > _FEW
    fill = greys.soft if many and not half.marked else greys.ink
    size = PAGE.told - 2.0 if many else letters.told
    return lines(body, half.label, at, wide + _INSIDE, fill, size=size, bold=half.marked)


def _halves(body: list[str], halves: Sequence[Half], at: tuple[float, float], greys: Greys) -> None:
    """Groups of patches on one grey surround."""
    x, y = at
    room, height = WIDTH - 2 * MARGIN, _PATCH + 2 * _INSIDE
    body.append(element("rect", x=x, y=y, width=room, height=height, fill=greys.allowed))
    for half, left, wide in _places(halves, x):
        _patches(body, half, (left, y + _INSIDE), wide)
        if half.marked:
            foot = y + height - 5.0
            body.append(element("rect", x=left, y=foot, width=wide, height=3.0, fill=greys.ink))


def _patches(body: list[str], half: Half, at: tuple[float, float], wide: float) -> None:
    x, y = at
    each_wide = (wide - _GAP * (len(half.patches) - 1)) / len(half.patches)
    for number, patch in enumerate(half.patches):
        left = x + number * (each_wide + _GAP)
        body.append(drawn_patch(patch, (left, y), (each_wide, _PATCH)))
