"""What pictures of lessons share: their width, their type, and how they end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.ground import GREYS, Ground
from evencast.handouts.charts.letters import clean, fitted
from evencast.handouts.charts.svg import picture, words

WIDTH, MARGIN = 480.0, 14.0


@dataclass(frozen=True, slots=True)
class Letters:
    """Sizes of letters: of heads, and of all else. [px]"""

    head: float
    told: float


PAGE = Letters(16.0, 14.0)
"""12 and 10.5 px where the whole picture is 360 px wide, as on a phone."""
WALL = Letters(21.0, 18.0)
"""For a class: fewer words, larger letters."""


def line_px(size: float) -> float:
    """From one line of text to the next."""
    return size * 1.25


def lines(
    body: list[str],
    text: str,
    at: tuple[float, float],
    room: float,
    fill: str,
    *,
    size: float,
    bold: bool = False,
    anchor: str = "start",
) -> float:
    """A text in as many lines as it needs below a place. Returns where it ends."""
    x, top = at
    fit = fitted(clean(text), room / (1.06 if bold else 1.0), size, most_lines=12)
    for row, each in enumerate(fit.lines):
        place = (x, top + size + row * line_px(size))
        body += words([each], place, fill, size=size, bold=bold, anchor=anchor)
    return top + len(fit.lines) * line_px(size)


def ended(
    body: Sequence[str], size: tuple[float, float], *, title: str, told: str, ground: Ground
) -> str:
    """The whole picture.

    told : in words, for those who do not see it
    """
    width, foot = size
    return picture(
        width,
        foot + MARGIN,
        body,
        title=clean(title),
        described=clean(told),
        greys=GREYS[ground],
    )
