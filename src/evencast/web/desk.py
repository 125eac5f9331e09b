"""What all pages work with: the library, the jobs, the changes, and what is kept warm."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, TypeVar

from evencast.actions.hangs import Standing
from evencast.actions.keep import WorkedOut
from evencast.errors import EvencastError
from evencast.plan.place import folded
from evencast.store.files import confined
from evencast.store.key import own_key
from evencast.store.library.kinds import Kind
from evencast.store.library.library import Library
from evencast.store.library.values import Bundle, Document, Record, Revision
from evencast.store.papers import Papers
from evencast.web.jobs import Job, Jobs
from evencast.web.live import Live
from evencast.web.people import Person

T = TypeVar("T")
MOST_WARM = 256
MOST_STOOD = 16
MIDDLE = "4300K"
"""Where a plan that leaves its balance open is looked at until one is chosen."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A document with its bundle on disk.

    path     : of the document in a folder that holds its bundle as it is now
    revision : the newest
    """

    document: Document
    revision: Revision
    path: Path

    @property
    def root(self) -> Path:
        """The folder of its bundle."""
        return self.path.parents[self.document.name.count("/")]

    @property
    def text(self) -> str:
        """Of a plan, a kit or a table; begins with U+FEFF where the file has a byte order mark."""
        return self.revision.content.decode()


class Desk:
    """One library and all that goes with it."""

    def __init__(self, library: Library) -> None:
        """library : open; closed by whoever opened it"""
        self.library = library
        self.jobs = Jobs(self._job_changed, within=library.place.checkouts)
        self.papers = Papers()
        self._seen = library.last_change()
        self.live = Live(self._changes)
        self._warm: OrderedDict[Hashable, Any] = OrderedDict()
        self._stood: OrderedDict[tuple[int, str | None], Standing] = OrderedDict()
        self._answers: OrderedDict[tuple[int, str], WorkedOut] = OrderedDict()
        self._lock = threading.Lock()
        self._making: dict[Hashable, threading.Lock] = {}

    def document(self, number: int, kind: Kind | None = None) -> Document:
        """A document by its number.

        kind : that it has to be of
        Raises  EvencastError where there is none
        """
        found = next(
            (each for each in self.library.documents(None, kind) if each.id == number), None
        )
        if found is None:
            raise EvencastError(
                f"there is no such {kind or 'document'} here",
                where=f"document {number}",
                remedy="Go to the jobs.",
            )
        return found

    def bundle(self, number: int) -> Bundle:
        """A bundle by its number.

        Raises  EvencastError where there is none
        """
        found = next((each for each in self.library.bundles() if each.id == number), None)
        if found is None:
            raise EvencastError(
                "there is no such bundle here", where=f"bundle {number}", remedy="Go to the jobs."
            )
        return found

    def open(self, number: int, kind: Kind | None = None) -> Opened:
        """A document as it is now, its bundle on disk; see `document`. It is looked for anew after
        every change of the library."""

        def made() -> Opened:
            document = self.document(number, kind)
            path = self.library.checkout(document.bundle) / document.name
            return Opened(document, self.library.read(document), path)

        return self.warm(("opened", number, kind, self.library.last_change()), made)

    def at(self, number: int, revision: int) -> Opened:
        """A document as it was in a revision; the bundle on disk is as it is now.

        Raises  EvencastError where there never was such a revision
        """
        document = self.document(number)
        path = self.library.checkout(document.bundle) / document.name
        return Opened(document, self.library.read(document, revision), path)

    def cautions(self, opened: Opened, setup: str, light: str) -> list[str]:
        """What to mind with a light as it hangs."""
        answer = self.standing(opened, setup or None).at(MIDDLE)
        return [
            caution
            for each in answer.lights
            if folded(each.name) == folded(light)
            for caution in each.cautions
        ]

    def standing(self, opened: Opened, setup: str | None) -> Standing:
        """A plan as it hangs, worked out once for each state of its bundle."""

        def made() -> Standing:
            before = self._stood.get((opened.document.id, setup))
            with confined(opened.root):
                found = Standing(opened.path, setup=setup, before=before)
            self._stood[opened.document.id, setup] = found
            while len(self._stood) > MOST_STOOD:
                self._stood.popitem(last=False)
            return found

        return self.warm(("standing", opened.path, setup), made)

    def warm(self, key: Hashable, make: Callable[[], T]) -> T:
        """What was made for that key, or is made now; the least used goes when there is much."""
        with self._lock:
            making = self._making.setdefault(key, threading.Lock())
        with making:  # who asks for the same meanwhile waits for it, and does not make it too
            try:
                with self._lock:
                    if key in self._warm:
                        self._warm.move_to_end(key)
                        return self._warm[key]  # type: ignore[no-any-return]
                made = make()
                with self._lock:
                    self._warm[key] = made
                    while len(self._warm) > MOST_WARM:
                        self._warm.popitem(last=False)
                return made
            finally:
                with self._lock:
                    self._making.pop(key, None)

    def remember(self, document: int, setup: str, found: WorkedOut) -> None:
        """The last answer to a plan in a set-up, with its reasons and its other ways; kept until
        the program ends, since solving again brings it back."""
        with self._lock:
            self._answers[document, folded(setup)] = found
            while len(self._answers) > MOST_WARM:
                self._answers.popitem(last=False)

    def answered(self, document: int, setup: str) -> WorkedOut | None:
        """The last answer to a plan in a set-up; None where there is none any more."""
        with self._lock:
            return self._answers.get((document, folded(setup)))

    def save(
        self, document: Document, text: str, *, based_on: int, by: Person, note: str
    ) -> Revision:
        """A new revision, signed."""
        return self.library.save(document, text.encode(), based_on=based_on, by=by.name, note=note)

    def new_bundle(self, name: str) -> Bundle:
        """A bundle of that name, or one like it where it is taken."""
        taken = {each.name.casefold() for each in self.library.bundles()}
        tried = [name, *(f"{name} {number}" for number in range(2, len(taken) + 3))]
        return self.library.new_bundle(next(each for each in tried if each.casefold() not in taken))

    def form_key(self) -> bytes:
        """What the tokens of forms are made with."""
        return own_key(self.library.place.backups.parent)

    def close(self) -> None:
        """End the work; the library is its opener's."""
        self.jobs.close()
        self.papers.close()

    def _changes(self) -> list[dict[str, Any]]:
        records = self.library.changes_after(self._seen)
        if records:
            self._seen = records[-1].change
        return [_told(each) for each in records]

    def _job_changed(self, job: Job) -> None:
        told = {"number": job.number, "state": job.state, "doing": job.doing}
        self.live.tell("job", told | {"done": job.done, "of": job.of})


def _told(record: Record) -> dict[str, Any]:
    said = asdict(record)
    return {name: said[name] for name in ("change", "document", "bundle", "number", "by", "note")}
