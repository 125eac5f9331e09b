"""Solving beside the page: how far it is, what came of it, and the other ways."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.actions.keep import WorkedOut
from evencast.plan.place import folded
from evencast.results.hangs import HangsAnswer
from evencast.results.plan import Alternative
from evencast.results.words import say_balance, say_minutes, say_off
from evencast.web.desk import Desk
from evencast.web.jobs import Job


@dataclass(frozen=True)
class Way:
    """One way to do the scene, to be held beside others.

    number : of it, by which it is picked; 0 is the best
    hangs  : whether this is what is planned now
    """

    number: int
    name: str
    balance: str
    pieces: int
    area: str
    time: str
    off: str
    hangs: bool


@dataclass(frozen=True)
class Solving:
    """What is known of a set-up's answer.

    subject : of the job
    job     : number of the one that runs, else of the last; None where there was none
    state   : of that job; "" without one
    share   : of the work that is done, 0 to 1; None where that is not known
    failed  : why the last one failed
    stale   : whether plan or kit were changed since what is planned was worked out
    planned : whether anything is
    why     : of the balance, in sentences
    wanting, conflict : what would help, what excludes each other
    """

    subject: str
    job: int | None
    state: str
    doing: str
    share: float | None
    failed: str
    stale: bool
    planned: bool
    why: str
    wanting: list[str]
    conflict: list[str]
    ways: list[Way]


def subject_of(number: int, setup: str) -> str:
    """What a job is about: one open job for each plan and set-up."""
    return f"plan {number}, {folded(setup)}"


def last_job(desk: Desk, number: int, setup: str) -> Job | None:
    """The newest job of a plan in a set-up."""
    subject = subject_of(number, setup)
    return next((each for each in reversed(desk.jobs.every()) if each.subject == subject), None)


def solving(
    number: int,
    planned_for: str | None,
    answer: HangsAnswer,
    job: Job | None,
    found: WorkedOut | None,
) -> Solving:
    """How a plan's answer stands in a set-up.

    planned_for : digest of what the set-up's plan was worked out for
    job, found  : the last one, and what the last that was done found
    """
    fresh = found is not None and found.planned_for == planned_for and not answer.stale
    solved = found.answer if found is not None and fresh else None
    return Solving(
        subject=subject_of(number, answer.setup or ""),
        job=None if job is None else job.number,
        state="" if job is None else job.state,
        doing="" if job is None else job.doing,
        share=None if job is None or not job.of else job.done / job.of,
        failed="" if job is None or job.error is None else f"{job.error.what}. {job.error.remedy}",
        stale=bool(answer.stale),
        planned=any(each.known_by for each in answer.lights),
        why="" if solved is None else solved.why,
        wanting=[] if solved is None else [each.text for each in solved.wanting],
        conflict=[] if solved is None else solved.conflict,
        ways=[]
        if solved is None
        else [_way(at, each, answer) for at, each in enumerate(solved.alternatives)],
    )


def _way(number: int, each: Alternative, answer: HangsAnswer) -> Way:
    return Way(
        number=number,
        name=each.name,
        balance=say_balance(each.balance),
        pieces=each.pieces,
        area=f"{each.area_m2:.1f} m²",
        time=say_minutes(each.minutes),
        off=say_off(each),
        hangs=_hangs(each, answer),
    )


def _hangs(way: Alternative, answer: HangsAnswer) -> bool:
    """Whether just this hangs, at its own balance."""
    there = {each.name: each.hangs for each in answer.lights}
    return all(
        (found := there.get(each.name)) is not None
        and found.filters == each.filters
        and found.scrims == each.scrims
        and found.dial_k == each.dial_k
        and abs(found.dim_stops - each.dim_stops) < 1e-3
        and found.swapped_for == each.swapped_for
        for each in way.lights
    )
