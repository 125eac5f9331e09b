"""The reference of a kit: chosen, made, looked at, printed, downloaded."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import HTMLResponse, Response

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.desk import Desk
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
from evencast.web.replies import file_name, file_reply, gone_to, page
from evencast.web.routes.handouts import archive, picture

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


@router.get("/{key}/all.zip", responses=REFUSED, response_class=Response)
def all_files(number: int, key: str, desk: TheDesk) -> Response:
    """Everything that is made, in one archive."""
    return archive(desk, key, list(TITLES), file_name(_title(desk, number), "reference.zip"))


@router.get("/{key}/{kind}/{name}", responses=REFUSED, response_class=Response)
def one_file(
    number: int, key: str, kind: str, name: str, desk: TheDesk, keep: bool = False
) -> Response:
    """One file, to be shown; or to be kept on the device."""
    content = desk.papers.content(key, kind, name)
    return file_reply(content, file_name(_title(desk, number), name), inline=not keep)


@router.get("/{key}/{kind}/{name}/{page_number}.png", responses=REFUSED, response_class=Response)
def one_page(
    number: int, key: str, kind: str, name: str, page_number: int, desk: TheDesk
) -> Response:
    """One page as a picture."""
    return picture(desk, key, kind, name, page_number)


def _title(desk: Desk, number: int) -> str:
    document = desk.document(number, "kit")
    return document.title or document.name
