"""What is told of a chart: its numbers, the same as a table, and where it was drawn."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.handouts.charts import Chart


@dataclass(frozen=True)
class ChartAnswer:
    """`look plan`, `look spectra`, `look kit`, `look colours`.

    drawn      : what kind of chart
    chart      : its numbers; every offset with the sign of the quantity
    headers, rows : the same in words, as a table
    notes      : what to know beside the numbers
    problems   : of plan and kit
    written_to : the file it was drawn to; None if none was asked for
    """

    drawn: str
    chart: Chart
    headers: list[str]
    rows: list[list[str]]
    notes: list[str]
    cautions: list[str]
    problems: list[Problem]
    written_to: str | None
