"""What a kit was: its revisions, both versions of a clash, the kit as text."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form
from starlette.responses import Response

from evencast.web.asked import TheDesk
from evencast.web.changing import Clashed, decide
from evencast.web.kit_replies import REFUSED, BasedOn, Changing, Looking, Opening
from evencast.web.pages.past import (
    HistoryPage,
    RevisionPage,
    TextPage,
    history_page,
    revision_page,
    text_page,
)
from evencast.web.replies import gone_to, page
from evencast.web.writing import brought_back, written

router = APIRouter(prefix="/kit/{number}")


@router.get("/history.json", responses=REFUSED)
def history_json(number: int, desk: TheDesk) -> HistoryPage:
    """Every revision: who, when, what."""
    desk.document(number, "kit")
    return history_page(desk, number)


@router.get("/history", include_in_schema=False)
def history(asking: Looking) -> Response:
    """Every revision: who, when, what."""
    around = asking.frame("History")
    shown = history_page(asking.desk, asking.number)
    return page(asking.request, "past/history.html", around, shown)


@router.get("/history/{revision}.json", responses=REFUSED)
def revision_json(number: int, revision: int, desk: TheDesk) -> RevisionPage:
    """One revision, and what was changed since."""
    desk.document(number, "kit")
    return revision_page(desk, number, revision)


@router.get("/history/{revision}", include_in_schema=False)
def one_revision(asking: Looking, revision: int) -> Response:
    """One revision, and what was changed since."""
    around = asking.frame("History")
    shown = revision_page(asking.desk, asking.number, revision)
    return page(asking.request, "past/revision.html", around, shown)


@router.post("/bring-back", responses=REFUSED, status_code=303, response_class=Response)
def bring_back(
    asking: Changing,
    based_on: BasedOn,
    revision: Annotated[int, Form(ge=1, le=2**31, description="To be brought back.")],
) -> Response:
    """Make an earlier revision the newest; what others saved since `based_on` stays."""
    edit = brought_back(asking.desk, asking.number, revision)
    return asking.changed(edit, based_on=based_on)


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
            mine,
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
def text(asking: Opening) -> Response:
    """The kit as text."""
    around = asking.frame("Kit")
    return page(asking.request, "past/text.html", around, text_page(asking.desk, asking.number))


@router.post("/text", responses=REFUSED, status_code=303, response_class=Response)
def save_text(
    asking: Changing,
    based_on: BasedOn,
    text: Annotated[str, Form(description="The whole kit.")],
) -> Response:
    """The kit as somebody wrote it; saved when it can be read, else shown with its problems."""
    return written(asking, "kit", text, based_on=based_on, done=asking.saved)
