"""The first page, and how jobs come in."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import HTMLResponse

from evencast.web.asked import TheDesk, ThePerson
from evencast.web.pages.frame import frame
from evencast.web.pages.jobs import JobsPage, jobs_page
from evencast.web.replies import page

router = APIRouter()


@router.get("/", include_in_schema=False)
def jobs(request: Request, desk: TheDesk, person: ThePerson) -> HTMLResponse:
    """Every plan and kit."""
    return page(request, "jobs.html", frame(person, "/"), jobs_page(desk))


@router.get("/jobs.json")
def jobs_json(desk: TheDesk) -> JobsPage:
    """Every plan and kit."""
    return jobs_page(desk)
