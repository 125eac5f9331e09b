"""Solving a plan: started, watched, cancelled; another way picked."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form
from starlette.responses import Response

from evencast.actions.keep import Kept, with_kept, work_out
from evencast.errors import EvencastError
from evencast.results.editing import Edited
from evencast.results.words import say_balance
from evencast.web.asked import TheDesk
from evencast.web.pages.plan_ways import Solving, last_job, subject_of
from evencast.web.plan_edits import FIRST, with_setup
from evencast.web.plan_replies import (
    REFUSED,
    Asked,
    Asking,
    BasedOn,
    Changing,
    Looking,
    Where,
    page_of,
)
from evencast.web.solving import keeper

router = APIRouter(prefix="/plan/{number}")


@router.get("/solve.json", responses={400: REFUSED[400]})
def solve_json(number: int, desk: TheDesk, where: Asked) -> Solving:
    """How far the work is, and the other ways."""
    return page_of(desk, desk.open(number), where).solving


@router.get("/solve", include_in_schema=False)
def solve_part(asking: Looking) -> Response:
    """How far the work is, and the other ways."""
    return _shown(asking)


@router.post("/solve", responses=REFUSED)
def solve(
    asking: Changing,
    at: Annotated[str, Form(description='"page": at the balance of the page.')] = "",
) -> Response:
    """Work out what to put in front of each light; kept in the set-up when it is done."""
    opened = asking.opened()
    text, setup = with_setup(opened.text, asking.where.setup)
    is_there = text == opened.text
    balance_k = None
    if at == "page":
        found = page_of(asking.desk, opened, asking.where)
        balance_k = found.hangs.balance.cct_k
        if balance_k is None:
            raise EvencastError(
                "that balance has no colour temperature",
                where="balance",
                remedy="Move it to one that has, such as 4300K.",
            )
    asking.desk.jobs.start(
        f"Solve {opened.document.title or opened.document.name}",
        subject_of(asking.number, setup if is_there else ""),
        work_out,
        opened.path,
        setup if is_there else None,
        None if balance_k is None else float(round(balance_k)),
        then=keeper(asking.desk, asking.number, setup, by=asking.person),
    )
    return _again(asking)


@router.post("/solve/cancel", responses=REFUSED)
def cancel(asking: Changing) -> Response:
    """End the work; what was planned stays."""
    job = last_job(asking.desk, asking.number, asking.where.setup)
    if job is not None:
        asking.desk.jobs.cancel(job.number)
    return _again(asking)


@router.post("/pick", responses=REFUSED)
def pick(
    asking: Changing,
    based_on: BasedOn,
    way: Annotated[int, Form(ge=0, le=100, description="Number of one of the ways.")],
) -> Response:
    """Plan another of the ways that were worked out, at its own balance."""
    found = asking.desk.answered(asking.number, asking.where.setup)
    if found is None or way >= len(found.answer.alternatives):
        raise EvencastError(
            "that way is not at hand any more",
            where=f"set-up {asking.where.setup}",
            remedy="Solve the plan again; its other ways come with it.",
        )
    picked = found.answer.alternatives[way]
    kept = Kept(picked.balance, picked.lights, found.planned_for)

    def edit(text: str) -> Edited:
        text, setup = with_setup(text, asking.where.setup or FIRST)
        name = asking.desk.document(asking.number).name
        said = f"planned as {picked.name}, balance {say_balance(picked.balance)}"
        return Edited(with_kept(text, setup, kept, where=name), f"{said} ({setup})")

    at_its_own = replace(asking, where=Where(asking.where.setup))
    return at_its_own.changed(edit, based_on=based_on, fresh=True)


def _again(asking: Asking) -> Response:
    return _shown(asking) if asking.request.headers.get("hx-request") else asking.back()


def _shown(asking: Asking) -> Response:
    found = page_of(asking.desk, asking.opened(), asking.where)
    return asking.shown("plan/solving", found, alone="plan/solving_page.html")
