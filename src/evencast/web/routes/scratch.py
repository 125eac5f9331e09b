"""Scratch: quick sums, and what of them is kept."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.responses import HTMLResponse, Response

from evencast.actions.beginning import new_plan, title_of
from evencast.actions.editing.lights import add_light
from evencast.actions.entry.typed import typed_light
from evencast.results.editing import Edited
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.beginning import begin_plan
from evencast.web.changing import change
from evencast.web.pages.frame import frame
from evencast.web.pages.scratch import ScratchPage, scratch_page
from evencast.web.replies import gone_to, page
from evencast.web.scratch_sums import SUMS

router = APIRouter(prefix="/scratch")
FIRST = SUMS[0].slug
REFUSED: dict[int | str, dict[str, Any]] = {
    400: {"description": "No such sum, or a light that cannot be understood: what, where, remedy."}
}


@router.get(".json")
def first_json(request: Request, desk: TheDesk) -> ScratchPage:
    """The first sum, and which others there are."""
    return scratch_page(desk, FIRST, request.query_params)


@router.get("", include_in_schema=False)
def first(request: Request, desk: TheDesk, person: ThePerson) -> HTMLResponse:
    """The first sum."""
    found = scratch_page(desk, FIRST, request.query_params)
    return page(request, "scratch.html", frame(person, "/scratch"), found)


@router.get("/{slug}.json", responses=REFUSED)
def sum_json(request: Request, slug: str, desk: TheDesk) -> ScratchPage:
    """One sum with what is typed, by the names of its fields, and what comes of it."""
    return scratch_page(desk, slug, request.query_params)


@router.get("/{slug}", include_in_schema=False)
def one_sum(request: Request, slug: str, desk: TheDesk, person: ThePerson) -> HTMLResponse:
    """One sum."""
    found = scratch_page(desk, slug, request.query_params)
    return page(request, "scratch.html", frame(person, request.url.path), found)


@router.post("/keep", responses=REFUSED, status_code=303, response_class=Response)
def keep(
    request: Request,
    desk: TheDesk,
    person: Editor,
    line: Annotated[str, Form(max_length=400)] = "",
    plan: Annotated[int | None, Form()] = None,
    name: Annotated[str, Form(max_length=400)] = "",
) -> Response:
    """Add the light to a plan.

    line : the light as one would type it
    plan : its number; none for a new one
    name : of the new one
    """

    def added(text: str) -> Edited:
        return add_light(text, typed_light(line, plan=text))

    if plan is None:
        title = title_of(name, what="the new plan")
        added(
            new_plan(title, kit="kit.toml", mains_hz=50)
        )  # nothing is begun for a light that cannot be understood
        made = begin_plan(desk, title, kit=None, mains_hz=50, by=person)
    else:
        made = desk.document(plan, "plan")
    change(desk, made.id, added, based_on=made.head.number, by=person, fresh=True)
    return gone_to(request, f"/plan/{made.id}")
