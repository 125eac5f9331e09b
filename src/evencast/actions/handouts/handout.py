"""`handout`: the documents of a plan, written to a folder."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module
from pathlib import Path

from evencast.actions.handouts.address import checked_address
from evencast.actions.handouts.job import (
    Job,
    Made,
    Named,
    Wishes,
    checked_date,
    chosen,
    job,
    written,
)
from evencast.errors import Problem
from evencast.handouts.label_sheet import checked_start, label_sheet
from evencast.results.handout import HandoutAnswer
from evencast.solver.scene import Progress

KINDS = ("cards", "choice", "panes", "colourist", "shopping", "labels", "pocket")
"""Every hand-out, in the order it is written; each is made by the module of its name."""


def handout(
    path: Path,
    *,
    only: Sequence[str],
    to: Path,
    setup: str | None,
    wishes: Wishes,
    replace: bool,
    progress: Progress | None = None,
) -> HandoutAnswer:
    """The documents of a plan.

    only    : which of `KINDS`; all where empty
    to      : the folder they go to
    replace : whether files of the same names may be written over
    Raises  EvencastError for a hand-out there is none of, a date, an address or a sheet of labels
            that is none, or a file that is there already; nothing is written then
    """
    kinds = chosen_kinds(only)
    check(wishes)
    ready = job(path, wishes, setup=setup, progress=progress)
    return write_handouts(ready, kinds, to=to, replace=replace)


def write_handouts(ready: Job, kinds: Sequence[str], *, to: Path, replace: bool) -> HandoutAnswer:
    """The documents of a job in a folder.

    kinds : which of `KINDS`
    Raises  EvencastError for a file that is there already; nothing is written then
    """
    made = _made(ready, kinds)
    return HandoutAnswer(
        plan=ready.name,
        date=ready.wishes.date,
        setups=[each.name for each in ready.parts if each.setup],
        files=written(made, to, replace=replace),
        problems=_problems(ready, made),
    )


def check(wishes: Wishes) -> None:
    """Raises EvencastError for a date, an address or a sheet of labels that is none."""
    checked_date(wishes.date)
    checked_address(wishes.address)
    checked_start(wishes.label_start, label_sheet(wishes.labels, wishes.paper))


def chosen_kinds(only: Sequence[str]) -> list[str]:
    """Hand-outs by name, in the order of `KINDS`; all where none is named.

    Raises  EvencastError for one there is none of
    """
    return chosen(only, KINDS, where="--only", what="hand-out")


def _made(ready: Job, kinds: Sequence[str]) -> Named:
    found: list[tuple[str, Made]] = []
    for number, kind in enumerate(kinds):
        if ready.progress:
            ready.progress(f"writing {kind}", number + 1, len(kinds))
        found += [(kind, each) for each in made_of(ready, kind)]
    return found


def made_of(ready: Job, kind: str) -> list[Made]:
    """The files of one hand-out.

    kind : one of `KINDS`
    """
    made = import_module(f"evencast.actions.handouts.{kind}").made(ready)
    assert isinstance(made, list)
    return made


def _problems(ready: Job, made: Named) -> list[Problem]:
    """Of every set-up and every document, each once."""
    found = [problem for part in ready.parts for problem in part.answer.problems]
    found += [problem for _, each in made for problem in each.problems]
    return list(dict.fromkeys(found))
