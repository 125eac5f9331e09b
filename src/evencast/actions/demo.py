"""`demo`: an invented job, solved on the documents that come with the program."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from evencast import tables
from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.results.handout import HandoutFile
from evencast.results.plan import DemoAnswer, SolveAnswer
from evencast.solver.scene import Progress
from evencast.store.files import make_folder, write_text

PLAN = "plan.toml"
HANDOUTS = "hand-outs"


def demo(to: Path | None, *, progress: Progress | None = None) -> DemoAnswer:
    """Solve the invented job; where a folder is given, write its documents there and its
    hand-outs below it.

    Raises  EvencastError rather than overwrite a file that is already there
    """
    if to is None:
        with TemporaryDirectory() as folder:
            files, solved = _write_and_solve(Path(folder), progress)
        return DemoAnswer(written_to=None, files=files, handouts=[], solved=solved)
    files, solved = _write_and_solve(to, progress)
    handouts = _handouts(to, solved, progress)
    return DemoAnswer(written_to=str(to), files=files, handouts=handouts, solved=solved)


def _write_and_solve(folder: Path, progress: Progress | None) -> tuple[list[str], SolveAnswer]:
    documents = tables.demo_documents()
    make_folder(folder)
    for name, text in documents.items():
        write_text(folder / name, text)
    return sorted(documents), solve(folder / PLAN, progress=progress)


def _handouts(folder: Path, solved: SolveAnswer, progress: Progress | None) -> list[HandoutFile]:
    from evencast.actions.handouts.handout import KINDS, write_handouts  # loads the typesetter
    from evencast.actions.handouts.job import Job, Part, Wishes

    part = Part(None, load_plan(folder / PLAN), solved)
    ready = Job(folder / PLAN, [part], Wishes(date=""), progress)
    return write_handouts(ready, KINDS, to=folder / HANDOUTS, replace=False).files
