"""What a kit was: its revisions, both versions of a clash, the kit as text."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form
from starlette.responses import HTMLResponse, Response

from evencast.errors import DocumentErrors
from evencast.results.editing import Edited
from evencast.web.asked import TheDesk
from evencast.web.changing import Clashed, decide
from evencast.web.kit_replies import (
    REFUSED,
    BasedOn,
    Changing,
    Looking,
    Opening,
)
from evencast.web.pages.plan_history import (
    HistoryPage,
    RevisionPage,
    TextPage,
    history_page,
    revision_page,
    text_page,
)
from evencast.web.replies import gone_to, page

router = APIRouter(prefix="/kit/{number}")


@router.get("/history.json", responses=REFUSED)
def history_json(number: int, desk: TheDesk) -> HistoryPage:
    """Every revision: who, when, what."""
    desk.document(number, "kit")
    return history_page(desk, number)


@router.get("/history", include_in_schema=False)
def history(asking: Looking) -> HTMLResponse:
    """Every revision: who, when, what."""
    around = asking.frame("History")
    return page(
        asking.request, "kit/history.html", around, history_page(asking.desk, asking.number)
    )


@router.get("/history/{revision}.json", responses=REFUSED)
def revision_json(number: int, revision: int, desk: TheDesk) -> RevisionPage:
    """One revision, and what was changed since."""
    desk.document(number, "kit")
    return revision_page(desk, number, revision)


@router.get("/history/{revision}", include_in_schema=False)
def one_revision(asking: Looking, revision: int) -> HTMLResponse:
    """One revision, and what was changed since."""
    around = asking.frame("History")
    return page(
        asking.request,
        "kit/revision.html",
        around,
        revision_page(asking.desk, asking.number, revision),
    )


@router.post("/bring-back", responses=REFUSED, status_code=303, response_class=Response)
def bring_back(
    asking: Changing,
    based_on: BasedOn,
    revision: Annotated[int, Form(ge=1, le=2**31, description="To be brought back.")],
) -> Response:
    """Make an earlier revision the newest; what others saved since `based_on` stays."""
    past = asking.desk.library.read(
        asking.desk.document(asking.number, "kit"), revision
    ).content.decode("utf-8-sig")
    note = f"brought back from revision {revision}"
    return asking.changed(lambda _: Edited(past, note), based_on=based_on)


@router.post("/settle", responses=REFUSED, status_code=303, response_class=Response)
def settle(
    asking: Changing,
    based_on: BasedOn,
    seen: Annotated[int, Form(ge=1, le=2**31, description="The other's revision.")],
    mine: Annotated[str, Form(description="The whole kit with one's own change.")],
    keep: Annotated[Literal["mine", "theirs"], Form()],
) -> Response:
    """Say which of two versions holds; the other stays in the history."""
    asking.desk.document(asking.number, "kit")
    try:
        decide(
            asking.desk,
            asking.number,
            _lines(mine),
            based_on=based_on,
            seen=seen,
            keep_mine=keep == "mine",
            by=asking.person,
        )
    except Clashed as clash:
        return asking.clashed(clash)
    return gone_to(asking.request, f"{asking.root}{asking.query}")


@router.get("/text.json", responses=REFUSED)
def text_json(number: int, desk: TheDesk) -> TextPage:
    """The kit as text, and what is wrong with it."""
    desk.document(number, "kit")
    return text_page(desk, number)


@router.get("/text", include_in_schema=False)
def text(asking: Opening) -> HTMLResponse:
    """The kit as text."""
    return page(
        asking.request, "kit/text.html", asking.frame("Kit"), text_page(asking.desk, asking.number)
    )


@router.post("/text", responses=REFUSED, status_code=303, response_class=Response)
def save_text(
    asking: Changing,
    based_on: BasedOn,
    text: Annotated[str, Form(description="The whole kit.")],
) -> Response:
    """The kit as somebody wrote it; saved when it can be read, else shown with its problems."""
    around, typed = asking.frame("Kit"), _lines(text)
    tried = text_page(asking.desk, asking.number, typed, based_on)
    if not any(each.severity == "error" for each in tried.problems):
        try:
            return asking.changed(lambda _: Edited(typed, "edited as text"), based_on=based_on)
        except DocumentErrors:  # it reads alone, and not with what another saved meanwhile
            pass
    return page(asking.request, "kit/text.html", around, tried, 422)


def _lines(text: str) -> str:
    """A form sends every end of a line as two characters."""
    return text.replace("\r\n", "\n")
