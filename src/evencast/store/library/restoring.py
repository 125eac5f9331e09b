"""Putting a backup back, and every edit since; what was there is set aside, never deleted."""

from __future__ import annotations

import os
import secrets
import shutil
import sqlite3
from collections.abc import Sequence
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import archive, backups, checking, schema, shelf
from evencast.store.library.archive import Archive
from evencast.store.library.database import Database
from evencast.store.library.disk import sync_folder, unused, written_whole
from evencast.store.library.edits import Edits
from evencast.store.library.faults import Damaged, explained
from evencast.store.library.place import Place, place_of, stamp


@dataclass(frozen=True, slots=True)
class Restored:
    """What was put back.

    backup      : None where edits alone were enough
    made_at     : of the backup
    edits       : number of them put back that were made after the backup
    last_change : number of the newest change
    bundles, documents, revisions : how many there are now
    set_aside   : folder that holds what was there; None where nothing was
    notes       : backups and edits that could not be used, and why
    """

    backup: Path | None
    made_at: datetime | None
    edits: int
    last_change: int
    bundles: int
    documents: int
    revisions: int
    set_aside: Path | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Chain:
    """Archives to be put back one after the other; all but the first are edits."""

    backup: Path | None
    edits: tuple[Path, ...]
    made_at: datetime | None
    backup_change: int
    last_change: int
    notes: tuple[str, ...]


def restore(place: Place, backup: Path | None, *, at: datetime) -> Restored:
    """Put back a backup as it is; or, where none is named, the last good one and every edit since.

    Raises  EvencastError where there is none that can be trusted, where another program has the
            library open, or where a database on a server is not empty; nothing is changed then
    """
    try:
        with explained(place.shown):
            chain = _chain(place, backup)
            if place.folder is None:
                return _on_server(place, chain)
            _refuse_in_use(place)
            return _in_folder(place, chain, at=at)
    except Damaged as damage:
        raise EvencastError(
            f"what was put back does not hold together ({damage}); nothing was changed",
            where=place.shown,
            remedy="Restore to another disk, named in EVENCAST_LIBRARY: this one may be failing.",
        ) from damage


def _chain(place: Place, backup: Path | None) -> _Chain:
    if backup is not None:
        manifest = archive.check(backup)
        if manifest.after:
            raise EvencastError(
                "holds single edits, not a whole library",
                where=str(backup),
                remedy="Name a backup; `evencast library restore` adds the edits by itself.",
            )
        return _Chain(backup, (), manifest.made_at, manifest.last_change, manifest.last_change, ())
    notes: list[str] = []
    for each in backups.backups_in(place.backups):
        try:
            manifest = archive.check(each.path)
        except EvencastError as error:
            notes.append(f"{each.path.name} {error.what}")
            continue
        return _with_edits(place, each.path, manifest.made_at, manifest.last_change, notes)
    chain = _with_edits(place, None, None, 0, notes)
    if chain.edits:
        return chain
    bad = f" that can be trusted: {'; '.join(notes)}" if notes else ""
    raise EvencastError(
        f"there is no backup{bad}",
        where=str(place.backups),
        remedy="Name one: `evencast library restore FILE`. Nothing was changed.",
    )


def _with_edits(
    place: Place, backup: Path | None, made_at: datetime | None, change: int, notes: list[str]
) -> _Chain:
    used: list[Path] = []
    last = change
    for edit in Edits(place.edits).following(change):
        try:
            archive.check(edit.path)
        except EvencastError as error:
            notes.append(f"{edit.path.name} and edits after it were left out: {error.what}")
            break
        used.append(edit.path)
        last = edit.last
    return _Chain(backup, tuple(used), made_at, change, last, tuple(notes))


def _on_server(place: Place, chain: _Chain) -> Restored:
    database = Database(place)
    try:
        checking.prepare(database)
        with database.writing() as connection:
            if shelf.last_change(connection):
                raise EvencastError(
                    "the database is not empty; nothing was changed",
                    where=place.shown,
                    remedy="Make an empty database, name it in EVENCAST_LIBRARY, then restore.",
                )
            counts = _fill(connection, chain)
    finally:
        database.close()
    return _restored(chain, counts, set_aside=None)


def _in_folder(place: Place, chain: _Chain, *, at: datetime) -> Restored:
    assert place.folder is not None
    building = place.folder / f".restoring-{secrets.token_hex(8)}"
    building.mkdir(parents=True)
    try:
        new = place_of(building)
        counts = _built(new, chain)
        kept = _copied(place, chain)
        aside = _set_aside_for(place, chain, kept, at=at)
        new.database.replace(place.database)
        sync_folder(place.folder)
    finally:
        shutil.rmtree(building, ignore_errors=True)
    return _restored(chain, counts, set_aside=aside)


