"""Dated backups of the whole library, checked after they are written, and which are kept."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from evencast.errors import EvencastError
from evencast.store.library import archive, shelf
from evencast.store.library.archive import Manifest
from evencast.store.library.database import Database
from evencast.store.library.disk import written_whole
from evencast.store.library.place import stamp

EVERY = timedelta(days=1)
DAILY, WEEKLY = 7, 4
"""Kept are the newest of each of the last 7 days that have one, and of the last 4 weeks."""

_NAME = re.compile(r"evencast-(\d{4}-\d\d-\d\dT\d{6}Z)-(\d{9,})\.zip")


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup by its name.

    made_at     : by the clock of the machine, in UTC
    last_change : number of the last change it holds
    """

    path: Path
    made_at: datetime
    last_change: int


def name_of(*, at: datetime, last_change: int) -> str:
    """What a backup is called, by which `backup_at` knows it again."""
    return f"evencast-{stamp(at)}-{last_change:09}.zip"


def backup_at(path: Path) -> Backup | None:
    """The backup of that name; None where the name is none of a backup."""
    match = _NAME.fullmatch(path.name)
    if match is None:
        return None
    with suppress(ValueError):
        made_at = datetime.strptime(match[1], "%Y-%m-%dT%H%M%SZ").replace(tzinfo=UTC)
        return Backup(path, made_at, int(match[2]))
    return None


def backups_in(folder: Path) -> list[Backup]:
    """Those in a folder, the one with the newest change first, whatever the clock said."""
    if not folder.is_dir():
        return []
    found = [backup for path in folder.iterdir() if (backup := backup_at(path))]
    return sorted(found, key=lambda each: (each.last_change, each.made_at), reverse=True)


def newest_change(folder: Path) -> int:
    """Number of the last change that any backup in a folder holds; 0 where there is none."""
    return max((each.last_change for each in backups_in(folder)), default=0)


def make(database: Database, folder: Path, *, at: datetime) -> tuple[Backup, Manifest]:
    """Write a backup, read all of it back, and only then give it its name."""
    with database.reading() as connection:
        last = shelf.last_change(connection)
        path = folder / name_of(at=at, last_change=last)
        with written_whole(path) as file:
            written = archive.write(file, connection, at=at)
            file.flush()
            if archive.check(Path(file.name)) != written:
                raise EvencastError(
                    "the backup does not read back as it was written",
                    where=str(path),
                    remedy="Write it to another disk; this one may be failing.",
                )
    made = backup_at(path)
    assert made is not None
    return made, written


def is_due(folder: Path, *, last_change: int, at: datetime) -> bool:
    """Whether there are changes that no backup of the last day holds; a clock that was set back
    by more than a day counts as a day gone by."""
    newest = next(iter(backups_in(folder)), None)
    if newest is None:
        return last_change > 0
    return last_change > newest.last_change and abs(at - newest.made_at) >= EVERY


def thin_out(folder: Path) -> None:
    """Delete what is neither among the last days nor among the last weeks."""
    every = backups_in(folder)
    kept = {each.path for each in _newest_of(every, DAILY, lambda at: at.date())}
    kept |= {each.path for each in _newest_of(every, WEEKLY, lambda at: at.isocalendar()[:2])}
    for backup in every:
        if backup.path not in kept:
            with suppress(OSError):
                backup.path.unlink()


def _newest_of(every: list[Backup], most: int, span: Callable[[datetime], object]) -> list[Backup]:
    found: dict[object, Backup] = {}
    for backup in every:
        found.setdefault(span(backup.made_at), backup)
    return list(found.values())[:most]
