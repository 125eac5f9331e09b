"""What the worker does: functions that a job names, with values that go between processes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from evencast.actions.card.card import Wanted, documents
from evencast.actions.handouts.handout import made_of
from evencast.actions.handouts.job import Job, Made, Wishes, job
from evencast.errors import Problem
from evencast.solver.scene import Progress
from evencast.store.files import confined
from evencast.store.papers import draw, put

_latest: dict[tuple[Path, str | None], Job] = {}
"""The plan that was solved last: whoever wants one hand-out more wants it of the same."""


def hand_out(
    path: Path,
    root: Path,
    setup: str | None,
    wishes: Wishes,
    kinds: Sequence[str],
    folder: Path,
    *,
    progress: Progress,
) -> None:
    """Hand-outs of a plan, each there to be opened as soon as it is made, its pages as pictures
    right after it.

    path   : of the plan; never the same for another content
    root   : the folder of its bundle, which nothing is read beside
    folder : where they go
    """
    with confined(root):
        ready = replace(_solved(path, setup, wishes, progress), wishes=wishes, progress=progress)
        warned = [problem for part in ready.parts for problem in part.answer.problems]
        for number, kind in enumerate(kinds):
            progress(f"writing {kind}", number, len(kinds))
            made = made_of(ready, kind)
            _put(folder, kind, made, warned)


def refer(
    path: Path,
    root: Path,
    wanted: Wanted,
    wishes: Wishes,
    folder: Path,
    *,
    progress: Progress,
) -> None:
    """The reference of a kit and what goes with it, likewise."""
    with confined(root):
        answer, named = documents(path, wanted=wanted, wishes=wishes, progress=progress)
    for kind in wanted.kinds:
        _put(folder, kind, [made for of, made in named if of == kind], answer.problems)


def _solved(path: Path, setup: str | None, wishes: Wishes, progress: Progress) -> Job:
    if (path, setup) not in _latest:
        ready = job(path, wishes, setup=setup, progress=progress)
        _latest.clear()
        _latest[path, setup] = ready
    return _latest[path, setup]


def _put(folder: Path, kind: str, made: Sequence[Made], warned: Sequence[Problem]) -> None:
    files = {each.name: each.content for each in made}
    put(folder, kind, files, [*warned, *(found for each in made for found in each.problems)])
    draw(folder, kind, {each.name: each.pages() for each in made})
