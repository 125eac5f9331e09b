"""What routes ask for: the desk, and who is there. None of it waits for anything, so it is asked on
the spot and not in a thread of its own."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from evencast.errors import EvencastError
from evencast.web.desk import Desk
from evencast.web.door import Door
from evencast.web.people import LOOK_ONLY, NOT_IN, OWNER_ONLY, Person


async def _desk(request: Request) -> Desk:
    found = request.app.state.desk
    assert isinstance(found, Desk)
    return found


TheDesk = Annotated[Desk, Depends(_desk)]


async def _door(request: Request) -> Door | None:
    found: Door | None = request.app.state.door
    return found


MaybeDoor = Annotated[Door | None, Depends(_door)]
"""Where the crew comes in; None where the laptop is by itself."""


async def _open_door(door: MaybeDoor) -> Door:
    if door is None:
        raise EvencastError(
            "nobody can join: the laptop is by itself",
            where="crew",
            remedy="End the server and start it as `evencast serve --crew`.",
        )
    return door


TheDoor = Annotated[Door, Depends(_open_door)]


async def _anybody(request: Request) -> Person | None:
    found: Person | None = request.state.person
    return found


Anybody = Annotated[Person | None, Depends(_anybody)]
"""Who looks; None for somebody who is not in."""


async def _person(person: Anybody) -> Person:
    if person is None:
        raise NOT_IN
    return person


ThePerson = Annotated[Person, Depends(_person)]
"""Who looks."""


async def _editor(person: ThePerson) -> Person:
    if not person.may_edit:
        raise LOOK_ONLY
    return person


async def _owner(person: ThePerson) -> Person:
    if person.role != "owner":
        raise OWNER_ONLY
    return person


Editor = Annotated[Person, Depends(_editor)]
"""Who changes something; refused where they joined to look."""

Owner = Annotated[Person, Depends(_owner)]
"""Who runs the laptop."""
