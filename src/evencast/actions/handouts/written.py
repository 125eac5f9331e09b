"""Documents put on disk."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evencast.actions.handouts.job import Made
from evencast.results.handout import HandoutFile
from evencast.store.files import make_folder, refuse_if_there, write_bytes


def written(made: Sequence[tuple[str, Made]], to: Path, *, replace: bool) -> list[HandoutFile]:
    """Files in a folder, which is made where there is none.

    made    : what each is, and the file
    replace : whether files of the same names may be written over
    Raises  EvencastError for one that is there already; nothing is written then
    """
    if not replace:
        for _, each in made:
            refuse_if_there(to / each.name, "Choose another folder, or write over with --replace.")
    make_folder(to)
    for _, each in made:
        write_bytes(to / each.name, each.content, replace=replace)
    return [HandoutFile(kind, str(to / each.name), len(each.content)) for kind, each in made]
