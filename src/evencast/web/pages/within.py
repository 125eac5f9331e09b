"""What belongs together: the kit of a plan, the plans of a kit, and the pages of both."""

from __future__ import annotations

import posixpath

from evencast.errors import Problem
from evencast.plan.syntax import parsed
from evencast.store.library.values import Document
from evencast.web.desk import Desk, Opened
from evencast.web.replies import Link


def kit_of(desk: Desk, opened: Opened) -> int | None:
    """The number of the kit that a plan names; None where its bundle has no such kit."""
    document = opened.document

    def found() -> int | None:
        data = parsed(opened.text, where=document.name)
        named = None if isinstance(data, Problem) else data.get("kit")
        if not isinstance(named, str):
            return None
        name = _beside(document.name, named)
        kits = desk.library.documents(document.bundle, "kit")
        return next((each.id for each in kits if each.name == name), None)

    # bundles that hold the same have one folder
    return desk.warm(("kit of", document.id, opened.path, opened.revision.number), found)


def plans_of(desk: Desk, kit: Document) -> dict[str, Document]:
    """The plans that name a kit, by what they are called, each with its file where two are called
    alike."""
    found: dict[str, Document] = {}
    for each in desk.library.documents(kit.bundle, "plan"):
        text = desk.library.read(each).content.decode("utf-8-sig", "replace")
        data = parsed(text, where=each.name)
        named = None if isinstance(data, Problem) else data.get("kit")
        if isinstance(named, str) and _beside(each.name, named) == kit.name:
            title = each.title or each.name
            found[f"{title} ({each.name})" if title in found else title] = each
    return found


def plan_pages(desk: Desk, opened: Opened, here: str) -> tuple[Link, ...]:
    """The pages of a plan.

    here : the name of the one that is shown
    """
    number, kit = opened.document.id, kit_of(desk, opened)
    links = [("Plan", f"/plan/{number}")]
    links += [] if kit is None else [("Kit", f"/kit/{kit}?plan={number}")]
    links += [("Hand-outs", f"/plan/{number}/hand-outs"), ("History", f"/plan/{number}/history")]
    return tuple(Link(name, path, here=name == here) for name, path in links)


def kit_pages(desk: Desk, kit: Document, plan: int | None, here: str) -> tuple[Link, ...]:
    """The pages of a kit, behind those of the plan that one came from.

    plan : number of that plan; None where one came from elsewhere
    here : the name of the page that is shown
    """
    came = next((each for each in plans_of(desk, kit).values() if each.id == plan), None)
    asked = "" if came is None else f"?plan={came.id}"
    links = [] if came is None else [("Plan", f"/plan/{came.id}")]
    links += [
        ("Kit", f"/kit/{kit.id}{asked}"),
        ("Reference", f"/kit/{kit.id}/reference{asked}"),
        ("History", f"/kit/{kit.id}/history{asked}"),
    ]
    return tuple(Link(name, path, here=name == here) for name, path in links)


def _beside(document: str, named: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(document), named))
