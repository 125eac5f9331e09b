"""The worksheet: exercises to work out by hand, and their answers, on screen and on paper."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache

from evencast.actions.cautions import cautions
from evencast.actions.handouts.job import checked_date
from evencast.actions.lessons.asked import LONGEST
from evencast.actions.lessons.exercises import (
    Made,
    at_a_balance,
    for_a_tube,
    for_a_window,
    on_the_ruler,
)
from evencast.actions.lessons.more_exercises import (
    before_the_meter,
    both_ratios,
    by_a_camera,
    on_an_led,
)
from evencast.actions.lessons.words import COMPUTED, once
from evencast.errors import EvencastError
from evencast.filters import generic
from evencast.handouts.typeset import Document, Paper, typeset
from evencast.lights import light_of
from evencast.quantities import listed
from evencast.results.lessons import WorksheetAnswer

TITLE = "Light and filters: a worksheet"
EXERCISES = (
    *(on_the_ruler, at_a_balance, for_a_window, for_a_tube),
    *(by_a_camera, on_an_led, both_ratios, before_the_meter),
)
PAPERS: tuple[Paper, ...] = ("a4", "letter")
HUNG = (
    *(("tungsten", "half CTB"), ("daylight D65", "full CTO"), ("FL6", "quarter minus green")),
    *(("LED-B3", "full CTO"), ("FL4", "full CTB")),
)
"""What the exercises hang in front of what, for the cautions."""


def worksheet() -> WorksheetAnswer:
    """The exercises with their answers worked out."""
    told = [
        each for lamp, sheet in HUNG for each in cautions(light_of(lamp), [generic(sheet)], 1.0)
    ]
    return WorksheetAnswer(
        title=TITLE,
        exercises=[exercise for exercise, _ in _made()],
        notes=[
            "Worked by hand with the sheets' names, then computed from spectra; both are told.",
            COMPUTED,
        ],
        cautions=once(told),
    )


def worksheet_pdf(*, paper: str, date: str, answers: str) -> bytes:
    """The worksheet as PDF.

    paper   : "a4" or "letter"
    date    : as year-month-day, or ""
    answers : "yes" to have them, each step shown, on pages of their own; or "no"
    Raises  EvencastError for any other
    """
    chosen = next((each for each in PAPERS if each == paper), None)
    if chosen is None:
        raise _refused(paper, "paper", PAPERS)
    if answers not in ("yes", "no"):
        raise _refused(answers, "answers", ("yes", "no"))
    day = checked_date(date, where="date") if date else ""
    return _printed(chosen, day, answers == "yes")


def _printed(paper: Paper, date: str, with_answers: bool) -> bytes:
    told = asdict(worksheet())
    for exercise, (_, chart) in zip(told["exercises"], _made(), strict=True):
        exercise["picture"] = chart.svg() if with_answers else ""
    told["answers"] = with_answers
    return typeset(Document("worksheet", TITLE, "", date, told, paper)).files[0]


@cache
def _made() -> list[Made]:
    return [make(number) for number, make in enumerate(EXERCISES, 1)]


def _refused(text: str, where: str, accepted: tuple[str, ...]) -> EvencastError:
    return EvencastError(
        f'"{text[:LONGEST]}" is none of the choices',
        where=where,
        remedy=f"Write {listed(accepted, 'or')}.",
    )
