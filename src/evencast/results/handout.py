"""What is told of hand-outs."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem


@dataclass(frozen=True)
class HandoutFile:
    """One file that was written.

    what  : which hand-out it is: "cards", "choice", ...
    file  : where it is
    bytes : its size
    """

    what: str
    file: str
    bytes: int


@dataclass(frozen=True)
class HandoutAnswer:
    """`handout`: the documents of a plan.

    setups   : names of the set-ups they are for; empty for the plan itself
    files    : in the order they were asked for
    problems : of the plan, and what the documents cannot show or lack
    """

    plan: str
    date: str
    setups: list[str]
    files: list[HandoutFile]
    problems: list[Problem]
