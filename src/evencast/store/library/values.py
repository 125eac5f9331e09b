"""What the library hands out: bundles, documents, revisions; and how a late save is refused."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from evencast.errors import EvencastError
from evencast.store.library.kinds import Kind


@dataclass(frozen=True, slots=True)
class Bundle:
    """Documents that belong together, as a folder on disk.

    id      : never used again for another
    name    : of the folder, unlike every other also without regard to case
    made_at : by the clock of the machine, in UTC
    """

    id: int
    name: str
    made_at: datetime


@dataclass(frozen=True, slots=True)
class Record:
    """One line of a document's history, without the bytes.

    change     : counts every change of the library up from 1; later is higher, whatever the clock
    document   : id of the document
    bundle     : id of its bundle
    name       : of the document inside its bundle
    number     : of the revision, from 1
    sha256     : of its bytes; None for a revision that takes the document out
    size_bytes : 0 where it takes the document out
    saved_at   : by the clock of the machine, in UTC: told, never gone by
    by, note   : who saved it, and why; either may be empty
    """

    change: int
    document: int
    bundle: int
    name: str
    number: int
    sha256: str | None
    size_bytes: int
    saved_at: datetime
    by: str
    note: str

    @property
    def removed(self) -> bool:
        """Whether this revision takes the document out of its bundle."""
        return self.sha256 is None


@dataclass(frozen=True, slots=True)
class Revision:
    """A document's own bytes as they were saved once; never changed."""

    record: Record
    content: bytes

    @property
    def number(self) -> int:
        """Of the revision, from 1: what to hand back as `based_on`."""
        return self.record.number


@dataclass(frozen=True, slots=True)
class Document:
    """A document as it is now.

    id     : never used again for another
    bundle : that it belongs to
    name   : inside the bundle, with forward slashes
    kind   : by its bytes and its ending
    title  : what a plan or a kit calls itself; "" where it does not
    holds  : names of a plan's lights or a kit's filters, in order
    head   : its newest revision
    """

    id: int
    bundle: Bundle
    name: str
    kind: Kind
    title: str
    holds: tuple[str, ...]
    head: Record


class Stale(EvencastError):  # noqa: N818 - it says what the save was, not what went wrong
    """A save that began from a revision which is no longer the newest; nothing was saved.

    head : the newest revision, so that both can be shown
    """

    def __init__(self, head: Revision, *, based_on: int) -> None:
        record = head.record
        done = "took it out" if record.removed else "saved another"
        who = record.by or "somebody"
        super().__init__(
            f"revision {based_on} is no longer the newest: {who} {done} as revision "
            f"{record.number}. Nothing was overwritten",
            where=record.name,
            remedy=f"Look at both, then save again, based on revision {record.number}.",
        )
        self.head = head
