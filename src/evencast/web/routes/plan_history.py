"""What a plan was: its revisions, undo, both versions of a clash, the plan as text."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import APIRouter, Form
from starlette.responses import Response

from evencast.web.asked import TheDesk
from evencast.web.changing import Clashed, Saved, decide
from evencast.web.pages.past import (
    HistoryPage,
    RevisionPage,
    TextPage,
    history_page,
    revision_page,
    text_page,
)
from evencast.web.plan_replies import REFUSED, BasedOn, Changing, Looking, Opening
from evencast.web.replies import page
from evencast.web.writing import brought_back, written

router = APIRouter(prefix="/plan/{number}")


@router.get("/history.json", responses={400: REFUSED[400]})
def history_json(number: int, desk: TheDesk) -> HistoryPage:
    """Every revision: who, when, what."""
    desk.document(number, "plan")
    return history_page(desk, number)


@router.get("/history", include_in_schema=False)
def history(asking: Looking) -> Response:
    """Every revision: who, when, what."""
    shown = history_page(asking.desk, asking.number)
    return page(asking.request, "past/history.html", asking.frame("History"), shown)


@router.get("/history/{revision}.json", responses={400: REFUSED[400]})
def revision_json(number: int, revision: int, desk: TheDesk) -> RevisionPage:
    """One revision, and what was changed since."""
    desk.document(number, "plan")
    return revision_page(desk, number, revision)


@router.get("/history/{revision}", include_in_schema=False)
def one_revision(asking: Looking, revision: int) -> Response:
    """One revision, and what was changed since."""
    around = asking.frame("History")
    shown = revision_page(asking.desk, asking.number, revision)
    return page(asking.request, "past/revision.html", around, shown)


@router.post("/bring-back", responses=REFUSED)
def bring_back(
    asking: Changing,
    based_on: BasedOn,
    revision: Annotated[int, Form(ge=1, le=2**31, description="To be brought back.")],
) -> Response:
    """Make an earlier revision the newest; what was saved by others since `based_on` stays."""
    edit = brought_back(asking.desk, asking.number, revision)
    return asking.changed(edit, based_on=based_on)


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
            mine,
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
    """The plan as text, and what is wrong with it."""
    desk.document(number, "plan")
    return text_page(desk, number)


@router.get("/text", include_in_schema=False)
def text(asking: Opening) -> Response:
    """The plan as text."""
    shown = text_page(asking.desk, asking.number)
    return page(asking.request, "past/text.html", asking.frame("Plan"), shown)


@router.post("/text", responses=REFUSED)
def write(
    asking: Changing,
    based_on: BasedOn,
    text: Annotated[str, Form(description="The whole plan.")],
) -> Response:
    """Save the plan as it was written by hand, where it reads; else its problems."""

    def done(saved: Saved) -> Response:
        return asking.saved(saved, asking.where)

    return written(asking, "plan", text, based_on=based_on, done=done)
