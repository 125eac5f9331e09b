"""The first page: every plan and every kit, and how to begin."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.quantities import listed
from evencast.store.library.values import Document
from evencast.web.desk import Desk


@dataclass(frozen=True)
class Entry:
    """One plan or kit.

    number : of its document, by which its page is found
    holds  : its lights or filters, in words
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
class JobsPage:
    """Every plan and kit of the library, the newest change first."""

    plans: list[Entry]
    kits: list[Entry]
    bundles: list[str]


def jobs_page(desk: Desk) -> JobsPage:
    """All there is."""
    documents = sorted(desk.library.documents(), key=lambda each: -each.head.change)
    return JobsPage(
        plans=[_entry(each, "light") for each in documents if each.kind == "plan"],
        kits=[_entry(each, "filter") for each in documents if each.kind == "kit"],
        bundles=[each.name for each in desk.library.bundles()],
    )


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
