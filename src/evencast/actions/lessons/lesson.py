"""`learn`: the lessons in their order, each at any setting, its question first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import ModuleType

from evencast.actions.lessons import (
    balance,
    cameras,
    contrast,
    doubt,
    green,
    lamps,
    pair,
    ruler,
)
from evencast.actions.lessons.asked import LONGEST, Choice, Slider
from evencast.actions.lessons.told import Chart, Told
from evencast.errors import EvencastError
from evencast.quantities import listed
from evencast.results.lessons import LessonAnswer, Question

SHOW = "show"
"""Asks for the answer without a guess."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """One lesson.

    slug  : in the address of its page
    about : what it is about, on the page of all lessons
    made  : the module with its question and what it tells
    """

    slug: str
    title: str
    about: str
    made: ModuleType

    @property
    def tell(self) -> Callable[[Mapping[str, str]], Told]:
        """What it makes of a setting."""
        return self.made.tell  # type: ignore[no-any-return]

    @property
    def controls(self) -> tuple[Slider | Choice, ...]:
        """What it can be set to."""
        return self.made.CONTROLS  # type: ignore[no-any-return]


LESSONS = (
    Lesson("ruler", "Kelvin and mired", "One sheet slid along two rulers.", ruler),
    Lesson(
        "balance",
        "Higher Kelvin, warmer picture",
        "Why the camera's number works the other way round.",
        balance,
    ),
    Lesson("pair", "Orange and blue", "CTO and CTB, each at both balances.", pair),
    Lesson("green", "Green and magenta", "The axis that Kelvin does not tell.", green),
    Lesson("cameras", "Eye and camera", "One match by eye, seen by two cameras.", cameras),
    Lesson("lamps", "One sheet, five lamps", "A sheet has no shift of its own.", lamps),
    Lesson("contrast", "What 4:1 means", "One ratio, two definitions.", contrast),
    Lesson("doubt", "Why a band", "What printed numbers leave open.", doubt),
)


def lesson(slug: str, asked: Mapping[str, str]) -> tuple[LessonAnswer, Chart]:
    """A lesson and its picture.

    asked  : values of its controls by their names, and the `guess`; others are passed over
    Raises   EvencastError for a lesson there is none of, and for values that are none
    """
    number, found = _found(slug)
    told = found.tell(asked)
    answer = LessonAnswer(
        slug=found.slug,
        number=number,
        title=found.title,
        about=found.about,
        question=_guessed(_question(found.slug), asked.get("guess", "").strip()),
        text=list(told.text),
        controls=told.controls,
        sentence=told.sentence,
        table=told.table,
        numbers=told.numbers,
        look_for=list(told.look_for),
        tries=list(told.tries),
        notes=told.notes,
        cautions=told.cautions,
    )
    return answer, told.chart


def beside(slug: str) -> tuple[Lesson | None, Lesson | None]:
    """The lesson before and the one after."""
    place = _found(slug)[0] - 1
    before = LESSONS[place - 1] if place else None
    return before, LESSONS[place + 1] if place + 1 < len(LESSONS) else None


def _found(slug: str) -> tuple[int, Lesson]:
    for number, each in enumerate(LESSONS, 1):
        if each.slug == slug:
            return number, each
    raise EvencastError(
        f'there is no lesson "{slug[:LONGEST]}"',
        where="learn",
        remedy=f"Choose {listed([each.slug for each in LESSONS], 'or')}.",
    )


@cache
def _question(slug: str) -> Question:
    found: Question = _found(slug)[1].made.question()
    return found


def _guessed(question: Question, guess: str) -> Question:
    if not guess:
        return question
    if guess == SHOW:
        return replace(question, revealed=True)
    keys = [each.key for each in question.options]
    if guess not in keys:
        raise EvencastError(
            f'"{guess[:LONGEST]}" is none of the answers',
            where="guess",
            remedy=f"Choose {listed(keys, 'or')}, or {SHOW} to see it without a guess.",
        )
    return replace(question, guess=guess, revealed=True)
