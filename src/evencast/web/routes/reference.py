"""The reference of a kit: chosen, made, looked at, printed, downloaded."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import HTMLResponse, Response

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.kit_replies import REFUSED, Asking
from evencast.web.pages.papers import address_of
from evencast.web.pages.reference import (
    TITLES,
    ReferenceAsked,
    ReferencePage,
    reference_page,
    root,
    start,
)
from evencast.web.replies import gone_to, page
from evencast.web.routes.paper_files import add_files

router = APIRouter(prefix="/kit/{number}/reference")
Asked = Annotated[ReferenceAsked, Query()]
Sent = Annotated[ReferenceAsked, Form()]


@router.get(".json", responses=REFUSED)
def reference_json(number: int, desk: TheDesk, asked: Asked) -> ReferencePage:
    """What is made for these wishes, and what is being made."""
    return reference_page(desk, desk.open(number, "kit"), asked)


@router.get("", include_in_schema=False)
def reference(
    request: Request, number: int, desk: TheDesk, person: ThePerson, asked: Asked
) -> HTMLResponse:
    """Choose, look, print."""
    found = reference_page(desk, desk.open(number, "kit"), asked)
    around = Asking(request, desk, person, number, asked.plan).frame("Reference")
    return page(request, "reference.html", around, found)


@router.post("", responses=REFUSED, status_code=303, response_class=Response)
def make(request: Request, number: int, desk: TheDesk, person: ThePerson, asked: Sent) -> Response:
    """Begin to make what is wished. Changes no document, so that whoever may look may."""
    start(desk, desk.open(number, "kit"), asked)
    return gone_to(request, f"{root(number)}?{address_of(asked)}")


@router.post("/stop", responses=REFUSED, status_code=303, response_class=Response)
def stop(request: Request, number: int, desk: TheDesk, person: ThePerson, asked: Sent) -> Response:
    """Stop making."""
    making = reference_page(desk, desk.open(number, "kit"), asked).made.making
    if making is not None:
        desk.jobs.cancel(making.job)
    return gone_to(request, f"{root(number)}?{address_of(asked)}")


add_files(router, of="kit", kinds=TITLES, together="reference.zip", refused=REFUSED)
