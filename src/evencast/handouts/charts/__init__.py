"""Charts in SVG, made from numbers: one style, for paper and for a screen.

A chart is a frozen dataclass of numbers; `svg` draws it, `rows` tells it as a table and
`described` in sentences, for those who do not see it.
"""

from __future__ import annotations

from collections.abc import Callable

from evencast.handouts.charts import colours, ladder, lights, losses, moves, residuals, spectra
from evencast.handouts.charts.colours import ColoursChart
from evencast.handouts.charts.ground import GROUNDS, Ground
from evencast.handouts.charts.ladder import LadderChart
from evencast.handouts.charts.losses import LossesChart
from evencast.handouts.charts.moves import LightsChart
from evencast.handouts.charts.residuals import ResidualsChart
from evencast.handouts.charts.spectra import SpectraChart
from evencast.handouts.charts.values import Table

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

    ground : light for paper, dark for a screen
    width  : px, 480 to 2400; its height follows from what it holds
    """
    draw, _, _ = _PARTS[type(chart)]
    return draw(chart, ground=ground, width=width)


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
]
