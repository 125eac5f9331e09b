"""The crew: how to join, who is in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from evencast.handouts.qr import qr_code
from evencast.store.library.crew import Session
from evencast.web.door import Door, spaced
from evencast.web.people import Person

OVERHEARD = (
    "What goes between the phones and the laptop is plain http: anybody on this network can "
    "listen to it, and so get in. Use a network that only the crew is on."
)
MAY = {
    "owner": "may do everything",
    "edit": "may look and change",
    "view": "may look",
}


@dataclass(frozen=True)
class CodeCard:
    """One way in; told to the person at the laptop alone.

    may  : what it lets people do
    code : eight characters, to be typed at `address`
    link : what the QR code holds
    svg  : the QR code
    """

    role: str
    may: str
    code: str
    link: str
    svg: str


@dataclass(frozen=True)
class Member:
    """Somebody who is in.

    id   : of the session
    seen : when they last asked for anything, in words
    """

    id: str
    name: str
    role: str
    may: str
    device: str
    seen: str
    joined_at: str
    is_you: bool


@dataclass(frozen=True)
class CrewPage:
    """Who takes part.

    is_open : whether others can join
    address : that they type; "" where they cannot
    codes   : empty for everybody but the person at the laptop
    mind    : what is to be known about this network
    """

    is_open: bool
    address: str
    codes: list[CodeCard]
    members: list[Member]
    name: str
    role: str
    may: str
    mind: list[str]


@dataclass(frozen=True)
class JoinPage:
    """The way in.

    is_open : whether there is one
    name    : that was typed before a refusal
    failure : why the last try did not work, what to do; "" where there was none
    """

    is_open: bool
    name: str = ""
    what: str = ""
    remedy: str = ""
    already: str = ""


def crew_page(door: Door | None, person: Person, *, now: datetime | None = None) -> CrewPage:
    """The crew as one of it may see it.

    now : left out, by the machine's clock
    """
    at = datetime.now(UTC) if now is None else now
    is_owner = person.role == "owner"
    return CrewPage(
        is_open=door is not None,
        address=f"{door.address}/join" if door else "",
        codes=_codes(door) if door and is_owner else [],
        members=[_member(each, person, at) for each in door.sessions()] if door else [],
        name=person.name,
        role=person.role,
        may=MAY[person.role],
        mind=[OVERHEARD] if door else [],
    )


def _codes(door: Door) -> list[CodeCard]:
    return [
        CodeCard(
            role, MAY[role], spaced(issued.short), door.link(role), qr_code(door.link(role)).svg
        )
        for role, issued in door.codes.items()
    ]


def _member(session: Session, person: Person, at: datetime) -> Member:
    return Member(
        id=session.id,
        name=session.name,
        role=session.role,
        may=MAY[session.role],
        device=session.device,
        seen=say_ago(at - session.last_seen),
        joined_at=session.made_at.isoformat(timespec="seconds"),
        is_you=session.id == person.id,
    )


def say_ago(passed: timedelta) -> str:
    """How long ago, to be read in passing; a clock that was set back says now."""
    minutes = int(passed.total_seconds() // 60)
    if minutes < 2:
        return "now"
    if minutes < 120:
        return f"{minutes} minutes ago"
    hours = minutes // 60
    return f"{hours} hours ago" if hours < 48 else f"{hours // 24} days ago"
