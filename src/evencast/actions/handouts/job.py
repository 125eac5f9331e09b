"""What every hand-out of a plan is made from: its set-ups, solved, and how it shall be printed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from evencast.actions.charts import plan_numbers
from evencast.actions.planned import LoadedPlan, load_plan
from evencast.actions.solve import solve
from evencast.errors import EvencastError, Problem
from evencast.handouts.typeset import Document, Paper, typeset
from evencast.plan.setup import Setup
from evencast.plan.setups import setup_named
from evencast.quantities import listed
from evencast.results.handout import HandoutFile
from evencast.results.plan import SolveAnswer
from evencast.solver.scene import Progress
from evencast.store.files import make_folder, refuse_if_there, write_bytes

_Kind = TypeVar("_Kind", bound=str)


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """The plan as it stands in one set-up, and what is to be done there.

    setup  : its own keys, with what was planned, rigged and read; None for the plan itself
    loaded : the plan with that set-up's lights
    answer : what `solve --setup NAME` says
    """

    setup: Setup | None
    loaded: LoadedPlan
    answer: SolveAnswer

    @property
    def name(self) -> str:
        """Name of the set-up; "" for the plan itself."""
        return self.setup.name if self.setup else ""

    @property
    def numbers(self) -> dict[str, int]:
        """The number of every light by its name, on every document."""
        return plan_numbers(self.loaded.plan)


@dataclass(frozen=True, slots=True)
class Wishes:
    """How documents shall be printed.

    date    : as year-month-day
    author  : in whose name, or ""
    paper   : "a4" or "letter"
    address : where the pocket page will be found, or ""
    labels  : the sheet of adhesive labels, as `label_sheet` reads it; "" for the paper's usual one
    label_start : the first label that is left on it, from 1
    """

    date: str
    author: str = ""
    paper: Paper = "a4"
    address: str = ""
    labels: str = ""
    label_start: int = 1


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """A plan solved, ready to be handed out.

    path  : of the plan
    parts : its set-ups in the plan's order, or the plan itself alone
    progress : told what is being done, how much of it is done, of how much
    """

    path: Path
    parts: list[Part]
    wishes: Wishes
    progress: Progress | None = None

    @property
    def name(self) -> str:
        """The plan's name."""
        return self.parts[0].answer.plan

    def typeset(self, file: str, layout: str, title: str, content: object) -> Made:
        """A document of this job as PDF."""
        wishes = self.wishes
        asked = Document(layout, title, wishes.author, wishes.date, content, wishes.paper)
        printed = typeset(asked)
        return Made(file, printed.files[0], printed.problems, asked)


@dataclass(frozen=True, slots=True)
class Made:
    """One file of a hand-out.

    problems : what it could not show or lacks
    document : what was set; None for a file without pages
    """

    name: str
    content: bytes
    problems: list[Problem]
    document: Document | None = None

    def pages(self) -> list[bytes]:
        """Its pages as they come out on paper, as PNG."""
        return [] if self.document is None else typeset(self.document, "png").files


Named = Sequence[tuple[str, Made]]
"""Files, each with the kind of document that it is."""


def chosen(given: Sequence[str], known: Sequence[_Kind], *, where: str, what: str) -> list[_Kind]:
    """Kinds by name, in the order they are known in; all where none is given.

    where, what : what they were given as, and what one is called, for the error
    Raises  EvencastError for one there is none of
    """
    unknown = [each for each in given if each not in known]
    if unknown:
        raise EvencastError(
            f"there is no {what} {listed([repr(each) for each in unknown], 'or')}",
            where=where,
            remedy=f"Choose from {listed(known)}.",
        )
    return [each for each in known if each in given or not given]


def written(made: Named, to: Path, *, replace: bool) -> list[HandoutFile]:
    """Files in a folder.

    replace : whether files of the same names may be written over
    Raises  EvencastError for a file that is there already; nothing is written then
    """
    if not replace:
        for _, each in made:
            refuse_if_there(to / each.name, "Choose another folder, or write over with --replace.")
    make_folder(to)
    for _, each in made:
        write_bytes(to / each.name, each.content, replace=replace)
    return [HandoutFile(kind, str(to / each.name), len(each.content)) for kind, each in made]


def job(path: Path, wishes: Wishes, *, setup: str | None, progress: Progress | None) -> Job:
    """A plan with its set-ups solved, or one of them.

    setup : its name; None for all, or for the plan itself where it has none
    """
    plain = load_plan(path)
    setups = [setup_named(plain.plan, setup)] if setup else list(plain.plan.setup)
    parts = []
    for each in setups or [None]:
        name = each.name if each else None
        loaded = load_plan(path, setup=name) if name else plain
        parts.append(Part(each, loaded, solve(path, setup=name, progress=progress)))
    return Job(path, parts, wishes, progress)


def checked_date(text: str, *, where: str = "--date") -> str:
    """A date as year-month-day.

    where : what it was given as, for the error
    Raises  EvencastError for anything else
    """
    from datetime import date

    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d", text):
            return date.fromisoformat(text).isoformat()
    except ValueError:
        pass
    raise EvencastError(
        f'"{text[:60]}" is not a date', where=where, remedy="Write year-month-day: 2031-05-04."
    )
