"""The hand-outs of a plan: chosen, made, looked at, printed, kept."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from starlette.responses import HTMLResponse, Response

from evencast.store.library.carrying import zip_of
from evencast.web.asked import TheDesk, ThePerson
from evencast.web.desk import Desk
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
from evencast.web.replies import file_name, file_reply, gone_to, page

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
    links = plan_pages(desk, number, "Hand-outs")
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


@router.get("/{key}/all.zip", responses=REFUSED, response_class=Response)
def all_files(number: int, key: str, desk: TheDesk) -> Response:
    """Everything that is made, in one archive."""
    return archive(desk, key, list(TITLES), file_name(_title(desk, number), "hand-outs.zip"))


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


def archive(desk: Desk, key: str, kinds: list[str], name: str) -> Response:
    """All files of a set."""
    sets = [each for each in (desk.papers.made(key, kind) for kind in kinds) if each is not None]
    files = {
        file.name: desk.papers.content(key, each.kind, file.name)
        for each in sets
        for file in each.files
    }
    return file_reply(zip_of(files), name)


def picture(desk: Desk, key: str, kind: str, name: str, number: int) -> Response:
    """A page, which never changes at its address."""
    reply = file_reply(desk.papers.page(key, kind, name, number), f"{number}.png", inline=True)
    reply.headers["cache-control"] = "private, max-age=3600, immutable"
    return reply


def _title(desk: Desk, number: int) -> str:
    document = desk.document(number, "plan")
    return document.title or document.name
