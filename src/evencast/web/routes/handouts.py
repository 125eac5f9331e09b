"""The hand-outs of a plan: chosen, made, looked at, printed, kept."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import HTMLResponse, Response

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.pages.frame import frame
from evencast.web.pages.handouts import (
    TITLES,
    HandoutsAsked,
    HandoutsPage,
    handouts_page,
    root,
    start,
)
from evencast.web.pages.papers import address_of
from evencast.web.pages.within import plan_pages
from evencast.web.replies import gone_to, page
from evencast.web.routes.paper_files import add_files

router = APIRouter(prefix="/plan/{number}/hand-outs")
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"description": "No such plan or hand-out, or a wish that is none: what, where, remedy."}
}
Asked = Annotated[HandoutsAsked, Query()]


@router.get(".json", responses=REFUSED)
def handouts_json(number: int, desk: TheDesk, asked: Asked) -> HandoutsPage:
    """What is made for these wishes, and what is being made."""
    return handouts_page(desk, desk.open(number, "plan"), asked)


@router.get("", include_in_schema=False)
def handouts(
    request: Request, number: int, desk: TheDesk, person: ThePerson, asked: Asked
) -> HTMLResponse:
    """Choose, look, print."""
    opened = desk.open(number, "plan")
    links = plan_pages(desk, opened, "Hand-outs")
    around = frame(person, request.url.path, within=links)
    return page(request, "handouts.html", around, handouts_page(desk, opened, asked))


@router.post("", responses=REFUSED, status_code=303, response_class=Response)
def make(
    request: Request,
    number: int,
    desk: TheDesk,
    person: ThePerson,
    asked: Annotated[HandoutsAsked, Form()],
) -> Response:
    """Begin to make what is wished. Changes no document, so that whoever may look may."""
    start(desk, desk.open(number, "plan"), asked)
    return gone_to(request, f"{root(number)}?{address_of(asked)}")


@router.post("/stop", responses=REFUSED, status_code=303, response_class=Response)
def stop(
    request: Request, number: int, desk: TheDesk, asked: Annotated[HandoutsAsked, Form()]
) -> Response:
    """Stop making."""
    making = handouts_page(desk, desk.open(number, "plan"), asked).made.making
    if making is not None:
        desk.jobs.cancel(making.job)
    return gone_to(request, f"{root(number)}?{address_of(asked)}")


add_files(router, of="plan", kinds=TITLES, together="hand-outs.zip", refused=REFUSED)
