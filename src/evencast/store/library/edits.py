"""Every change once more, in a file of its own, until backups hold it.

The file of a change is on disk before the database takes it. So a database that is damaged, put
back to an older state or lost is brought up to the last change that anybody was told of.
"""

from __future__ import annotations

import os
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
        edits = [Edit(self._folder / name, first, last) for name, first, last in self._named()]
        return sorted(edits, key=lambda edit: (edit.first, edit.last))

    def _named(self) -> list[tuple[str, int, int]]:
        """Name, first and last of every one; on a long day there are hundreds, at every save."""
        if not self._folder.is_dir():
            return []
        with os.scandir(self._folder) as files:
            found = [_NAME.fullmatch(each.name) for each in files]
        return [(each[0], int(each[1]), int(each[2])) for each in found if each]

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
        done = 0
        for name, _, own in self._named():
            if own > before:
                (self._folder / name).unlink(missing_ok=True)  # was written, and never taken
            else:
                done = max(done, own)
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
