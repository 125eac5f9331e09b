"""`card`: the published reference of a kit, its comparison sheet, and its lessons."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from evencast.actions import resolve
from evencast.actions.card import papers
from evencast.actions.card.frames import Shots
from evencast.actions.card.rows import Asked, rows_of
from evencast.actions.card.table import reference_csv
from evencast.actions.handouts.job import Made, Named, Wishes, checked_date, chosen, written
from evencast.actions.kit import load_kit
from evencast.actions.picture import camera_of
from evencast.colour import check_kelvin
from evencast.cores import one_core_products
from evencast.errors import EvencastError
from evencast.handouts.typeset import Document, Form, typeset
from evencast.lights import parse_kelvin
from evencast.results.card import CardAnswer
from evencast.solver.scene import Progress
from evencast.store.files import read_text

Kind = Literal["reference", "comparison", "lesson"]
KINDS: tuple[Kind, ...] = ("reference", "comparison", "lesson")
FORMS: tuple[Form, ...] = ("pdf", "png", "svg")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of the command, as texts.

    kinds    : which of `KINDS`; all where empty
    balances : two balances: "3200K,5600K"
    light    : one light for every filter; None for the lamp each is meant for
    camera   : "eye", "camera A", "camera B", or a file of sensitivities
    forms    : in what forms the comparison sheet is written; as PDF where empty
    only     : names of filters; all where empty
    intro    : a file with an introduction of the person's own, or None
    """

    kinds: Sequence[str] = ()
    balances: str = "3200K,5600K"
    light: str | None = None
    camera: str = "eye"
    forms: Sequence[str] = ()
    only: Sequence[str] = ()
    intro: Path | None = None


def card(
    path: Path,
    *,
    wanted: Wanted,
    wishes: Wishes,
    to: Path,
    replace: bool,
    progress: Progress | None = None,
) -> CardAnswer:
    """The documents of a kit, written to a folder.

    to      : the folder they go to
    replace : whether files of the same names may be written over
    Raises  as `documents`; EvencastError for a file that is there already; nothing is written then
    """
    answer, made = documents(path, wanted=wanted, wishes=wishes, progress=progress)
    return _written(answer, made, to, replace=replace)


def documents(
    path: Path, *, wanted: Wanted, wishes: Wishes, progress: Progress | None = None
) -> tuple[CardAnswer, Named]:
    """The documents of a kit, none of them written anywhere.

    Raises  EvencastError for a wish that cannot be met; DocumentErrors for a kit with errors
    """
    kinds = chosen(wanted.kinds, KINDS, where="--as", what="document")
    forms = chosen(wanted.forms or ["pdf"], FORMS, where="--form", what="form")
    asked = check(wanted, wishes)
    intro = _paragraphs(wanted.intro)
    with one_core_products():
        kit = load_kit(path)
        found = rows_of(kit, path, asked, progress)
    answer = CardAnswer(
        kit=kit.name,
        date=wishes.date,
        author=wishes.author,
        balances_k=list(asked.balances_k),
        camera=asked.camera.name,
        rows=found.rows,
        files=[],
        problems=[*kit.problems, *found.problems],
    )
    made: list[tuple[str, Made]] = []
    for done, kind in enumerate(kinds, start=1):
        if progress:
            progress(f"writing {kind}", done, len(kinds))
        found_here = _documents(kind, answer, found.shots, intro, forms, wishes)
        made += [(kind, each) for each in found_here]
    return answer, made


def check(wanted: Wanted, wishes: Wishes) -> Asked:
    """What is asked of every filter.

    Raises  EvencastError for a date, a light, a balance or a camera that is none
    """
    checked_date(wishes.date)
    return Asked(
        light=resolve.light(wanted.light) if wanted.light else None,
        balances_k=_balances(wanted.balances),
        camera=camera_of(wanted.camera),
        only=wanted.only,
    )


def _documents(
    kind: str,
    answer: CardAnswer,
    shots: Sequence[Shots],
    intro: Sequence[str],
    forms: Sequence[Form],
    wishes: Wishes,
) -> list[Made]:
    if kind == "reference":
        pages = _set(kind, f"Filters: {answer.kit}", papers.reference(answer, intro), "pdf", wishes)
        return [*pages, Made("reference.csv", reference_csv(answer), [])]
    if kind == "comparison":
        content, title = papers.comparison(answer, shots), f"Before and after: {answer.kit}"
        return [made for form in forms for made in _set(kind, title, content, form, wishes)]
    content, title = papers.lessons(answer, shots), f"Filters to look at: {answer.kit}"
    return _set(kind, title, content, "pdf", wishes)


def _set(kind: str, title: str, content: dict[str, Any], form: Form, wishes: Wishes) -> list[Made]:
    document = Document(kind, title, wishes.author, wishes.date, content, wishes.paper)
    printed = typeset(document, form)
    names = (
        [f"{kind}.{form}"]
        if len(printed.files) == 1
        else [f"{kind}-{number}.{form}" for number in range(1, len(printed.files) + 1)]
    )
    return [
        Made(name, content, *((printed.problems, document) if place == 0 else ([], None)))
        for place, (name, content) in enumerate(zip(names, printed.files, strict=True))
    ]


def _written(answer: CardAnswer, made: Named, to: Path, *, replace: bool) -> CardAnswer:
    told = [problem for _, each in made for problem in each.problems]
    return dataclasses.replace(
        answer,
        files=written(made, to, replace=replace),
        problems=list(dict.fromkeys([*answer.problems, *told])),
    )


def _balances(text: str) -> tuple[float, float]:
    """Two balances as kelvin, as they were given."""
    parsed = [parse_kelvin(each.strip()) for each in text.split(",")]
    plain = [each[0] for each in parsed if each is not None and each[1] is None]
    if len(plain) != len(parsed) or len(set(plain)) != 2 or len(plain) != 2:
        raise EvencastError(
            f'"{text}" is not two balances',
            where="--balances",
            remedy="Write two in kelvin with a comma between: 3200K,5600K.",
        )
    for each in plain:
        check_kelvin(each)
    return plain[0], plain[1]


def _paragraphs(path: Path | None) -> list[str]:
    """An introduction of the person's own: paragraphs with empty lines between."""
    if path is None:
        return []
    lines = read_text(path).text.removeprefix("\ufeff").splitlines()
    text = "\n".join(line.strip() for line in lines)
    return [" ".join(each.split()) for each in text.split("\n\n") if each.strip()]
