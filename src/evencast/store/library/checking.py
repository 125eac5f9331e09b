"""Whether a library is whole: the database, its bytes, its index."""

from __future__ import annotations

from dataclasses import dataclass

import sqlalchemy as sa

from evencast.errors import EvencastError
from evencast.store.library import migrations, schema, shelf
from evencast.store.library.backups import Backup
from evencast.store.library.database import Database
from evencast.store.library.faults import Damaged
from evencast.store.library.kinds import Entry, entry_of

_MOST_TOLD = 20


@dataclass(frozen=True, slots=True)
class Checked:
    """What a check of the whole library found.

    faults       : one line each; empty where every byte is as it was saved
    mended       : what the index said wrongly, one line each; it was made anew from the documents
    backups      : those there are, the newest change first
    since_backup : number of changes that no backup holds yet
    """

    last_change: int
    bundles: int
    documents: int
    revisions: int
    faults: tuple[str, ...]
    mended: tuple[str, ...]
    backups: tuple[Backup, ...]
    since_backup: int


def prepare(database: Database, *, may_be_new: bool = True) -> None:
    """Look whether the database is sound, and bring its tables up to date.

    may_be_new : whether one without tables gets them
    Raises  Damaged where it is not sound; EvencastError where it was written by a newer version
    """
    with database.reading() as connection:
        if database.is_sqlite:
            check_file(connection, "quick_check")
        is_new = _look_at_version(database, connection, may_be_new=may_be_new)
    if is_new:
        with database.writing() as connection:
            if migrations.version_of(connection) != migrations.newest():
                migrations.upgrade(connection)
    with database.reading() as connection:
        missing = set(schema.metadata.tables) - set(sa.inspect(connection).get_table_names())
        if missing:
            raise Damaged(f"tables are missing: {', '.join(sorted(missing))}")


def _look_at_version(database: Database, connection: sa.Connection, *, may_be_new: bool) -> bool:
    """Whether tables are to be made or brought up to date."""
    version = migrations.version_of(connection)
    if version == migrations.newest():
        return False
    if version is None:
        if set(sa.inspect(connection).get_table_names()) & set(schema.metadata.tables):
            raise Damaged("the version of its tables is missing")
        if not may_be_new:
            raise Damaged("it holds nothing")
        return True
    if migrations.is_known(version):
        return True
    raise EvencastError(
        f"the library was written by a newer version of evencast (its tables are version "
        f"{version}, this program knows {migrations.newest()}); nothing was touched",
        where=database.place.shown,
        remedy="Update evencast; or name another folder in EVENCAST_LIBRARY.",
    )


def check_file(connection: sa.Connection, check: str) -> None:
    """SQLite's own check of a file, quick_check or integrity_check.

    Raises  Damaged with what it found first
    """
    found = connection.exec_driver_sql(f"PRAGMA {check}(1)").scalars().all()
    if found != ["ok"]:
        raise Damaged(str(found[0]) if found else "the check of the file found nothing to check")
    if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
        raise Damaged("rows belong to rows that are not there")


def faults(connection: sa.Connection) -> list[str]:
    """What is not as it was saved: bytes against digests, numbers. One line each."""
    return [*_of_contents(connection), *_of_numbers(connection)][:_MOST_TOLD]


def _of_contents(connection: sa.Connection) -> list[str]:
    digests = connection.execute(sa.select(schema.content.c.sha256)).scalars().all()
    bad = {each for each in digests if shelf.content(connection, each) is None}
    return [
        f"{record.name}, revision {record.number}, is not what was saved"
        for record in (shelf.records(connection) if bad else ())
        if record.sha256 in bad
    ]


def _of_numbers(connection: sa.Connection) -> list[str]:
    """Revisions of a document count up from 1 without a gap, in the order of the changes."""
    numbers = dict.fromkeys(shelf.every_document_id(connection), 0)
    found = []
    for record in shelf.records(connection):
        expected = numbers.get(record.document, 0) + 1
        if record.number != expected:
            found.append(f"{record.name}: revision {expected} is missing")
        numbers[record.document] = record.number
    return found + [
        f"document {each} has no revision" for each, last in numbers.items() if not last
    ]


def of_index(connection: sa.Connection) -> list[str]:
    """Where the index is not what the documents make it. One line each."""
    found = []
    known = {each.id: each for each in shelf.documents(connection, with_removed=True)}
    for number in shelf.every_document_id(connection):
        head = shelf.head(connection, number)
        listed = known.get(number)
        if head is None:
            continue  # a fault
        if listed is None or listed.head != head:
            found.append(f"{head.name}: the index does not name its newest revision")
        elif head.sha256 is not None:
            content = shelf.content(connection, head.sha256)
            said = Entry(listed.kind, listed.title, listed.holds)
            if content is not None and entry_of(head.name, content) != said:
                found.append(f"{head.name}: the index does not say what the document says")
    return found[:_MOST_TOLD]
