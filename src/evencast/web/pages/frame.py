"""The frame around every page: where it leads, who looks."""

from __future__ import annotations

from evencast.web.people import Person
from evencast.web.replies import Frame, Link

PAGES = (("Jobs", "/"), ("Scratch", "/scratch"), ("Learn", "/learn"), ("Crew", "/crew"))
"""Pages that belong to no document."""


def frame(person: Person, path: str, *, within: tuple[Link, ...] = ()) -> Frame:
    """The frame of a page.

    within : pages of the document that the page shows, which stand before the others
    """
    others = [
        Link(name, to, here=path == to or (to != "/" and path.startswith(f"{to}/")))
        for name, to in PAGES
    ]
    return Frame((*within, *others), person)
