"""A plan that cannot be shown: what is wrong with it, and the ways out."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.web.desk import Opened
from evencast.web.failures import Failure


@dataclass(frozen=True)
class BrokenPage:
    """A plan with errors."""

    number: int
    revision: int
    title: str
    what: str
    where: str
    remedy: str
    problems: list[Problem]


def broken_page(opened: Opened, failure: Failure) -> BrokenPage:
    """What is wrong."""
    return BrokenPage(
        number=opened.document.id,
        revision=opened.revision.number,
        title=opened.document.title or opened.document.name,
        what=failure.what,
        where=failure.where,
        remedy=failure.remedy,
        problems=failure.problems,
    )
