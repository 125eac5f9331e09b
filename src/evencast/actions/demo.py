"""`demo`: an invented job, solved on the documents that come with the program."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from evencast import tables
from evencast.actions.solve import solve
from evencast.results.plan import DemoAnswer
from evencast.store.files import make_folder, write_text

PLAN = "plan.toml"


def demo(to: Path | None) -> DemoAnswer:
    """Solve the invented job; write its documents to a folder if one is given.

    Raises  EvencastError rather than overwrite a file that is already there
    """
    if to is not None:
        return _write_and_solve(to, shown=str(to))
    with TemporaryDirectory() as folder:
        return _write_and_solve(Path(folder), shown=None)


def _write_and_solve(folder: Path, *, shown: str | None) -> DemoAnswer:
    documents = tables.demo_documents()
    make_folder(folder)
    for name, text in documents.items():
        write_text(folder / name, text)
    return DemoAnswer(written_to=shown, files=sorted(documents), solved=solve(folder / PLAN))
