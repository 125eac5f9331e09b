"""A plan: as it hangs, at its balance or another."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import HTMLResponse

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.desk import Desk
from evencast.web.pages.frame import frame
from evencast.web.pages.plan import PlanPage, plan_page, slider_label
from evencast.web.pages.within import plan_pages
from evencast.web.replies import page

router = APIRouter()


@router.get("/plan/{number}.json")
def plan_json(
    number: int,
    desk: TheDesk,
    setup: str | None = None,
    balance: str | None = None,
    mired: float | None = None,
) -> PlanPage:
    """A plan as it hangs in a set-up, at its balance or another."""
    return _page(desk, number, setup, balance, mired)


@router.get("/plan/{number}", include_in_schema=False)
def plan(
    request: Request,
    number: int,
    desk: TheDesk,
    person: ThePerson,
    setup: str | None = None,
    balance: str | None = None,
    mired: float | None = None,
) -> HTMLResponse:
    """The plan page."""
    found = _page(desk, number, setup, balance, mired)
    links = plan_pages(desk, desk.open(number, "plan"), "Plan")
    return page(request, "plan.html", frame(person, request.url.path, within=links), found)


@router.get("/plan/{number}/answer", include_in_schema=False)
def answer(
    request: Request,
    number: int,
    desk: TheDesk,
    person: ThePerson,
    setup: str | None = None,
    balance: str | None = None,
    mired: float | None = None,
) -> HTMLResponse:
    """What changes with the balance."""
    found = _page(desk, number, setup, balance, mired)
    return page(request, "plan/answer.html", frame(person, request.url.path), found)


def _page(
    desk: Desk, number: int, setup: str | None, balance: str | None, mired: float | None
) -> PlanPage:
    label = slider_label(mired) if mired and not balance else balance
    return plan_page(desk, desk.open(number, "plan"), setup=setup, balance=label)
