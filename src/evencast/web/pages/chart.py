"""A chart as pages show it: on the ground of their theme, and the same as a table."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.handouts import charts


@dataclass(frozen=True)
class Chart:
    """A picture and the same as a table.

    told : in words
    """

    svg: str
    told: str
    headers: list[str]
    rows: list[list[str]]


def drawn(chart: charts.Chart, *, width: float = 760.0) -> Chart:
    """A chart of the engine's.

    width : of the picture, px
    """
    table = charts.rows(chart)
    return Chart(
        charts.svg(chart, ground="page", width=width),
        charts.described(chart),
        list(table.headers),
        [list(each) for each in table.rows],
    )
