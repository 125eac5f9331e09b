"""The revisions of a plan or a kit, one of them, and the document as text."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.editing.document import KIT, PLAN, opened
from evencast.actions.merging.changes import changes, say
from evencast.errors import DocumentErrors, Problem
from evencast.web.desk import Desk


@dataclass(frozen=True)
class PastRevision:
    """One line of a history.

    saved_at : by the machine's clock
    removed  : whether it took the document out
    """

    number: int
    saved_at: str
    by: str
    note: str
    removed: bool


@dataclass(frozen=True)
class HistoryPage:
    """Every revision, the newest first."""

    kind: str
    number: int
    revision: int
    title: str
    revisions: list[PastRevision]


@dataclass(frozen=True)
class RevisionPage:
    """One revision to be looked at.

    changes : in words, what was changed from it until now
    """

    kind: str
    number: int
    revision: int
    head: int
    title: str
    saved_at: str
    by: str
    note: str
    text: str
    changes: list[str]
    problems: list[Problem]


@dataclass(frozen=True)
class TextPage:
    """A document as text, to be written by hand.

    revision : that the text began as
    problems : of the text as it stands here
    """

    kind: str
    number: int
    revision: int
    title: str
    text: str
    problems: list[Problem]


def history_page(desk: Desk, number: int) -> HistoryPage:
    """All there was."""
    document = desk.document(number)
    return HistoryPage(
        kind=document.kind,
        number=number,
        revision=document.head.number,
        title=document.title or document.name,
        revisions=[
            PastRevision(
                each.number,
                each.saved_at.isoformat(timespec="seconds"),
                each.by,
                each.note,
                each.removed,
            )
            for each in reversed(desk.library.history(document))
        ],
    )


def revision_page(desk: Desk, number: int, revision: int) -> RevisionPage:
    """One of them, compared with now.

    Raises  EvencastError where there is none of that number
    """
    document = desk.document(number)
    past, head = desk.library.read(document, revision), desk.library.read(document)
    text, now = (each.content.decode("utf-8-sig", "replace") for each in (past, head))
    sort = KIT if document.kind == "kit" else PLAN
    try:
        told = [say(each) for each in changes(opened(sort, text), opened(sort, now))]
    except DocumentErrors:
        told = ["One of the two cannot be read as TOML; compare their texts."]
    if not told and text != now:
        told = ["Only the layout or a remark was changed."]
    return RevisionPage(
        kind=document.kind,
        number=number,
        revision=revision,
        head=head.number,
        title=document.title or document.name,
        saved_at=past.record.saved_at.isoformat(timespec="seconds"),
        by=past.record.by,
        note=past.record.note,
        text=text,
        changes=told,
        problems=list(sort.problems(text)),
    )


def text_page(
    desk: Desk, number: int, text: str | None = None, based_on: int | None = None
) -> TextPage:
    """A document as text.

    text : as somebody typed it; None for the newest revision's
    """
    found = desk.open(number)
    sort = KIT if found.document.kind == "kit" else PLAN
    shown = found.text if text is None else text
    return TextPage(
        kind=found.document.kind,
        number=number,
        revision=found.revision.number if based_on is None else based_on,
        title=found.document.title or found.document.name,
        text=shown,
        problems=list(sort.problems(shown)),
    )
