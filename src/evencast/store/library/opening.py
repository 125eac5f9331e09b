"""Opening a library: sound or set aside, brought up to date, and no edit missing."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import closing, suppress
from datetime import datetime

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.quantities import many
from evencast.store.library import archive, backups, checking, restoring, shelf
from evencast.store.library.backups import Backup
from evencast.store.library.database import Database
from evencast.store.library.disk import drop_unfinished
from evencast.store.library.edits import Edit, Edits
from evencast.store.library.faults import Damaged, explained
from evencast.store.library.migrations.versions.v0001_documents import APPLICATION_ID
from evencast.store.library.place import DATABASE, Place

RESTORE = "`evencast library restore`"


def opened(place: Place, *, at: datetime) -> Database:
    """A database that is sound and up to date; made where there is none.

    at : dates the folder that a damaged one is set aside in
    Raises  EvencastError where it is damaged (it is set aside then), was written by a newer
            version, cannot be written, or is gone although backups or edits of it are there
    """
    if place.folder is not None:
        _refuse_gone(place)
        _refuse_foreign(place)
        with explained(place.shown):
            place.folder.mkdir(parents=True, exist_ok=True)
    database = Database(place)
    may_be_new = place.folder is None or not _has_kept(place)
    try:
        if not may_be_new and place.database.stat().st_size == 0:
            raise Damaged("it is empty")
        checking.prepare(database, may_be_new=may_be_new)
        if place.folder is not None:
            _catch_up(database)
    except Damaged as damage:
        database.close()
        raise _set_aside(place, str(damage), at=at) from damage
    except BaseException:
        database.close()
        raise
    return database


def _catch_up(database: Database) -> None:
    """Take the edits that are on disk and not in the database: it lost them, or was cut short."""
    edits = Edits(database.place.edits)
    with database.reading() as connection:
        last = shelf.last_change(connection)
    if edits.last() <= last and backups.newest_change(database.place.backups) <= last:
        return
    with database.writing() as connection:
        drop_unfinished(database.place.edits)
        last = shelf.last_change(connection)
        following = edits.following(last)
        if following:
            _put_back(connection, following)
            last = following[-1].last
        if max(edits.last(), backups.newest_change(database.place.backups)) > last:
            raise Damaged(f"it ends with change {last}, and later ones were saved")


def _put_back(connection: sa.Connection, following: Sequence[Edit]) -> None:
    try:
        restoring.put_back(connection, [edit.path for edit in following])
    except EvencastError as error:
        raise Damaged(f"it lacks {error.where}, which {error.what}") from error


def _refuse_gone(place: Place) -> None:
    left = place.set_aside.is_dir() and any(place.set_aside.iterdir())
    if not place.database.exists() and (left or _has_kept(place)):
        raise EvencastError(
            f"{DATABASE} is not there, but backups, edits or what was set aside of it are",
            where=place.shown,
            remedy=f"{_offer(place)} To begin anew, name another folder in EVENCAST_LIBRARY.",
        )


def _has_kept(place: Place) -> bool:
    """Whether there was something in the library once."""
    return bool(Edits(place.edits).all() or backups.backups_in(place.backups))


def _refuse_foreign(place: Place) -> None:
    """A database of another program is not written to, not even its settings."""
    if not place.database.exists():
        return
    uri = f"{place.database.absolute().as_uri()}?mode=ro"
    with suppress(sqlite3.Error), closing(sqlite3.connect(uri, uri=True)) as connection:
        (number,) = connection.execute("PRAGMA application_id").fetchone()
        (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        if tables and number != APPLICATION_ID:
            raise EvencastError(
                f"{DATABASE} is a database of something else; nothing was touched",
                where=place.shown,
                remedy="Name another folder in EVENCAST_LIBRARY.",
            )


def _set_aside(place: Place, damage: str, *, at: datetime) -> EvencastError:
    if place.folder is None:
        return EvencastError(
            f"the database is damaged ({damage}); nothing was touched",
            where=place.shown,
            remedy="Restore it from its server's own backup; or name an empty database in "
            f"EVENCAST_LIBRARY. {_offer(place)}",
        )
    with explained(place.shown):
        folder = restoring.set_aside(place, place.database_files(), at=at)
    return EvencastError(
        f"{DATABASE} is damaged ({damage}); it was set aside in {folder}, nothing was deleted",
        where=place.shown,
        remedy=_offer(place),
    )


def damaged_while_open(place: Place, damage: str) -> EvencastError:
    """What is told where damage shows in the midst of work."""
    return EvencastError(
        f"the library is damaged ({damage}); nothing was saved",
        where=place.shown,
        remedy="End evencast and start it again: it sets the damaged file aside and offers the "
        "last good backup.",
    )


def _is_good(backup: Backup) -> bool:
    """Whether all of a backup can be read, and is as it was written."""
    try:
        archive.check(backup.path)
    except (EvencastError, OSError):
        return False
    return True


def _offer(place: Place) -> str:
    """The command that brings all back, and what it brings."""
    newest = next(filter(_is_good, backups.backups_in(place.backups)), None)
    change = newest.last_change if newest else 0
    following = Edits(place.edits).following(change)
    edits = following[-1].last - change if following else 0
    since = many(edits, "edit")
    if newest is not None:
        date = newest.made_at.strftime("%Y-%m-%d %H:%M UTC")
        return f"{RESTORE} brings back {newest.path} of {date} and {since} made since."
    if edits:
        return f"{RESTORE} brings back {since}, which is all that was saved."
    return f"There is no backup beside it: {RESTORE} with a file brings back one kept elsewhere."
