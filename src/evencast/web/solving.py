"""What is done with an answer when the work is done: kept in the plan as it is by then."""

from __future__ import annotations

from collections.abc import Callable

from evencast.actions.keep import Kept, WorkedOut, with_kept
from evencast.errors import EvencastError
from evencast.results.words import say_verdict
from evencast.store.library.values import Stale
from evencast.web.changing import TRIES
from evencast.web.desk import Desk
from evencast.web.people import Person


def keeper(desk: Desk, number: int, setup: str, *, by: Person) -> Callable[[WorkedOut], int]:
    """Writes `planned` of an answer into a set-up, beside whatever was edited meanwhile; where the
    plan was changed, the digest it was worked out for says that it is stale.

    Returns a function from the answer to the number of the revision
    """

    def keep(found: WorkedOut) -> int:
        kept = Kept(found.answer.balance, found.answer.lights, found.planned_for)
        document = desk.document(number)
        for _ in range(TRIES):
            opened = desk.open(number)
            text = with_kept(opened.text, setup, kept, where=document.name)
            note = f"solved: {say_verdict(found.answer)} ({setup})"
            try:
                desk.remember(number, setup, found)
                saved = desk.save(document, text, based_on=opened.revision.number, by=by, note=note)
            except Stale:
                continue
            return saved.number
        raise EvencastError(
            "others save all the time, and the answer could not be kept",
            where=document.name,
            remedy="Solve it again.",
        )

    return keep
