"""The greys of a chart, for paper and for a screen.

Colour is judged against what surrounds it, so whatever is not data is an achromatic grey.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Ground = Literal["paper", "screen"]
GROUNDS: tuple[Ground, ...] = ("paper", "screen")


@dataclass(frozen=True, slots=True)
class Greys:
    """One grey for each use, as hex.

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


GREYS: dict[Ground, Greys] = {
    "paper": Greys(
        ground="#ffffff",
        panel="#fafafa",
        grid="#dddddd",
        band="#c9c9c9",
        allowed="#e6e6e6",
        line="#8a8a8a",
        soft="#555555",
        ink="#161616",
    ),
    "screen": Greys(
        ground="#202020",
        panel="#262626",
        grid="#3a3a3a",
        band="#5c5c5c",
        allowed="#383838",
        line="#8a8a8a",
        soft="#b8b8b8",
        ink="#ededed",
    ),
}
