"""Every change once more, in a file of its own, until backups hold it.

The file of a change is on disk before the database takes it. So a database that is damaged, put
back to an older state or lost is brought up to the last change that anybody was told of.
"""

from __future__ import annotations

import re
import secrets
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import sqlalchemy as sa

from evencast.store.library import archive
from evencast.store.library.disk import written_whole

_NAME = re.compile(r"(\d{9,})-(\d{9,})-[0-9a-f]+\.zip")


@dataclass(frozen=True, slots=True)
class Edit:
    """The file of one or more changes that were made together.

    first, last : numbers of the changes
    """

    path: Path
    first: int
    last: int


class Edits:
    """The files in a folder, each an archive of what changed."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def all(self) -> list[Edit]:
        """Every one, by number."""
        if not self._folder.is_dir():
            return []
        found = (_NAME.fullmatch(path.name) for path in self._folder.iterdir())
        edits = [Edit(self._folder / each[0], int(each[1]), int(each[2])) for each in found if each]
        return sorted(edits, key=lambda edit: (edit.first, edit.last))

    def last(self) -> int:
        """Number of the newest change among them; 0 where there is none."""
        return max((edit.last for edit in self.all()), default=0)

    def keep(
        self, connection: sa.Connection, *, before: int, covered: int, last: int, at: datetime
    ) -> Path:
        """Write down what a transaction changes, before it is taken.

        before  : number of the last change before it
        covered : number of the last change that the newest backup holds
        last    : number of its own last change
        """
        edits = self.all()
        for edit in edits:
            if edit.last > before:
                edit.path.unlink(missing_ok=True)  # was written, and never taken
        done = max((edit.last for edit in edits if edit.last <= before), default=0)
        after = min(before, max(done, covered))
        name = f"{after + 1:09}-{last:09}-{secrets.token_hex(4)}.zip"
        path = self._folder / name
        with written_whole(path) as file:
            archive.write(file, connection, at=at, after=after)
        return path

    def following(self, change: int) -> list[Edit]:
        """Those that go on from a change without a gap, in order."""
        found: list[Edit] = []
        for edit in self.all():
            if edit.last > change >= edit.first - 1:
                found.append(edit)
                change = edit.last
        return found

    def drop_up_to(self, change: int) -> None:
        """Delete those that backups hold."""
        for edit in self.all():
            if edit.last <= change:
                edit.path.unlink(missing_ok=True)
