"""The first page, and how a job begins: a plan, a kit, the demo."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.responses import HTMLResponse, Response

from evencast import tables
from evencast.actions.beginning import folder_for, new_kit, title_of
from evencast.errors import EvencastError
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.beginning import begin_plan as begin
from evencast.web.pages.frame import frame
from evencast.web.pages.jobs import JobsPage, jobs_page
from evencast.web.replies import gone_to, page

router = APIRouter()
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {
        "description": "A name or a kit that is none, or no right to change: what, where, remedy."
    }
}
Text = Annotated[str, Form(max_length=400)]


@router.get("/", include_in_schema=False)
def jobs(request: Request, desk: TheDesk, person: ThePerson) -> HTMLResponse:
    """Every plan and kit."""
    return page(request, "jobs.html", frame(person, "/"), jobs_page(desk))


@router.get("/jobs.json")
def jobs_json(desk: TheDesk) -> JobsPage:
    """Every plan and kit."""
    return jobs_page(desk)


@router.post("/plans", responses=REFUSED, status_code=303, response_class=Response)
def begin_plan(
    request: Request,
    desk: TheDesk,
    person: Editor,
    name: Text = "",
    kit: Annotated[int | None, Form()] = None,
    mains: Annotated[int, Form()] = 50,
) -> Response:
    """A new plan, beside the kit it is for; without one, with every generic filter.

    kit   : number of its document; none for a new one
    mains : 50 or 60
    """
    title = title_of(name, what="the new plan")
    if mains not in (50, 60):
        raise EvencastError(
            f"{mains} Hz is no mains", where="mains", remedy="Choose 50 or 60 Hz, as on location."
        )
    made = begin(desk, title, kit=kit, mains_hz=mains, by=person)
    return gone_to(request, f"/plan/{made.id}")


@router.post("/kits", responses=REFUSED, status_code=303, response_class=Response)
def begin_kit(
    request: Request,
    desk: TheDesk,
    person: Editor,
    name: Text = "",
    generics: Annotated[bool, Form()] = False,
) -> Response:
    """A new kit in a bundle of its own."""
    title = title_of(name, what="the new kit")
    bundle = desk.new_bundle(folder_for(title, usual="kits"))
    text = new_kit(title, generics=generics)
    made = desk.library.add(bundle, "kit.toml", text.encode(), by=person.name)
    return gone_to(request, f"/kit/{made.id}")


@router.post("/demo", responses=REFUSED, status_code=303, response_class=Response)
def begin_demo(request: Request, desk: TheDesk, person: Editor) -> Response:
    """The invented job, as a bundle of its own."""
    bundle = desk.new_bundle("demo")
    files = {name: text.encode() for name, text in tables.demo_documents().items()}
    desk.library.import_files(bundle, files, by=person.name, note="the demo")
    made = desk.library.documents(bundle, "plan")[0]
    return gone_to(request, f"/plan/{made.id}")
