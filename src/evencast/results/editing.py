"""What comes of typing a light, of changing a document, and of bringing two changes together."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from evencast.errors import Problem


@dataclass(frozen=True, slots=True)
class Understood:
    """Words of a typed line, and what they were taken as."""

    words: str
    taken_as: str


@dataclass(frozen=True, slots=True)
class Ask:
    """What has to be said before a typed light can be added.

    question   : in words
    accepted   : words that answer it; [] where none can be named
    instead_of : words of the line that one of these replaces; "" where it goes behind the line
    """

    question: str
    accepted: list[str] = field(default_factory=list)
    instead_of: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """A light as one typed line says it.

    name           : as typed, else made up from what it is; unique in the plan
    keys           : of the light as a plan has them, without its name
    understood     : in the order of the line
    not_understood : words that were taken as nothing; each is asked about too
    asks           : what is still needed; with none of them the plan takes the light as it is
    assumed        : what was not said and was taken so, and what could not be kept
    """

    name: str
    keys: dict[str, Any]
    understood: list[Understood]
    not_understood: list[str]
    asks: list[Ask]
    assumed: list[str]


@dataclass(frozen=True, slots=True)
class NotedReading:
    """A reading as one typed line says it.

    keys       : of `read` as a set-up has them
    understood : in the order of the line
    """

    keys: dict[str, Any]
    understood: list[Understood]


@dataclass(frozen=True, slots=True)
class Edited:
    """A document after one change.

    text     : of the whole document
    said     : what was done, in a sentence for the history
    name     : of what was added, renamed or changed; None where that has no name
    problems : warnings that were not there before
    """

    text: str
    said: str
    name: str | None = None
    problems: list[Problem] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Clash:
    """One thing that two people changed to different values.

    path               : of the value in the document, entries of lists by their names; () where
                         each version is sound and only both together are not, so that one of the
                         two is kept whole
    where              : the same in words
    base, mine, theirs : the values, None where there is none
    base_said, mine_said, theirs_said : the same in words, what differs from the base alone
    """

    path: tuple[str | int, ...]
    where: str
    base: Any
    mine: Any
    theirs: Any
    base_said: str
    mine_said: str
    theirs_said: str


@dataclass(frozen=True, slots=True)
class Merged:
    """Two changed versions of one document brought together.

    text    : theirs with every change of mine that does not clash
    clashes : what has to be decided; `text` has theirs there
    taken   : in words, each change of mine that is in it
    notes   : what to know of it, as of remarks that could not be carried over
    """

    text: str
    clashes: list[Clash]
    taken: list[str]
    notes: list[str]
