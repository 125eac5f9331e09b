"""Charts in SVG, made from numbers: one style, for paper and for a screen.

A chart is a frozen dataclass of numbers; `svg` draws it, `rows` tells it as a table and
`described` in sentences, for those who do not see it.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from evencast.handouts.charts import colours, ladder, lights, losses, moves, residuals, spectra
from evencast.handouts.charts.colours import ColoursChart
from evencast.handouts.charts.ground import GROUNDS, Ground
from evencast.handouts.charts.ladder import LadderChart
from evencast.handouts.charts.losses import LossesChart
from evencast.handouts.charts.moves import LightsChart
from evencast.handouts.charts.residuals import ResidualsChart
from evencast.handouts.charts.spectra import SpectraChart
from evencast.handouts.charts.values import Table
from evencast.handouts.text import code_point, has_shape

Chart = ColoursChart | LadderChart | LightsChart | LossesChart | ResidualsChart | SpectraChart

_Parts = tuple[Callable[..., str], Callable[..., Table], Callable[..., str]]
"""How a chart is drawn, told as a table, and told in sentences."""

_PARTS: dict[type, _Parts] = {
    ColoursChart: (colours.svg, colours.rows, colours.described),
    LadderChart: (ladder.svg, ladder.rows, ladder.described),
    LightsChart: (lights.svg, moves.rows, moves.described),
    LossesChart: (losses.svg, losses.rows, losses.described),
    ResidualsChart: (residuals.svg, residuals.rows, residuals.described),
    SpectraChart: (spectra.svg, spectra.rows, spectra.described),
}


def svg(chart: Chart, *, ground: Ground = "paper", width: float = 760.0) -> str:
    """A chart as a picture in SVG.

    ground : light for paper, dark for a screen, or as the page is that shows it
    width  : px, 480 to 2400; its height follows from what it holds
    """
    draw, _, _ = _PARTS[type(chart)]
    return draw(with_shapes(chart) if ground == "paper" else chart, ground=ground, width=width)


_Said = TypeVar("_Said")


def with_shapes(said: _Said) -> _Said:
    """A chart, or anything in one, with a code point, "[U+1F3AC]", for each character that no font
    for paper has."""
    found: Any = said
    if isinstance(said, str):
        found = said if said.isascii() else "".join(_shape(each) for each in said)
    elif isinstance(said, tuple) and said and not isinstance(said[0], float):
        found = tuple(with_shapes(each) for each in said)
    elif is_dataclass(said) and not isinstance(said, type):
        found = replace(
            said, **{each.name: with_shapes(getattr(said, each.name)) for each in fields(said)}
        )
    return found  # type: ignore[no-any-return]


def _shape(character: str) -> str:
    steers = unicodedata.category(character) in ("Cc", "Cf", "Cs")
    return character if steers or has_shape(character) else code_point(character)


def rows(chart: Chart) -> Table:
    """A chart as a table."""
    _, table, _ = _PARTS[type(chart)]
    return table(chart)


def described(chart: Chart) -> str:
    """A chart in sentences."""
    _, _, say = _PARTS[type(chart)]
    return say(chart)


__all__ = [
    "GROUNDS",
    "Chart",
    "ColoursChart",
    "Ground",
    "LadderChart",
    "LightsChart",
    "LossesChart",
    "ResidualsChart",
    "SpectraChart",
    "Table",
    "described",
    "rows",
    "svg",
    "with_shapes",
]
