"""The lessons: all of them, one at a setting, and how a class is walked through it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal
from urllib.parse import urlencode

from evencast.actions.lessons.lesson import LESSONS, SHOW, beside, lesson
from evencast.errors import EvencastError
from evencast.results.lessons import LessonAnswer

View = Literal["page", "projector"]
ROOT = "/learn"


@dataclass(frozen=True)
class LearnLink:
    """A way on.

    address : path and setting, to be shared as it is
    """

    text: str
    address: str


@dataclass(frozen=True)
class LearnEntry:
    """One lesson on the page of all."""

    number: int
    title: str
    about: str
    address: str
    projector: str


@dataclass(frozen=True)
class LearnPage:
    """All lessons, and where the worksheet is."""

    lessons: list[LearnEntry]
    worksheet: str


@dataclass(frozen=True)
class LessonPage:
    """One lesson at one setting.

    of        : how many lessons there are
    picture   : what the numbers look like
    address   : of this page at this setting, with the guess
    show      : the same, the answer shown without a guess
    ask_again : the same without a guess
    projector : the same for a class
    tries     : the settings worth a look
    before, after : the lessons beside this one
    """

    lesson: LessonAnswer
    of: int
    picture: str
    address: str
    show: str
    ask_again: str
    projector: str
    tries: list[LearnLink]
    before: LearnLink | None
    after: LearnLink | None


@dataclass(frozen=True)
class ProjectorPage:
    """One lesson for a class: the picture and one sentence, or the question before it.

    back, forward : a step of the walk: the question, the lesson, its settings, the next lesson
    up, down      : the lesson before and the one after
    page          : the whole lesson at this setting
    """

    lesson: LessonAnswer
    picture: str
    back: LearnLink | None
    forward: LearnLink | None
    up: LearnLink | None
    down: LearnLink | None
    page: str


def learn_page() -> LearnPage:
    """All lessons."""
    return LearnPage(
        lessons=[
            LearnEntry(
                number,
                each.title,
                each.about,
                _address(each.slug),
                _address(each.slug, view="projector"),
            )
            for number, each in enumerate(LESSONS, 1)
        ],
        worksheet=f"{ROOT}/worksheet",
    )


def lesson_page(slug: str, asked: Mapping[str, str]) -> LessonPage:
    """A lesson as it is asked for.

    Raises  EvencastError for what is no lesson and no setting
    """
    answer, chart = lesson(slug, asked)
    guess = answer.question.guess or (SHOW if answer.question.revealed else "")
    before, after = beside(slug)
    return LessonPage(
        lesson=answer,
        of=len(LESSONS),
        picture=chart.svg(ground="page"),
        address=_address(slug, answer.values, guess=guess),
        show=_address(slug, answer.values, guess=SHOW),
        ask_again=_address(slug, answer.values),
        projector=_address(slug, answer.values, guess=guess, view="projector"),
        tries=[
            LearnLink(each.text, _address(slug, each.values, guess=guess or SHOW))
            for each in answer.tries
        ],
        before=LearnLink(before.title, _address(before.slug)) if before else None,
        after=LearnLink(after.title, _address(after.slug)) if after else None,
    )


def projector_page(slug: str, asked: Mapping[str, str]) -> ProjectorPage:
    """A lesson as it is asked for, for a class."""
    answer, chart = lesson(slug, asked)
    guess = SHOW if answer.question.revealed else ""
    before, after = beside(slug)
    up = _to(before.slug, before.title) if before else None
    down = _to(after.slug, after.title) if after else None
    back, forward = _steps(answer)
    return ProjectorPage(
        lesson=answer,
        picture=chart.svg(ground="page", wall=True),
        back=back or up,
        forward=forward or down,
        up=up,
        down=down,
        page=_address(slug, answer.values, guess=guess),
    )


def checked_view(text: str) -> View:
    """Which of the two ways a lesson is shown.

    Raises  EvencastError for any other
    """
    if text in ("", "page"):
        return "page"
    if text == "projector":
        return "projector"
    raise EvencastError(
        f'"{text[:60]}" is no view', where="view", remedy="Write page or projector."
    )


def _steps(answer: LessonAnswer) -> tuple[LearnLink | None, LearnLink | None]:
    """Where the walk through a lesson goes back and forward: its question, the lesson as it
    starts, then its settings. From any other setting it goes on with the first."""
    start, _ = lesson(answer.slug, {})
    walk = [LearnLink("The question", _address(answer.slug, view="projector"))]
    walk += [
        LearnLink(text, _address(answer.slug, values, guess=SHOW, view="projector"))
        for text, values in [
            ("The answer", start.values),
            *((each.text, each.values) for each in answer.tries if each.values != start.values),
        ]
    ]
    here = _address(answer.slug, answer.values, guess=SHOW, view="projector")
    if not answer.question.revealed:
        return None, LearnLink("The answer", here)
    places = [place for place, each in enumerate(walk) if each.address == here]
    if not places:
        return walk[0], walk[2] if len(walk) > 2 else None
    place = places[0]
    return walk[place - 1], walk[place + 1] if place + 1 < len(walk) else None


def _to(slug: str, title: str) -> LearnLink:
    return LearnLink(title, _address(slug, view="projector"))


def _address(
    slug: str, values: Mapping[str, str] | None = None, *, guess: str = "", view: str = ""
) -> str:
    told = {**(values or {}), "guess": guess, "view": view}
    query = urlencode({name: value for name, value in told.items() if value})
    return f"{ROOT}/{slug}?{query}" if query else f"{ROOT}/{slug}"