def _built(place: Place, chain: _Chain) -> tuple[int, int, int]:
    """A new database with all in it, checked, in one file."""
    database = Database(place)
    try:
        checking.prepare(database)
        with database.writing() as connection:
            counts = _fill(connection, chain)
        with database.reading() as connection:
            checking.check_file(connection, "integrity_check")
    finally:
        database.close()
    with closing(sqlite3.connect(place.database)) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
    descriptor = os.open(place.database, os.O_RDWR)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
    return counts


def _fill(connection: sa.Connection, chain: _Chain) -> tuple[int, int, int]:
    put_back(connection, [*([chain.backup] if chain.backup else []), *chain.edits])
    found = checking.faults(connection)
    if found or shelf.last_change(connection) != chain.last_change:
        raise EvencastError(
            f"cannot be put back: {'; '.join(found) or 'changes are missing'}",
            where=str(chain.backup or "edits"),
            remedy="Take another backup. Nothing was changed.",
        )
    return shelf.counts(connection)


def put_back(connection: sa.Connection, paths: Sequence[Path]) -> None:
    """Add what archives hold, in order, and bring the index up to date."""
    for path in paths:
        with archive.opened(path) as source:
            _put_back(connection, source)
    rebuild_index(connection)


def _put_back(connection: sa.Connection, source: Archive) -> None:
    manifest = source.manifest
    for sha256 in manifest.members:
        shelf.insert_content(connection, source.content(sha256))
    for table, rows in (
        (schema.bundle, manifest.bundles),
        (schema.document, manifest.documents),
        (schema.revision, manifest.revisions),
    ):
        (key,) = table.primary_key
        there = set(connection.execute(sa.select(key)).scalars())
        missing = [row for row in rows if row[key.name] not in there]
        if missing:
            try:
                connection.execute(sa.insert(table), missing)
            except sa.exc.IntegrityError as error:
                raise EvencastError(
                    "cannot be trusted: its rows contradict each other",
                    where=str(source.path),
                    remedy="Take another backup. Nothing was changed.",
                ) from error


def rebuild_index(connection: sa.Connection) -> None:
    """Make the index anew from the newest revision of every document."""
    shelf.clear_index(connection)
    for number in shelf.every_document_id(connection):
        head = shelf.head(connection, number)
        if head is not None:
            content = None if head.sha256 is None else shelf.content(connection, head.sha256)
            shelf.index(connection, head, content)


def _copied(place: Place, chain: _Chain) -> Path | None:
    """The backup among the library's own, so that edits have something to go on from."""
    if chain.backup is None or chain.made_at is None:
        return None
    name = backups.name_of(at=chain.made_at, last_change=chain.backup_change)
    target = place.backups / name
    if not target.exists():
        with written_whole(target) as file, chain.backup.open("rb") as source:
            shutil.copyfileobj(source, file)
    return target


def _set_aside_for(place: Place, chain: _Chain, kept: Path | None, *, at: datetime) -> Path | None:
    """Move away the database and whatever holds changes that will not be there."""
    later = [each.path for each in Edits(place.edits).all() if each.last > chain.last_change]
    later += [
        each.path
        for each in backups.backups_in(place.backups)
        if each.last_change > chain.last_change and each.path != kept
    ]
    return set_aside(place, [*later, *place.database_files()], at=at)


def set_aside(place: Place, files: Sequence[Path], *, at: datetime) -> Path | None:
    """Move files into a dated folder; None where there are none."""
    if not files:
        return None
    folder = unused(place.set_aside / stamp(at))
    folder.mkdir(parents=True)
    for path in files:
        path.replace(folder / path.name)
    sync_folder(folder)
    return folder


def _refuse_in_use(place: Place) -> None:
    """SQLite leaves its write-ahead log only where nobody else has the file open."""
    if not place.database.exists():
        return
    with suppress(sqlite3.DatabaseError), closing(sqlite3.connect(place.database)) as connection:
        try:
            connection.execute("PRAGMA busy_timeout = 200")
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
            connection.execute("PRAGMA journal_mode = DELETE")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorname.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
                raise EvencastError(
                    "another program has the library open",
                    where=place.shown,
                    remedy="End it (`evencast serve`, or another window), then restore.",
                ) from None


def _restored(chain: _Chain, counts: tuple[int, int, int], *, set_aside: Path | None) -> Restored:
    return Restored(
        backup=chain.backup,
        made_at=chain.made_at,
        edits=chain.last_change - chain.backup_change,
        last_change=chain.last_change,
        bundles=counts[0],
        documents=counts[1],
        revisions=counts[2],
        set_aside=set_aside,
        notes=chain.notes,
    )
