"""What a plan was: its revisions, undo, both versions of a clash, the plan as text."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from evencast.errors import DocumentErrors, EvencastError
from evencast.results.editing import Edited
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.changing import Clashed, change, decide
from evencast.web.pages.frame import frame
from evencast.web.pages.plan_history import (
    HistoryPage,
    RevisionPage,
    TextPage,
    history_page,
    revision_page,
    text_page,
)
from evencast.web.pages.within import plan_pages
from evencast.web.plan_replies import REFUSED, Asking, BasedOn, Changing, Where
from evencast.web.replies import page

router = APIRouter(prefix="/plan/{number}")


@router.get("/history.json", responses={400: REFUSED[400]})
def history_json(number: int, desk: TheDesk) -> HistoryPage:
    """Every revision: who, when, what."""
    return history_page(desk, number)


@router.get("/history", include_in_schema=False)
def history(request: Request, number: int, desk: TheDesk, person: ThePerson) -> Response:
    """Every revision: who, when, what."""
    links = plan_pages(desk, desk.open(number, "plan"), "History")
    around = frame(person, request.url.path, within=links)
    return page(request, "plan/history.html", around, history_page(desk, number))


@router.get("/history/{revision}.json", responses={400: REFUSED[400]})
def revision_json(number: int, revision: int, desk: TheDesk) -> RevisionPage:
    """One revision, and what was changed since."""
    return revision_page(desk, number, revision)


@router.get("/history/{revision}", include_in_schema=False)
def one_revision(
    request: Request, number: int, revision: int, desk: TheDesk, person: ThePerson
) -> Response:
    """One revision, and what was changed since."""
    links = plan_pages(desk, desk.open(number, "plan"), "History")
    around = frame(person, request.url.path, within=links)
    return page(request, "plan/revision.html", around, revision_page(desk, number, revision))


@router.post("/bring-back", responses=REFUSED)
def bring_back(
    asking: Changing,
    based_on: BasedOn,
    revision: Annotated[int, Form(ge=1, le=2**31, description="To be brought back.")],
) -> Response:
    """Make an earlier revision the newest; what was saved by others since `based_on` stays."""
    document = asking.desk.document(asking.number)
    past = asking.desk.library.read(document, revision).content.decode("utf-8-sig")
    note = f"brought back from revision {revision}"
    return asking.changed(lambda _: Edited(past, note), based_on=based_on)


@router.post("/settle", responses=REFUSED)
def settle(
    asking: Changing,
    based_on: BasedOn,
    seen: Annotated[int, Form(ge=1, le=2**31, description="The other's revision.")],
    mine: Annotated[str, Form(description="The whole text with this one's change.")],
    keep: Annotated[Literal["mine", "theirs"], Form(description="Which one holds.")],
) -> Response:
    """Decide between two versions of one thing; the other one stays in the history."""
    try:
        saved = decide(
            asking.desk,
            asking.number,
            mine.replace("\r\n", "\n"),
            based_on=based_on,
            seen=seen,
            keep_mine=keep == "mine",
            by=asking.person,
        )
    except Clashed as clash:
        return asking.clashed(clash)
    return asking.saved(saved, asking.where)


@router.get("/text.json", responses={400: REFUSED[400]})
def text_json(number: int, desk: TheDesk) -> TextPage:
    """The plan as text."""
    return text_page(desk, number)


@router.get("/text", include_in_schema=False)
def text(request: Request, number: int, desk: TheDesk, person: Editor) -> Response:
    """The plan as text."""
    links = plan_pages(desk, desk.open(number, "plan"), "Text")
    around = frame(person, request.url.path, within=links)
    return page(request, "plan/text.html", around, text_page(desk, number))


@router.post("/text", responses=REFUSED)
def write(
    request: Request,
    number: int,
    desk: TheDesk,
    person: Editor,
    based_on: BasedOn,
    text: Annotated[str, Form(description="The whole plan.")],
) -> Response:
    """Save the plan as it was written by hand, where it reads; else its problems."""
    asking = Asking(request, desk, person, number, Where())
    before = desk.library.read(desk.document(number), based_on).content.decode("utf-8-sig")
    ending = "\r\n" if "\r\n" in before else "\n"
    typed = text.replace("\r\n", "\n").replace("\n", ending)
    shown = text_page(desk, number, typed, based_on)
    errors = [each for each in shown.problems if each.severity == "error"]
    if errors:
        return asking.page_again("plan/text", shown, DocumentErrors("the plan", errors))
    try:
        saved = change(
            desk,
            number,
            lambda _: Edited(typed, "written by hand"),
            based_on=based_on,
            by=person,
        )
    except Clashed as clash:
        return asking.clashed(clash)
    except EvencastError as error:
        return asking.page_again("plan/text", shown, error)
    return asking.saved(saved, Where())
