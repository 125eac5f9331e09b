"""The quick sums of the set as text: exposure, ratio and load."""

from __future__ import annotations

from evencast.actions.quick_words import (
    cures_told,
    expose_told,
    load_told,
    ratio_told,
    split_told,
)
from evencast.cli.plain import bullets, told
from evencast.results.expose import ExposeAnswer, LoadAnswer, RatioAnswer


def expose(answer: ExposeAnswer) -> str:
    """The stop at the subject."""
    lines = told(expose_told(answer)) + bullets("To get there", cures_told(answer))
    return "\n".join(lines + bullets("Know", answer.notes) + bullets("Mind", answer.cautions))


def ratio(answer: RatioAnswer) -> str:
    """Both definitions, or both fills."""
    return "\n".join(told(ratio_told(answer)) + bullets("Know", answer.notes))


def load(answer: LoadAnswer) -> str:
    """Whether it holds, and what is left."""
    lines = told(load_told(answer))
    lines += bullets(f"On {len(answer.split)} circuits", split_told(answer))
    return "\n".join(lines + bullets("Know", answer.notes) + bullets("Mind", answer.cautions))
