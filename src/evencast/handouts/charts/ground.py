"""The greys of a chart, for paper, for a screen, and for a page that is shown in either.

Colour is judged against what surrounds it, so whatever is not data is an achromatic grey.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Literal

Ground = Literal["paper", "screen", "page"]
GROUNDS: tuple[Ground, ...] = ("paper", "screen", "page")


@dataclass(frozen=True, slots=True)
class Greys:
    """One grey for each use, as hex or as CSS has it.

    ground : behind everything
    panel  : behind the data
    grid   : lines at round values
    band   : areas of doubt
    allowed : areas of tolerance
    line   : axes, leaders
    soft   : words beside the data
    ink    : data, names, numbers
    """

    ground: str
    panel: str
    grid: str
    band: str
    allowed: str
    line: str
    soft: str
    ink: str


_PAPER = Greys(
    ground="#ffffff",
    panel="#fafafa",
    grid="#dddddd",
    band="#c9c9c9",
    allowed="#e6e6e6",
    line="#8a8a8a",
    soft="#555555",
    ink="#161616",
)
_SCREEN = Greys(
    ground="#202020",
    panel="#262626",
    grid="#3a3a3a",
    band="#5c5c5c",
    allowed="#383838",
    line="#8a8a8a",
    soft="#b8b8b8",
    ink="#ededed",
)
_PAGE = Greys(**{use: f"var(--chart-{use}, {grey})" for use, grey in asdict(_PAPER).items()})
"""A page says by custom properties which of the others it shows; without them it is paper."""

GREYS: dict[Ground, Greys] = {"paper": _PAPER, "screen": _SCREEN, "page": _PAGE}
