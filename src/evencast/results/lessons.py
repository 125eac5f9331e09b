"""What is told in a lesson, and in the worksheet that goes with all of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Option:
    """One of several things to choose: what stands for it in an address, and its words."""

    key: str
    text: str


@dataclass(frozen=True)
class Question:
    """What to predict before anything is shown.

    right    : key of the option that the computation bears out
    because  : why, with the numbers
    guess    : key of the option that was chosen; None where none was
    revealed : whether the answer is to be shown: after a guess, or when asked for without one
    """

    asks: str
    options: list[Option]
    right: str
    because: str
    guess: str | None = None
    revealed: bool = False


@dataclass(frozen=True)
class Control:
    """What can be moved or chosen.

    name    : in the address of the page
    value   : as it stands in the address
    shown   : the same for people: "3200 K"
    low, high, step : of a slider; None for a choice
    options : of a choice; empty for a slider
    """

    name: str
    label: str
    kind: Literal["slider", "choice"]
    value: str
    shown: str
    low: float | None = None
    high: float | None = None
    step: float | None = None
    options: list[Option] | None = None


@dataclass(frozen=True)
class Preset:
    """Something to try: values of the controls by their names."""

    text: str
    values: dict[str, str]


@dataclass(frozen=True)
class LessonTable:
    """The picture as a table, for those who do not see it."""

    caption: str
    headers: list[str]
    rows: list[list[str]]


@dataclass(frozen=True)
class LessonAnswer:
    """One lesson at one setting of its controls.

    slug     : in the address of its page
    number   : place among the lessons, from 1
    text     : two to four sentences
    sentence : the picture in one sentence, with the numbers of this setting
    numbers  : every number of this setting by its name with its unit, not rounded for reading;
               None where there is no colour temperature
    look_for : what to see in the picture
    tries    : settings worth a look, in the order of a walk through the lesson
    """

    slug: str
    number: int
    title: str
    about: str
    question: Question
    text: list[str]
    controls: list[Control]
    sentence: str
    table: LessonTable
    numbers: dict[str, float | None]
    look_for: list[str]
    tries: list[Preset]
    notes: list[str]
    cautions: list[str]

    @property
    def values(self) -> dict[str, str]:
        """The setting: values of the controls by their names."""
        return {each.name: each.value for each in self.controls}


@dataclass(frozen=True)
class Exercise:
    """One task of the worksheet.

    given   : what is known, in lines
    steps   : the way to the answer, each step with its numbers
    answer  : in one sentence
    numbers : those of the answer by their names with their units
    """

    number: int
    lesson: str
    title: str
    asks: str
    given: list[str]
    steps: list[str]
    answer: str
    numbers: dict[str, float | None]


@dataclass(frozen=True)
class WorksheetAnswer:
    """A worksheet: tasks, and the answers worked out.

    notes : how the numbers were found
    """

    title: str
    exercises: list[Exercise]
    notes: list[str]
    cautions: list[str]
