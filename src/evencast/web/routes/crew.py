"""The crew: joining, who is in, ending sessions."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from evencast.errors import EvencastError
from evencast.web.asked import Anybody, MaybeDoor, Owner, TheDoor, ThePerson
from evencast.web.devices import device_words
from evencast.web.door import COOKIE, Asking, Door
from evencast.web.failures import failure_of, failure_response, wants_json
from evencast.web.pages.crew import CrewPage, JoinPage, crew_page
from evencast.web.pages.frame import frame
from evencast.web.people import OWNER_ONLY, Person
from evencast.web.replies import page

router = APIRouter()

MONTH_S = 30 * 24 * 3600
DONE: dict[int | str, dict[str, Any]] = {303: {"description": "Done; the page stands there."}}
LOCKED: dict[int | str, dict[str, Any]] = {
    429: {"description": "Too many wrong codes; `retry-after` says when the next is tried."}
}


@router.get("/join", include_in_schema=False)
def join_page(request: Request, door: MaybeDoor, person: Anybody) -> HTMLResponse:
    """The way in."""
    already = person.name if person else ""
    return _join_page(request, person, JoinPage(door is not None, already=already))


@router.post("/join", status_code=303, response_class=Response, responses=DONE | LOCKED)
def join(
    request: Request,
    door: TheDoor,
    person: Anybody,
    name: Annotated[str, Form()] = "",
    code: Annotated[str, Form()] = "",
    secret: Annotated[str, Form()] = "",
) -> Response:
    """Join with a code: eight characters, or the secret of the QR code. Sets a cookie."""
    asking = Asking(
        name=name,
        code=code,
        secret=secret,
        device=device_words(request.headers.get("user-agent", "")),
        address=request.client.host if request.client else "",
        before=person.id if person else "",
    )
    try:
        _, cookie = door.join(asking)
    except EvencastError as error:
        failure = failure_of(error)
        if wants_json(request.headers) or request.headers.get("hx-request"):
            return failure_response(failure, request.headers)
        said = JoinPage(True, name=name, what=f"{failure.what}", remedy=failure.remedy)
        reply = _join_page(request, person, said, failure.status)
        if failure.retry_after_s:
            reply.headers["retry-after"] = str(failure.retry_after_s)
        return reply
    response = RedirectResponse("/", 303)
    response.set_cookie(COOKIE, cookie, max_age=MONTH_S, path="/", httponly=True, samesite="strict")
    return response


@router.get("/crew", include_in_schema=False)
def crew(request: Request, door: MaybeDoor, person: ThePerson) -> HTMLResponse:
    """How to join, who is in."""
    return page(request, "crew.html", frame(person, "/crew"), crew_page(door, person))


@router.get("/crew.json")
def crew_json(door: MaybeDoor, person: ThePerson) -> CrewPage:
    """How to join, who is in; codes for the person at the laptop alone."""
    return crew_page(door, person)


@router.get("/crew/people", include_in_schema=False)
def people(request: Request, door: MaybeDoor, person: ThePerson) -> HTMLResponse:
    """Who is in."""
    return page(request, "crew/people.html", frame(person, "/crew"), crew_page(door, person))


@router.post("/crew/codes", status_code=303, response_class=Response, responses=DONE)
def new_codes(door: TheDoor, _: Owner) -> Response:
    """New codes; those before let nobody in any more."""
    door.new_codes()
    return RedirectResponse("/crew", 303)


@router.post("/crew/end", status_code=303, response_class=Response, responses=DONE)
def end(door: TheDoor, person: ThePerson, session: Annotated[str, Form(max_length=40)]) -> Response:
    """End a session: one's own, or, at the laptop, anybody's."""
    if session != person.id and person.role != "owner":
        raise OWNER_ONLY
    _known(door, session)
    door.end(session)
    return RedirectResponse("/crew", 303)


@router.post("/crew/end-all", status_code=303, response_class=Response, responses=DONE)
def end_all(door: TheDoor, _: Owner) -> Response:
    """End every session, and make new codes, or those who were put out would be back at once."""
    door.new_codes()
    door.end()
    return RedirectResponse("/crew", 303)


@router.post("/crew/name", status_code=303, response_class=Response, responses=DONE)
def rename(door: TheDoor, person: ThePerson, name: Annotated[str, Form()]) -> Response:
    """Another name for oneself."""
    _known(door, person.id)
    door.rename(person, name)
    return RedirectResponse("/crew", 303)


def _known(door: Door, session: str) -> None:
    if all(each.id != session for each in door.sessions()):
        raise EvencastError(
            "there is no such session, or it has ended",
            where="session",
            remedy="Load the page of the crew again.",
        )


def _join_page(
    request: Request, person: Person | None, content: JoinPage, status: int = 200
) -> HTMLResponse:
    return page(request, "join.html", frame(person or NOBODY, "/join"), content, status)


NOBODY = Person("nobody", "", "view")
"""Who is not in."""
