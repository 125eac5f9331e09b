"""A chart as pages show it: on the ground of either theme, and the same as a table."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.handouts import charts


@dataclass(frozen=True)
class Chart:
    """A picture and the same as a table.

    svg, paper    : on dark grey and on white; the page shows the one of its theme
    told          : in words
    """

    svg: str
    paper: str
    told: str
    headers: list[str]
    rows: list[list[str]]


def drawn(chart: charts.Chart, *, width: float = 760.0) -> Chart:
    """A chart of the engine's.

    width : of the picture, px
    """
    table = charts.rows(chart)
    return Chart(
        charts.svg(chart, ground="screen", width=width),
        charts.svg(chart, ground="paper", width=width),
        charts.described(chart),
        list(table.headers),
        [list(each) for each in table.rows],
    )
