"""Papers as a page shows them: what was made, what is being made, and what of it can be seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from pydantic import BaseModel

from evencast.errors import Problem
from evencast.store.papers import PaperSet
from evencast.web.desk import Desk
from evencast.web.failures import Failure, failure_of, plainly


@dataclass(frozen=True)
class PaperView:
    """One file.

    path  : where it is shown or kept
    size  : in words
    pages : paths of its pages as pictures
    opens : whether a browser shows it, to be printed from there; else it is kept on the device
    """

    name: str
    path: str
    size: str
    pages: list[str]
    opens: bool


@dataclass(frozen=True)
class PaperSetView:
    """One hand-out that is made."""

    kind: str
    title: str
    files: list[PaperView]
    problems: list[Problem]


@dataclass(frozen=True)
class Making:
    """How far the work is.

    done, of : steps of what is being done; of is 0 where they cannot be counted
    """

    job: int
    waits: bool
    doing: str
    done: int
    of: int


@dataclass(frozen=True)
class MadePart:
    """What there is for a state and a wish.

    key    : of both
    making : what is being made now; None where nothing is
    failed : why the last work ended without papers
    all_in_one : where all that is made can be had as one archive; "" where nothing is
    """

    key: str
    sets: list[PaperSetView]
    making: Making | None
    failed: Failure | None
    all_in_one: str


def made_part(desk: Desk, key: str, kinds: dict[str, str], root: str) -> MadePart:
    """What is made, and what is being made.

    kinds : every kind that there may be, with its title
    root  : path of the page
    """
    made = [desk.papers.made(key, kind) for kind in kinds]
    sets = [_set(each, kinds[each.kind], f"{root}/{key}") for each in made if each is not None]
    jobs = [each for each in desk.jobs.every() if each.subject.startswith(f"papers {key} ")]
    running = [each for each in jobs if each.is_open]
    making = None
    if running:
        now = running[0]
        making = Making(now.number, now.state == "waiting", now.doing, now.done, now.of)
    failed = None
    if jobs and not running and jobs[-1].state == "failed" and jobs[-1].error is not None:
        failed = failure_of(jobs[-1].error)
    return MadePart(key, sets, making, failed, f"{root}/{key}/all.zip" if sets else "")


def fields_of(asked: BaseModel) -> list[tuple[str, str]]:
    """What is wished as fields of a form, without what is as usual."""
    told = asked.model_dump(exclude_defaults=True)
    pairs = [(name, each) for name, each in told.items() if not isinstance(each, list)]
    pairs += [(name, one) for name, each in told.items() if isinstance(each, list) for one in each]
    return [(name, str(each)) for name, each in pairs]


def address_of(asked: BaseModel) -> str:
    """What is wished as the query of an address."""
    return urlencode(fields_of(asked))


def subject(key: str, kinds: Sequence[str]) -> str:
    """What a job is for that makes papers."""
    return f"papers {key} {'+'.join(kinds)}"


def missing(desk: Desk, key: str, kinds: Sequence[str]) -> list[str]:
    """Kinds that are neither made nor being made."""
    being = {
        kind
        for each in desk.jobs.every()
        if each.is_open and each.subject.startswith(f"papers {key} ")
        for kind in each.subject.rpartition(" ")[2].split("+")
    }
    return [each for each in kinds if each not in being and desk.papers.made(key, each) is None]


def _set(each: PaperSet, title: str, root: str) -> PaperSetView:
    files = []
    for file in each.files:
        path = f"{root}/{each.kind}/{quote(file.name)}"
        pages = [f"{path}/{number}.png" for number in range(1, file.pages + 1)]
        opens = file.name.endswith(".pdf")
        files.append(PaperView(file.name, path, _size(file.bytes), pages, opens))
    return PaperSetView(each.kind, title, files, plainly(each.problems))


def _size(count: int) -> str:
    return f"{max(1, round(count / 1000))} kB"
