"""A chart as text: its title, then the same numbers as a table."""

from __future__ import annotations

from evencast.cli.plain import bullets, sentence, written
from evencast.cli.text import problem_line, table
from evencast.results.charts import ChartAnswer


def chart(answer: ChartAnswer) -> str:
    """A chart told."""
    lines = [sentence(f"{answer.chart.title}."), table(answer.headers, answer.rows).rstrip()]
    lines += bullets("Know", answer.notes) + bullets("Mind", answer.cautions)
    lines += bullets("To look at", (problem_line(each) for each in answer.problems))
    return "\n".join(lines + written(answer.written_to))
