"""Learn: the lessons, the projector view, the worksheet."""

from __future__ import annotations

from collections.abc import Callable
from inspect import Parameter, Signature
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.responses import HTMLResponse, Response

from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.lesson import LESSONS, SHOW, Lesson
from evencast.actions.lessons.worksheet import PAPERS, worksheet, worksheet_pdf
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


DATE: dict[str, Any] = {"anyOf": [{"format": "date"}, {"maxLength": 0}]}
GUESS = ("guess", "", {"enum": ["", "a", "b", "c", SHOW]})


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
def worksheet_file(
    paper: Annotated[str, Query(json_schema_extra={"enum": list(PAPERS)})] = "a4",
    date: Annotated[str, Query(json_schema_extra=DATE)] = "",
    answers: Annotated[str, Query(json_schema_extra={"enum": ["yes", "no"]})] = "no",
) -> Response:
    """The worksheet to print."""
    made = worksheet_pdf(paper=paper, date=date, answers=answers)
    return Response(
        made,
        media_type="application/pdf",
        headers={"content-disposition": 'inline; filename="worksheet.pdf"'},
    )


def _twin(each: Lesson) -> Callable[..., LessonPage]:
    """The twin of a lesson's page, which declares what this lesson can be set to."""

    def twin(**asked: str) -> LessonPage:
        return lesson_page(each.slug, asked)

    declared = [(control.name, _start(control), _schema(control)) for control in each.controls]
    parameters = [
        Parameter(
            name,
            Parameter.KEYWORD_ONLY,
            default=start,
            annotation=Annotated[str, Query(json_schema_extra=schema)],
        )
        for name, start, schema in (*declared, GUESS)
    ]
    setattr(twin, "__signature__", Signature(parameters))  # noqa: B010
    twin.__name__ = f"learn_{each.slug}"
    twin.__doc__ = f"{each.title}: {each.about}"
    return twin


def _start(control: Slider | Choice) -> str:
    """Where it stands when nothing is asked."""
    return f"{control.start:g}" if isinstance(control, Slider) else control.start


def _schema(control: Slider | Choice) -> dict[str, Any]:
    """What may stand in the address, for a description of it."""
    if isinstance(control, Slider):
        return {"type": "number", "minimum": control.low, "maximum": control.high}
    return {"enum": [option.key for option in control.options]}


for _each in LESSONS:
    router.add_api_route(f"/{_each.slug}.json", _twin(_each), responses=REFUSED)


@router.get("/{slug}", include_in_schema=False)
def one_lesson(request: Request, person: ThePerson, slug: str, view: str = "") -> HTMLResponse:
    """One lesson at a setting, as a page or for a class."""
    around, asked = frame(person, f"{ROOT}/{slug}"), request.query_params
    if checked_view(view) == "projector":
        return page(request, "learn/projector.html", around, projector_page(slug, asked))
    return page(request, "learn/lesson.html", around, lesson_page(slug, asked))


@router.get("/{slug}/live", include_in_schema=False)
def live_part(request: Request, person: ThePerson, slug: str) -> HTMLResponse:
    """What changes in a lesson as its sliders move."""
    content = lesson_page(slug, request.query_params)
    reply = page(request, "learn/live.html", frame(person, f"{ROOT}/{slug}"), content)
    reply.headers["hx-replace-url"] = content.address
    return reply
