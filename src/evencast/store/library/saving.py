"""What a person does to a document, inside a transaction that is open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import NoReturn

import sqlalchemy as sa

from evencast.errors import DocumentErrors, EvencastError, Problem, nearest
from evencast.store.library import shelf
from evencast.store.library.carrying import check_size
from evencast.store.library.faults import Damaged
from evencast.store.library.names import check_clash, document_name, line_of_text
from evencast.store.library.values import Document, Record, Revision, Stale

LONGEST_BY, LONGEST_NOTE = 80, 500


@dataclass(frozen=True, slots=True)
class Hand:
    """Who saves, when and why."""

    at: datetime
    by: str
    note: str


def hand(*, at: datetime, by: str, note: str) -> Hand:
    """A hand whose words fit on one line each.

    Raises  EvencastError where they do not
    """
    return Hand(
        at,
        line_of_text(by, what="by", longest=LONGEST_BY),
        line_of_text(note, what="note", longest=LONGEST_NOTE),
    )


def put(
    connection: sa.Connection, bundle: int, name: str, content: bytes, hand: Hand
) -> Record | None:
    """Bytes under a name, whether or not there is a document; None where nothing differs."""
    number = shelf.document_id(connection, bundle, name)
    before = None if number is None else head_of(connection, number)
    if before is not None and before.sha256 == shelf.digest(content):
        return None
    if before is None or before.removed:
        check_place(connection, bundle, name)
    if number is None:
        number = shelf.insert_document(connection, bundle, name)
    return _insert(connection, number, content, hand)


def append(connection: sa.Connection, head: Record, content: bytes | None, hand: Hand) -> Revision:
    """The next revision of a document; no bytes take it out."""
    if head.removed:
        check_place(connection, head.bundle, head.name)
    return Revision(_insert(connection, head.document, content, hand), content or b"")


def _insert(connection: sa.Connection, document: int, content: bytes | None, hand: Hand) -> Record:
    return shelf.insert_revision(
        connection, document, content, at=hand.at, by=hand.by, note=hand.note
    )


def refuse_stale(connection: sa.Connection, head: Record, based_on: int) -> None:
    """Raises Stale with the newest revision where that is another one."""
    if based_on != head.number:
        content = b"" if head.removed else bytes_of(connection, head)
        raise Stale(Revision(head, content), based_on=based_on)


def revision(connection: sa.Connection, document: Document, number: int | None) -> Revision:
    """A revision with its bytes; the newest where no number is given.

    Raises  EvencastError where there is none, or it took the document out
    """
    head = head_of(connection, document.id)
    found = (
        [head] if number is None else shelf.records(connection, document=document.id, number=number)
    )
    if not found:
        raise EvencastError(
            f"has no revision {number}",
            where=document.name,
            remedy=f"They count from 1 to {head.number}.",
        )
    if found[0].removed:
        raise EvencastError(
            f"was taken out by {found[0].by} with revision {found[0].number}",
            where=document.name,
            remedy="Bring back the revision before it.",
        )
    return Revision(found[0], bytes_of(connection, found[0]))


def bytes_of(connection: sa.Connection, record: Record) -> bytes:
    """The bytes of a revision.

    Raises  Damaged where they are no longer those that were saved
    """
    found = shelf.content(connection, record.sha256 or "")
    if found is None:
        raise Damaged(f"{record.name}, revision {record.number}, is not what was saved")
    return found


def head_of(connection: sa.Connection, document: int) -> Record:
    """The newest revision of a document, without its bytes.

    Raises  EvencastError where there is no such document
    """
    found = shelf.head(connection, document)
    if found is None:
        raise EvencastError(
            "is not in this library", where=f"document {document}", remedy="Look it up again."
        )
    return found


def check_place(connection: sa.Connection, bundle: int, name: str) -> None:
    """Raises EvencastError where a document cannot lie beside those of its bundle."""
    check_clash(name, [each.name for each in shelf.documents(connection, bundle=bundle)])


def names_of(files: Mapping[str, bytes], *, where: str) -> dict[str, bytes]:
    """Files under names as they are kept.

    Raises  DocumentErrors with all that is wrong with them at once
    """
    named: dict[str, bytes] = {}
    problems = []
    for given, content in files.items():
        try:
            name = document_name(given)
            check_size(name, len(content))
            check_clash(name, named)
            if name in named:
                raise EvencastError(
                    "is there twice, spelt in two ways", where=given, remedy="Rename one of them."
                )
        except EvencastError as error:
            problems.append(problem(error))
            continue
        named[name] = content
    if problems:
        raise DocumentErrors(where, problems)
    return named


def problem(error: EvencastError) -> Problem:
    """An error as one of several."""
    return Problem("error", error.where, error.what, error.remedy)


def unknown(name: str, what: str, known: list[str]) -> NoReturn:
    """Raises EvencastError naming what is nearest."""
    close = nearest(name, known) or known[:5]
    raise EvencastError(
        f"there is no {what} of that name",
        where=name,
        remedy=f"Did you mean {' or '.join(close)}?" if close else f"There is no {what} yet.",
    )
