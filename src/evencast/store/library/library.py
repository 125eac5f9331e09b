"""The library: bundles of documents, every save a revision of its own, nothing overwritten."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import sqlalchemy as sa

from evencast.errors import DocumentErrors, EvencastError
from evencast.store.library import backups, checking, opening, restoring, saving, shelf
from evencast.store.library.backups import Backup
from evencast.store.library.carrying import check_size
from evencast.store.library.checking import Checked
from evencast.store.library.checkouts import Checkouts
from evencast.store.library.crew import Crew
from evencast.store.library.database import Database
from evencast.store.library.edits import Edits
from evencast.store.library.faults import Damaged, explained
from evencast.store.library.kinds import Kind
from evencast.store.library.names import bundle_name, document_name
from evencast.store.library.place import Place, place_of
from evencast.store.library.restoring import Restored
from evencast.store.library.saving import Hand
from evencast.store.library.values import Bundle, Document, Record, Revision
from evencast.store.places import library_place

Clock = Callable[[], datetime]


def utc_now() -> datetime:
    """The machine's clock."""
    return datetime.now(UTC)


class Library:
    """An open library. May be used from several threads; one at a time writes.

    place : where it is
    crew  : who takes part
    """

    def __init__(self, place: Place, database: Database, clock: Clock) -> None:
        self.place = place
        self._database = database
        self._clock = clock
        self._edits = None if place.folder is None else Edits(place.edits)
        self._checkouts = Checkouts(place.checkouts)
        self._listed: tuple[int, list[Document]] = (0, [])
        self.crew = Crew(self._reading, self._writing, clock)

    @classmethod
    def open(cls, place: str | Path | None = None, *, clock: Clock = utc_now) -> Library:
        """The library in a folder or a PostgreSQL database; made where there is none.

        place : left out, what EVENCAST_LIBRARY names, else the person's own folder
        clock : dates revisions and backups, and decides nothing
        Raises  EvencastError; see `opening.opened`
        """
        found = place_of(library_place() if place is None else place)
        return cls(found, opening.opened(found, at=clock()), clock)

    @staticmethod
    def restore(
        place: str | Path | None = None, backup: Path | None = None, *, at: datetime
    ) -> Restored:
        """Put back a backup, or the last good one and every edit since; see `restoring.restore`."""
        return restoring.restore(
            place_of(library_place() if place is None else place), backup, at=at
        )

    def close(self) -> None:
        """Let go of the database."""
        self._database.close()

    def __enter__(self) -> Library:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # What is there

    def bundles(self) -> list[Bundle]:
        """Every bundle, by name."""
        with self._reading() as connection:
            return shelf.bundles(connection)

    def bundle(self, name: str) -> Bundle:
        """The bundle of that name, without regard to case.

        Raises  EvencastError naming those that are nearest
        """
        with self._reading() as connection:
            found = shelf.bundle_named(connection, name)
            if found is None:
                saving.unknown(name, "bundle", [each.name for each in shelf.bundles(connection)])
            return found

    def documents(self, bundle: Bundle | None = None, kind: Kind | None = None) -> list[Document]:
        """Documents as they are now, by bundle and name; those taken out are not among them."""
        with self._reading() as connection:
            change, every = self._listed
            now = shelf.last_change(connection)
            if change != now:  # nothing of it can be another without a change
                self._listed = now, shelf.documents(connection)
                every = self._listed[1]
        return [
            each for each in every if bundle in (None, each.bundle) and kind in (None, each.kind)
        ]

    def removed(self, bundle: Bundle) -> list[Document]:
        """Documents that were taken out, to be brought back."""
        with self._reading() as connection:
            found = shelf.documents(connection, bundle=bundle.id, with_removed=True)
            return [each for each in found if each.head.removed]

    def document(self, bundle: Bundle, name: str) -> Document:
        """The document of that name as it is now, also one that was taken out.

        Raises  EvencastError naming those that are nearest
        """
        with self._reading() as connection:
            found = shelf.documents(connection, bundle=bundle.id, name=name, with_removed=True)
            if not found:
                every = shelf.documents(connection, bundle=bundle.id)
                saving.unknown(name, "document", [each.name for each in every])
            return found[0]

    def read(self, document: Document, revision: int | None = None) -> Revision:
        """A revision with its bytes; the newest where none is named.

        Raises  EvencastError where there is none of that number, it took the document out, or
                its bytes are no longer those that were saved
        """
        with self._reading() as connection:
            return saving.revision(connection, document, revision)

    def history(self, document: Document) -> list[Record]:
        """Every revision without its bytes, the first one first."""
        with self._reading() as connection:
            return shelf.records(connection, document=document.id)

    def last_change(self) -> int:
        """Number of the newest change in the whole library; 0 before the first."""
        with self._reading() as connection:
            return shelf.last_change(connection)

    def changes_after(self, number: int) -> list[Record]:
        """What was saved after a change, in order.

        number : from `last_change`; one that was not reached yet, as after an older backup was
                 put back, counts as 0
        """
        with self._reading() as connection:
            known = number <= shelf.last_change(connection)
            return shelf.records(connection, after=number if known else 0)

    # What is done

    def new_bundle(self, name: str) -> Bundle:
        """A bundle without documents.

        Raises  EvencastError where the name is taken, or is none that a folder can have
        """
        name = bundle_name(name)
        with self._writing() as connection:
            there = shelf.bundle_named(connection, name)
            if there is not None:
                raise EvencastError(
                    f'there is a bundle "{there.name}" already',
                    where=name,
                    remedy="Choose another name, or add to that one.",
                )
            return shelf.insert_bundle(connection, name, self._clock())

    def add(self, bundle: Bundle, name: str, content: bytes, *, by: str) -> Document:
        """A new document; or one that was taken out, with new bytes.

        Raises  EvencastError where the name is taken, clashes with another, or is none
        """
        name = document_name(name)
        check_size(name, len(content))
        with self._writing() as connection:
            number = shelf.document_id(connection, bundle.id, name)
            if number is not None and not saving.head_of(connection, number).removed:
                raise EvencastError(
                    "is there already", where=name, remedy="Choose another name, or save to it."
                )
            saving.put(connection, bundle.id, name, content, self._hand(by))
            return shelf.documents(connection, bundle=bundle.id, name=name)[0]

    def save(
        self, document: Document, content: bytes, *, based_on: int, by: str, note: str = ""
    ) -> Revision:
        """A new revision; where the newest one has just these bytes, that one.

        based_on : number of the revision that was changed
        Raises  Stale where that is not the newest one
        """
        check_size(document.name, len(content))
        hand = self._hand(by, note)
        with self._writing() as connection:
            head = saving.head_of(connection, document.id)
            if head.sha256 == shelf.digest(content):
                return Revision(head, content)  # said twice, as where an answer got lost
            saving.refuse_stale(connection, head, based_on)
            return saving.append(connection, head, content, hand)

    def remove(self, document: Document, *, based_on: int, by: str) -> Record:
        """Take a document out of its bundle; its revisions stay, and it can be brought back.

        Raises  as `save`
        """
        hand = self._hand(by)
        with self._writing() as connection:
            head = saving.head_of(connection, document.id)
            if head.removed:
                return head
            saving.refuse_stale(connection, head, based_on)
            return saving.append(connection, head, None, hand).record

    def bring_back(self, document: Document, revision: int, *, based_on: int, by: str) -> Revision:
        """The bytes of an earlier revision as the newest one.

        Raises  as `save`, and as `read`
        """
        hand = self._hand(by, f"brought back from revision {revision}")
        with self._writing() as connection:
            head = saving.head_of(connection, document.id)
            wanted = saving.revision(connection, document, revision)
            if head.sha256 == wanted.record.sha256:
                return Revision(head, wanted.content)
            saving.refuse_stale(connection, head, based_on)
            return saving.append(connection, head, wanted.content, hand)

    # Carrying in and out

    def import_files(
        self, bundle: Bundle, files: Mapping[str, bytes], *, by: str, note: str = "imported"
    ) -> list[Record]:
        """Files as documents: a new revision where the bytes differ from the newest one.

        files : bytes by name inside the bundle
        Raises  DocumentErrors with every name that cannot be used; nothing is imported then
        """
        hand = self._hand(by, note)
        named = saving.names_of(files, where=bundle.name)
        made: list[Record] = []
        with self._writing() as connection:
            problems = []
            for name, content in sorted(named.items()):
                try:
                    record = saving.put(connection, bundle.id, name, content, hand)
                except EvencastError as error:
                    problems.append(saving.problem(error))
                    continue
                made += [record] if record is not None else []
            if problems:
                raise DocumentErrors(bundle.name, problems)
        return made

    def export(self, bundle: Bundle) -> dict[str, bytes]:
        """The newest bytes of every document of a bundle, by name."""
        with self._reading() as connection:
            found = shelf.documents(connection, bundle=bundle.id)
            return {each.name: saving.bytes_of(connection, each.head) for each in found}

    def checkout(self, bundle: Bundle) -> Path:
        """A folder that holds what `export` gives, to be read and never written to; another one
        when a content changes."""
        with self._reading() as connection:
            heads = {each.name: each.head for each in shelf.documents(connection, bundle=bundle.id)}
            digests = {name: head.sha256 or "" for name, head in heads.items()}
            by_digest = {head.sha256: head for head in heads.values()}
            return self._checkouts.folder_with(
                digests, lambda sha256: saving.bytes_of(connection, by_digest[sha256])
            )

    # Keeping it whole

    def backup(self, *, at: datetime | None = None, to: Path | None = None) -> Backup:
        """Everything in one dated archive, read back and compared after it was written.

        at : its date; left out, now
        to : a folder elsewhere; left out, the library's own, where old backups are thinned out
        """
        at = self._clock() if at is None else at
        with self._guarded(), explained(str(to or self.place.backups)):
            made, _ = backups.make(self._database, to or self.place.backups, at=at)
            if to is None:
                self._thin_out()
        return made

    def backup_if_due(self, *, at: datetime | None = None) -> Backup | None:
        """A backup where changes are not in one of the last day; None where none is due."""
        at = self._clock() if at is None else at
        if backups.is_due(self.place.backups, last_change=self.last_change(), at=at):
            return self.backup(at=at)
        return None

    def check(self) -> Checked:
        """Look at every byte of the library; where all are as they were saved, an index that is
        not what the documents make it is made anew."""
        with self._reading() as connection:
            if self._database.is_sqlite:
                checking.check_file(connection, "integrity_check")
            last = shelf.last_change(connection)
            counts = shelf.counts(connection)
            faults = tuple(checking.faults(connection))
            stale = () if faults else tuple(checking.of_index(connection))
        if stale:
            with self._writing() as connection:
                restoring.rebuild_index(connection)
        return Checked(
            last,
            *counts,
            faults=faults,
            mended=stale,
            backups=tuple(backups.backups_in(self.place.backups)),
            since_backup=max(0, last - backups.newest_change(self.place.backups)),
        )

    # Inside

    def _hand(self, by: str, note: str = "") -> Hand:
        return saving.hand(at=self._clock(), by=by, note=note)

    @contextmanager
    def _guarded(self) -> Iterator[None]:
        try:
            yield
        except Damaged as damage:
            raise opening.damaged_while_open(self.place, str(damage)) from damage

    @contextmanager
    def _reading(self) -> Iterator[sa.Connection]:
        with self._guarded(), self._database.reading() as connection:
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[sa.Connection]:
        """One transaction: on disk as an edit first, then taken by the database."""
        kept: Path | None = None
        try:
            with self._guarded(), self._database.writing() as connection:
                before = shelf.last_change(connection)
                yield connection
                last = shelf.last_change(connection)
                if self._edits is not None and last > before:
                    kept = self._edits.keep(
                        connection,
                        before=before,
                        covered=backups.newest_change(self.place.backups),
                        last=last,
                        at=self._clock(),
                    )
        except BaseException:
            if kept is not None:
                kept.unlink(missing_ok=True)
            raise

    def _thin_out(self) -> None:
        """Keep edits until two backups hold them, in case one of the two turns bad."""
        backups.thin_out(self.place.backups)
        found = backups.backups_in(self.place.backups)
        if self._edits is not None and len(found) > 1:
            self._edits.drop_up_to(found[1].last_change)
