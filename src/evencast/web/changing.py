"""A change of a document that several people have open: saved, brought together, or shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from evencast.actions.editing.document import KIT, PLAN, Sort
from evencast.actions.merging.merging import merge, settle
from evencast.errors import DocumentErrors, EvencastError
from evencast.results.editing import Edited, Merged
from evencast.store.library.library import Library
from evencast.store.library.shelf import digest
from evencast.store.library.values import Document, Revision, Stale
from evencast.web.desk import Desk
from evencast.web.people import Person

Edit = Callable[[str], Edited]
TRIES = 5
"""How often a save is begun anew because somebody else was quicker."""


@dataclass(frozen=True, slots=True)
class Saved:
    """A change that is in the library.

    before : number of the revision that it was made on top of, to go back to
    notes  : what to know of it, as that it was put on top of what another saved
    """

    revision: Revision
    before: int
    said: str
    name: str | None = None
    notes: list[str] = field(default_factory=list)


class Clashed(Exception):  # noqa: N818 - it says what became of the change
    """A change that meets another of the same thing; nothing was saved, nothing is lost.

    base   : number of the revision that both began with
    head   : the newest, with the other's change
    mine   : the whole text with this one's
    merged : theirs with all of mine that does not clash
    """

    def __init__(self, base: int, head: Revision, mine: str, merged: Merged) -> None:
        super().__init__("two people changed the same thing")
        self.base, self.head, self.mine, self.merged = base, head, mine, merged


def change(
    desk: Desk, number: int, edit: Edit, *, based_on: int, by: Person, fresh: bool = False
) -> Saved:
    """A document changed as somebody asked who had a certain revision before them.

    edit  : text in, text out
    fresh : whether it is made anew on what is there now, as where a light is added; else what it
            did to the revision they saw is merged with what was done since
    Raises  Clashed; what `edit` raises; EvencastError for a revision that never was
    """
    document = desk.document(number)
    sort = KIT if document.kind == "kit" else PLAN
    for _ in range(TRIES):
        head = desk.library.read(document)
        base = head if based_on == head.number else desk.library.read(document, based_on)
        made = edit(_text(base))
        merged = Merged(made.text, [], [], [])
        if base is not head:
            if _done_already(desk.library, document, based_on, made.text, by):
                return Saved(head, head.number, made.said, made.name, ["It was saved already."])
            if fresh:
                made = edit(_text(head))
                merged = Merged(made.text, [], [], [])
            else:
                merged = _merged(_text(base), made.text, _text(head), sort)
        if merged.clashes:
            raise Clashed(based_on, head, made.text, merged)
        try:
            revision = desk.save(document, merged.text, based_on=head.number, by=by, note=made.said)
        except Stale:
            continue
        notes = list(merged.notes)
        if base is not head and not fresh:
            who = head.record.by or "somebody"
            notes.insert(0, f"Put on top of what {who} saved meanwhile.")
        return Saved(revision, head.number, made.said, made.name, notes)
    raise EvencastError(
        "others save all the time, and this could not be put on top",
        where=document.name,
        remedy="Try it again.",
    )


def decide(
    desk: Desk, number: int, mine: str, *, based_on: int, seen: int, keep_mine: bool, by: Person
) -> Saved:
    """What a person decided who was shown both versions.

    mine : the whole text with their change, out of a form
    seen : number of the other's revision that they were shown
    Raises  Clashed where a third version came meanwhile
    """
    document = desk.document(number)
    sort = KIT if document.kind == "kit" else PLAN
    head = desk.library.read(document)
    base = _text(desk.library.read(document, based_on))
    mine = as_sent(mine, base)
    merged = _merged(base, mine, _text(head), sort)
    if head.number != seen:
        raise Clashed(based_on, head, mine, merged)
    text = merged.text
    if keep_mine:
        text = mine if any(not each.path for each in merged.clashes) else text
        for clash in merged.clashes:
            text = settle(text, clash, sort=sort) if clash.path else text
    errors = [each for each in sort.problems(text) if each.severity == "error"]
    if errors and errors != [e for e in sort.problems(_text(head)) if e.severity == "error"]:
        raise DocumentErrors(sort.where, errors)
    said = "; ".join(each.mine_said if keep_mine else each.theirs_said for each in merged.clashes)
    note = f"decided between two versions: {said}"[:400]
    try:
        revision = desk.save(document, text, based_on=head.number, by=by, note=note)
    except Stale as stale:
        raise Clashed(based_on, stale.head, mine, merged) from None
    return Saved(revision, head.number, note)


def as_sent(text: str, before: str) -> str:
    """A text out of a form, which makes two characters of every end of a line, with the ends that
    the text had before."""
    plain = text.replace("\r\n", "\n")
    return plain.replace("\n", "\r\n") if "\r\n" in before else plain


def _merged(base: str, mine: str, theirs: str, sort: Sort) -> Merged:
    return merge(base, mine, theirs, sort=sort)


def _text(revision: Revision) -> str:
    return revision.content.decode()


def _done_already(
    library: Library, document: Document, based_on: int, text: str, by: Person
) -> bool:
    """Whether the same person saved just this on top of that revision: a form that was sent twice,
    as where the answer to the first was lost."""
    sha256 = digest(text.encode())
    return any(
        each.number == based_on + 1 and each.sha256 == sha256 and each.by == by.name
        for each in library.history(document)
    )
