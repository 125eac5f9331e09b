"""What routes ask for: the desk, and who is there."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from evencast.web.desk import Desk
from evencast.web.people import LOOK_ONLY, OWNER, OWNER_ONLY, Person


def _desk(request: Request) -> Desk:
    found = request.app.state.desk
    assert isinstance(found, Desk)
    return found


TheDesk = Annotated[Desk, Depends(_desk)]


def _person(request: Request) -> Person:
    return getattr(request.state, "person", OWNER)


ThePerson = Annotated[Person, Depends(_person)]
"""Who looks."""


def _editor(person: ThePerson) -> Person:
    if not person.may_edit:
        raise LOOK_ONLY
    return person


def _owner(person: ThePerson) -> Person:
    if person.role != "owner":
        raise OWNER_ONLY
    return person


Editor = Annotated[Person, Depends(_editor)]
"""Who changes something; refused where they joined to look."""

Owner = Annotated[Person, Depends(_owner)]
"""Who runs the laptop."""
