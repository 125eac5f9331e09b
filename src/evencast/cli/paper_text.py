"""What was written on paper, as text."""

from __future__ import annotations

from evencast.cli.plain import bullets, sentence
from evencast.cli.text import problem_line
from evencast.quantities import listed, many
from evencast.results.handout import HandoutAnswer


def handout(answer: HandoutAnswer) -> str:
    """The documents of a plan: which, where, and what they lack."""
    of = f" for {listed(answer.setups)}" if answer.setups else ""
    lines = [
        sentence(f"{answer.plan}, {answer.date}: {many(len(answer.files), 'file')}{of}."),
        "",
        *(f"  {each.what:<10} {each.file}" for each in answer.files),
    ]
    return "\n".join(
        lines + bullets("To look at", (problem_line(each) for each in answer.problems))
    )
