"""Learn: the lessons, the projector view, the worksheet."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from starlette.responses import HTMLResponse, Response

from evencast.actions.lessons.worksheet import worksheet, worksheet_pdf
from evencast.results.lessons import WorksheetAnswer
from evencast.web.asked import ThePerson
from evencast.web.pages.frame import frame
from evencast.web.pages.learn import (
    ROOT,
    LearnPage,
    LessonPage,
    checked_view,
    learn_page,
    lesson_page,
    projector_page,
)
from evencast.web.replies import page

router = APIRouter(prefix=ROOT)
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"description": "No such lesson, or a value that is none: what, where, remedy."}
}


def _asked(
    lamp: str = "",
    sheet: str = "",
    balance: str = "",
    light: str = "",
    strength: str = "",
    duv: str = "",
    tube: str = "",
    share: str = "",
    series: str = "",
    ratio: str = "",
    guess: str = "",
) -> dict[str, str]:
    """The setting of a lesson as it stands in its address; each lesson has some of these."""
    return dict(locals())


Asked = Annotated[dict[str, str], Depends(_asked)]


@router.get("", include_in_schema=False)
def learn(request: Request, person: ThePerson) -> HTMLResponse:
    """All lessons."""
    return page(request, "learn/all.html", frame(person, ROOT), learn_page())


@router.get(".json")
def learn_json() -> LearnPage:
    """All lessons."""
    return learn_page()


@router.get("/worksheet", include_in_schema=False)
def worksheet_page(request: Request, person: ThePerson) -> HTMLResponse:
    """The exercises, each answer folded away, and the way to print them."""
    return page(request, "learn/worksheet.html", frame(person, f"{ROOT}/worksheet"), worksheet())


@router.get("/worksheet.json")
def worksheet_json() -> WorksheetAnswer:
    """The exercises with their answers worked out."""
    return worksheet()


@router.get("/worksheet.pdf", responses=REFUSED, response_class=Response)
def worksheet_file(paper: str = "a4", date: str = "", answers: str = "no") -> Response:
    """The worksheet to print."""
    made = worksheet_pdf(paper=paper, date=date, answers=answers)
    return Response(
        made,
        media_type="application/pdf",
        headers={"content-disposition": 'inline; filename="worksheet.pdf"'},
    )


@router.get("/{slug}.json", responses=REFUSED)
def lesson_json(slug: str, asked: Asked) -> LessonPage:
    """One lesson at a setting."""
    return lesson_page(slug, asked)


@router.get("/{slug}", include_in_schema=False)
def one_lesson(
    request: Request, person: ThePerson, slug: str, asked: Asked, view: str = ""
) -> HTMLResponse:
    """One lesson at a setting, as a page or for a class."""
    around = frame(person, f"{ROOT}/{slug}")
    if checked_view(view) == "projector":
        return page(request, "learn/projector.html", around, projector_page(slug, asked))
    return page(request, "learn/lesson.html", around, lesson_page(slug, asked))


@router.get("/{slug}/live", include_in_schema=False)
def live_part(request: Request, person: ThePerson, slug: str, asked: Asked) -> HTMLResponse:
    """What changes in a lesson as its sliders move."""
    content = lesson_page(slug, asked)
    reply = page(request, "learn/live.html", frame(person, f"{ROOT}/{slug}"), content)
    reply.headers["hx-replace-url"] = content.address
    return reply
