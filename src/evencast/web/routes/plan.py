"""A plan: as it hangs, at its balance or another."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from pydantic import TypeAdapter
from starlette.responses import HTMLResponse, RedirectResponse, Response

from evencast.errors import DocumentErrors, EvencastError
from evencast.web.asked import TheDesk, ThePerson
from evencast.web.changing import Saved
from evencast.web.desk import Desk
from evencast.web.failures import failure_of
from evencast.web.pages.frame import frame
from evencast.web.pages.plan import PlanPage, slider_label, with_notice
from evencast.web.pages.plan_broken import broken_page
from evencast.web.pages.plan_forms import address
from evencast.web.pages.within import plan_pages
from evencast.web.plan_replies import REFUSED, Asked, Where, page_of
from evencast.web.replies import page, twin

router = APIRouter()
_PLAN_PAGE = TypeAdapter(PlanPage)

Mired = Annotated[
    float | None, Query(allow_inf_nan=False, description="A place of the balance's slider.")
]


@router.get(
    "/plan/{number}.json",
    response_model=PlanPage,
    responses={400: REFUSED[400], 422: REFUSED[422]},
)
def plan_json(number: int, desk: TheDesk, where: Asked, mired: Mired = None) -> Response:
    """A plan as it hangs in a set-up, at its balance or another."""
    return twin(_page(desk, number, where, mired), _PLAN_PAGE)


@router.get("/plan/{number}", include_in_schema=False)
def plan(
    request: Request,
    number: int,
    desk: TheDesk,
    person: ThePerson,
    where: Asked,
    mired: Mired = None,
    saved: int | None = None,
) -> Response:
    """The plan page."""
    if mired is not None and not where.balance:
        query = {"setup": where.setup, "balance": slider_label(mired)}
        return RedirectResponse(address(number, query), 303)
    opened = desk.open(number, "plan")
    around = frame(person, request.url.path, within=plan_pages(desk, opened, "Plan"))
    try:
        found = page_of(desk, opened, where)
    except EvencastError as error:
        if not _is_of_plan(error, where):
            raise
        broken = broken_page(opened, failure_of(error, 422))
        return page(request, "plan/broken.html", around, broken, 422)
    if saved is not None:
        found = _noticed(desk, number, found, saved)
    return page(request, "plan.html", around, found, kept=saved is None)


@router.get("/plan/{number}/answer", include_in_schema=False)
def answer(
    request: Request,
    number: int,
    desk: TheDesk,
    person: ThePerson,
    where: Asked,
    mired: Mired = None,
) -> HTMLResponse:
    """What changes with the balance."""
    found = _page(desk, number, where, mired, with_chart=False)
    reply = page(request, "plan/drag.html", frame(person, request.url.path), found)
    reply.headers["hx-replace-url"] = address(number, found.where)
    return reply


@router.get("/plan/{number}/rest", include_in_schema=False)
def rest(
    request: Request, number: int, desk: TheDesk, person: ThePerson, where: Asked
) -> HTMLResponse:
    """The chart and what to mind, which follow when a drag or an edit is done."""
    found = _page(desk, number, where, None)
    return page(request, "plan/rest.html", frame(person, request.url.path), found, kept=True)


def _page(
    desk: Desk, number: int, where: Where, mired: float | None, *, with_chart: bool = True
) -> PlanPage:
    label = slider_label(mired) if mired is not None and not where.balance else where.balance
    opened = desk.open(number, "plan")
    return page_of(desk, opened, Where(where.setup, label), with_chart=with_chart)


def _is_of_plan(error: EvencastError, where: Where) -> bool:
    """Whether it is the plan that cannot be shown, and not what was asked of it."""
    return isinstance(error, DocumentErrors) or not (where.setup or where.balance)


def _noticed(desk: Desk, number: int, found: PlanPage, saved: int) -> PlanPage:
    """The page with what a form did that was sent without script."""
    document = desk.document(number)
    record = next((e for e in desk.library.history(document) if e.number == saved), None)
    if record is None or record.number != found.revision or record.removed:
        return found
    revision = desk.library.read(document, saved)
    return with_notice(found, Saved(revision, saved - 1, record.note))
