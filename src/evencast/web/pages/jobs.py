"""The first page: every plan and every kit, and how to begin."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.filters import generic_names
from evencast.quantities import listed
from evencast.store.library.values import Document
from evencast.web.desk import Desk


@dataclass(frozen=True)
class Entry:
    """One plan or kit.

    number   : of its document, by which its page is found
    holds    : its lights or filters, in words
    revision : the newest, from which a change of it begins
    """

    number: int
    title: str
    bundle: str
    file: str
    holds: str
    revision: int
    saved_at: str
    saved_by: str


@dataclass(frozen=True)
class BundleEntry:
    """One bundle.

    holds : how many documents of what kind, in words
    """

    number: int
    name: str
    holds: str


@dataclass(frozen=True)
class JobsPage:
    """Every plan and kit of the library, the newest change first.

    generics : how many generic filters a new kit begins with
    """

    plans: list[Entry]
    kits: list[Entry]
    bundles: list[BundleEntry]
    generics: int


def jobs_page(desk: Desk) -> JobsPage:
    """All there is."""
    documents = sorted(desk.library.documents(), key=lambda each: -each.head.change)
    return JobsPage(
        plans=[_entry(each, "light") for each in documents if each.kind == "plan"],
        kits=[_entry(each, "filter") for each in documents if each.kind == "kit"],
        bundles=[
            BundleEntry(
                each.id, each.name, _holds([d for d in documents if d.bundle.id == each.id])
            )
            for each in desk.library.bundles()
        ],
        generics=len(generic_names()),
    )


PLURAL = {"plan": "plans", "kit": "kits", "spectrum": "spectra", "frame": "frames"}
PLURAL |= {"photometric": "photometric files", "other": "other files"}
SINGULAR = {"photometric": "photometric file", "other": "other file"}


def _holds(documents: list[Document]) -> str:
    counts = {kind: sum(each.kind == kind for each in documents) for kind in PLURAL}
    told = [
        f"{count} {SINGULAR.get(kind, kind) if count == 1 else PLURAL[kind]}"
        for kind, count in counts.items()
        if count
    ]
    return listed(told) or "nothing yet"


def _entry(document: Document, what: str) -> Entry:
    head, count = document.head, len(document.holds)
    names = listed([*document.holds[:3], f"{count - 3} more"] if count > 4 else document.holds)
    return Entry(
        number=document.id,
        title=document.title or document.name,
        bundle=document.bundle.name,
        file=document.name,
        holds=names or f"no {what} yet",
        revision=head.number,
        saved_at=head.saved_at.isoformat(timespec="seconds"),
        saved_by=head.by,
    )
