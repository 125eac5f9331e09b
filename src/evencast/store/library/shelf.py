"""The statements: what is asked of the tables and what is put into them."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from evencast.store.library import schema
from evencast.store.library.kinds import KINDS, Entry, Kind, entry_of
from evencast.store.library.names import folded
from evencast.store.library.values import Bundle, Document, Record

_RECORD = sa.select(
    schema.revision.c.change,
    schema.revision.c.document_id,
    schema.document.c.bundle_id,
    schema.document.c.name,
    schema.revision.c.number,
    schema.revision.c.sha256,
    sa.func.coalesce(schema.content.c.size_bytes, 0).label("size_bytes"),
    schema.revision.c.saved_at,
    schema.revision.c.saved_by,
    schema.revision.c.note,
).select_from(
    schema.revision.join(schema.document).outerjoin(
        schema.content, schema.revision.c.sha256 == schema.content.c.sha256
    )
)


_NEWEST = sa.select(
    sa.select(sa.func.max(schema.revision.c.change)).scalar_subquery(),
    sa.select(sa.func.max(schema.bundle.c.id)).scalar_subquery(),
)
"""Made once: every page asks it."""


def last_change(connection: sa.Connection) -> int:
    """Number of the newest change; 0 before the first."""
    row = connection.execute(_NEWEST).one()
    return max(row[0] or 0, row[1] or 0)


def bundles(connection: sa.Connection) -> list[Bundle]:
    """Every bundle, by name."""
    rows = connection.execute(sa.select(schema.bundle))
    return sorted(map(_bundle, rows), key=lambda each: folded(each.name))


def bundle_named(connection: sa.Connection, name: str) -> Bundle | None:
    """The bundle of that name, without regard to case."""
    query = sa.select(schema.bundle).where(schema.bundle.c.folded == folded(name))
    row = connection.execute(query).one_or_none()
    return None if row is None else _bundle(row)


def _bundle(row: Any) -> Bundle:
    return Bundle(row.id, row.name, datetime.fromisoformat(row.made_at))


def insert_bundle(connection: sa.Connection, name: str, at: datetime) -> Bundle:
    """A new bundle."""
    number = last_change(connection) + 1
    connection.execute(
        sa.insert(schema.bundle).values(
            id=number, name=name, folded=folded(name), made_at=at.isoformat()
        )
    )
    return Bundle(number, name, at)


def documents(
    connection: sa.Connection,
    *,
    bundle: int | None = None,
    name: str | None = None,
    kind: Kind | None = None,
    with_removed: bool = False,
) -> list[Document]:
    """Documents by bundle and name, as the index has them."""
    query = (
        _RECORD.add_columns(
            schema.entry.c.kind,
            schema.entry.c.title,
            schema.bundle.c.name.label("bundle_name"),
            schema.bundle.c.made_at,
        )
        .join(schema.entry, schema.entry.c.change == schema.revision.c.change)
        .join(schema.bundle, schema.bundle.c.id == schema.document.c.bundle_id)
    )
    for column, wanted in (
        (schema.document.c.bundle_id, bundle),
        (schema.document.c.name, name),
        (schema.entry.c.kind, kind),
    ):
        if wanted is not None:
            query = query.where(column == wanted)
    if not with_removed:
        query = query.where(schema.revision.c.sha256.is_not(None))
    rows = connection.execute(query).all()
    held = _held(connection, [row.document_id for row in rows])
    found = [_document(row, held[row.document_id]) for row in rows]
    return sorted(found, key=lambda each: (folded(each.bundle.name), each.name))


def _document(row: sa.Row[Any], held: Sequence[str]) -> Document:
    assert row.kind in KINDS
    bundle = Bundle(row.bundle_id, row.bundle_name, datetime.fromisoformat(row.made_at))
    return Document(
        row.document_id, bundle, row.name, row.kind, row.title, tuple(held), _record(row)
    )


def _held(connection: sa.Connection, ids: Sequence[int]) -> defaultdict[int, list[str]]:
    table = schema.holding
    query = sa.select(table.c.document_id, table.c.name).order_by(
        table.c.document_id, table.c.place
    )
    if len(ids) <= 100:
        query = query.where(table.c.document_id.in_(ids))
    found: defaultdict[int, list[str]] = defaultdict(list)
    for row in connection.execute(query):
        found[row.document_id].append(row.name)
    return found


def records(
    connection: sa.Connection,
    *,
    document: int | None = None,
    number: int | None = None,
    after: int = 0,
) -> list[Record]:
    """Revisions in the order in which they were saved."""
    query = _RECORD.where(schema.revision.c.change > after).order_by(schema.revision.c.change)
    if document is not None:
        query = query.where(schema.revision.c.document_id == document)
    if number is not None:
        query = query.where(schema.revision.c.number == number)
    return [_record(row) for row in connection.execute(query)]


def head(connection: sa.Connection, document: int) -> Record | None:
    """The newest revision of a document."""
    query = (
        _RECORD.where(schema.revision.c.document_id == document)
        .order_by(schema.revision.c.number.desc())
        .limit(1)
    )
    row = connection.execute(query).one_or_none()
    return None if row is None else _record(row)


def _record(row: Any) -> Record:
    return Record(
        change=row.change,
        document=row.document_id,
        bundle=row.bundle_id,
        name=row.name,
        number=row.number,
        sha256=row.sha256,
        size_bytes=row.size_bytes,
        saved_at=datetime.fromisoformat(row.saved_at),
        by=row.saved_by,
        note=row.note,
    )


def content(connection: sa.Connection, sha256: str) -> bytes | None:
    """The bytes of that digest; None where they are not there, or are no longer those."""
    query = sa.select(schema.content.c.bytes).where(schema.content.c.sha256 == sha256)
    found: bytes | None = connection.execute(query).scalar_one_or_none()
    if found is None or digest(found) != sha256:
        return None
    return found


def digest(content: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(content).hexdigest()


def insert_content(connection: sa.Connection, content: bytes) -> str:
    """The bytes, unless they are there already; their digest."""
    sha256 = digest(content)
    there = sa.select(schema.content.c.sha256).where(schema.content.c.sha256 == sha256)
    if connection.execute(there).one_or_none() is None:
        connection.execute(
            sa.insert(schema.content).values(sha256=sha256, size_bytes=len(content), bytes=content)
        )
    return sha256


def document_id(connection: sa.Connection, bundle: int, name: str) -> int | None:
    """Of the document of that name, taken out or not."""
    query = sa.select(schema.document.c.id).where(
        schema.document.c.bundle_id == bundle, schema.document.c.name == name
    )
    found: int | None = connection.execute(query).scalar_one_or_none()
    return found


def insert_document(connection: sa.Connection, bundle: int, name: str) -> int:
    """A document without a revision yet, which must follow at once; its id."""
    number = last_change(connection) + 1
    connection.execute(sa.insert(schema.document).values(id=number, bundle_id=bundle, name=name))
    return number


def insert_revision(
    connection: sa.Connection,
    document: int,
    content: bytes | None,
    *,
    at: datetime,
    by: str,
    note: str,
) -> Record:
    """The next revision of a document, and its entry in the index.

    content : None takes the document out
    """
    before = head(connection, document)
    sha256 = None if content is None else insert_content(connection, content)
    connection.execute(
        sa.insert(schema.revision).values(
            change=last_change(connection) + 1,
            document_id=document,
            number=before.number + 1 if before else 1,
            sha256=sha256,
            saved_at=at.isoformat(),
            saved_by=by,
            note=note,
        )
    )
    record = head(connection, document)
    assert record is not None
    index(connection, record, content)
    return record


def index(connection: sa.Connection, record: Record, content: bytes | None) -> None:
    """The entry of a document in the index, made from its newest revision."""
    made = Entry("other") if content is None else entry_of(record.name, content)
    for table in (schema.holding, schema.entry):
        connection.execute(sa.delete(table).where(table.c.document_id == record.document))
    connection.execute(
        sa.insert(schema.entry).values(
            document_id=record.document,
            change=record.change,
            kind=made.kind,
            title=made.title,
        )
    )
    held = [
        {"document_id": record.document, "place": place, "name": name}
        for place, name in enumerate(made.holds)
    ]
    if held:
        connection.execute(sa.insert(schema.holding), held)


def every_document_id(connection: sa.Connection) -> list[int]:
    """Of documents taken out too."""
    return list(connection.execute(sa.select(schema.document.c.id)).scalars())


def clear_index(connection: sa.Connection) -> None:
    """Forget all that can be made anew."""
    connection.execute(sa.delete(schema.holding))
    connection.execute(sa.delete(schema.entry))


def counts(connection: sa.Connection) -> tuple[int, int, int]:
    """Numbers of bundles, documents and revisions; documents taken out are counted too."""
    tables = (schema.bundle, schema.document, schema.revision)
    queries = (sa.select(sa.func.count()).select_from(table) for table in tables)
    bundle, document, revision = (connection.execute(query).scalar_one() for query in queries)
    return bundle, document, revision
