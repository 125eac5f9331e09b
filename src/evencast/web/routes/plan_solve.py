"""Solving a plan: started, watched, cancelled; another way picked."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from evencast.actions.keep import Kept, with_kept, work_out
from evencast.errors import EvencastError
from evencast.results.editing import Edited
from evencast.results.words import say_balance
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.pages.plan import PlanPage, plan_page
from evencast.web.pages.plan_ways import Solving, last_job, subject_of
from evencast.web.plan_edits import FIRST, with_setup
from evencast.web.plan_replies import REFUSED, Asked, Asking, BasedOn, Sent, Where
from evencast.web.solving import keeper

router = APIRouter(prefix="/plan/{number}")


@router.get("/solve.json", responses={400: REFUSED[400]})
def solve_json(number: int, desk: TheDesk, where: Asked) -> Solving:
    """How far the work is, and the other ways."""
    return _page(number, desk, where).solving


@router.get("/solve", include_in_schema=False)
def solve_part(
    request: Request, number: int, desk: TheDesk, person: ThePerson, where: Asked
) -> Response:
    """How far the work is, and the other ways."""
    asking = Asking(request, desk, person, number, where)
    return asking.shown("plan/solving", _page(number, desk, where))


@router.post("/solve", responses=REFUSED)
def solve(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    where: Sent,
    at: Annotated[str, Form(description='"page": at the balance of the page.')] = "",
) -> Response:
    """Work out what to put in front of each light; kept in the set-up when it is done."""
    opened = desk.open(number)
    text, setup = with_setup(opened.text, where.setup)
    is_there = text == opened.text
    balance_k = None
    if at == "page":
        found = _page(number, desk, where)
        balance_k = found.hangs.balance.cct_k
        if balance_k is None:
            raise EvencastError(
                "that balance has no colour temperature",
                where="balance",
                remedy="Move it to one that has, such as 4300K.",
            )
    desk.jobs.start(
        f"Solve {opened.document.title or opened.document.name}",
        subject_of(number, setup if is_there else ""),
        work_out,
        opened.path,
        setup if is_there else None,
        None if balance_k is None else float(round(balance_k)),
        then=keeper(desk, number, setup, by=person),
    )
    return _again(request, number, desk, person, Where(where.setup, where.balance))


@router.post("/solve/cancel", responses=REFUSED)
def cancel(request: Request, number: int, desk: TheDesk, person: Editor, where: Sent) -> Response:
    """End the work; what was planned stays."""
    job = last_job(desk, number, where.setup)
    if job is not None:
        desk.jobs.cancel(job.number)
    return _again(request, number, desk, person, where)


@router.post("/pick", responses=REFUSED)
def pick(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    where: Sent,
    based_on: BasedOn,
    way: Annotated[int, Form(ge=0, le=100, description="Number of one of the ways.")],
) -> Response:
    """Plan another of the ways that were worked out, at its own balance."""
    found = desk.answered(number, where.setup)
    if found is None or way >= len(found.answer.alternatives):
        raise EvencastError(
            "that way is not at hand any more",
            where=f"set-up {where.setup}",
            remedy="Solve the plan again; its other ways come with it.",
        )
    picked = found.answer.alternatives[way]
    kept = Kept(picked.balance, picked.lights, found.planned_for)

    def edit(text: str) -> Edited:
        text, setup = with_setup(text, where.setup or FIRST)
        name = desk.document(number).name
        said = f"planned as {picked.name}, balance {say_balance(picked.balance)}"
        return Edited(with_kept(text, setup, kept, where=name), f"{said} ({setup})")

    asking = Asking(request, desk, person, number, Where(where.setup))
    return asking.changed(edit, based_on=based_on, fresh=True)


def _again(request: Request, number: int, desk: TheDesk, person: Editor, where: Where) -> Response:
    asking = Asking(request, desk, person, number, where)
    if request.headers.get("hx-request"):
        return asking.shown("plan/solving", _page(number, desk, where))
    return asking.back()


def _page(number: int, desk: TheDesk, where: Where) -> PlanPage:
    opened = desk.open(number)
    return plan_page(desk, opened, setup=where.setup or None, balance=where.balance or None)
