"""What the routes of a kit share: a change made, and how it is answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Depends, Form, Query
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from evencast.actions.editing.fields import Refused
from evencast.errors import DocumentErrors, Problem
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.changing import Clashed, Edit, Saved, change
from evencast.web.desk import Desk
from evencast.web.failures import wants_json
from evencast.web.pages.frame import frame
from evencast.web.pages.plan_clash import clash_page
from evencast.web.pages.within import kit_pages, plans_of
from evencast.web.people import Person
from evencast.web.replies import REVISION, Frame, gone_to, page

REFUSED: dict[int | str, dict[str, Any]] = {
    303: {"description": "Done; the page to go to."},
    400: {"description": "It cannot be done: what, where, remedy."},
    409: {"description": "Another changed the same thing meanwhile: both versions, to decide."},
    422: {"description": "What was typed is not what belongs there, or the kit has errors."},
}
BasedOn = Annotated[
    int, Form(ge=1, le=2**31, description="Number of the revision that the form was shown with.")
]
From = Annotated[int | None, Query(alias="plan", description="The plan that one came from.")]
Came = Annotated[int | None, Form(alias="plan", description="The plan that one came from.")]
Text = Annotated[str, Form(max_length=2000)]


@dataclass(frozen=True, slots=True)
class Asking:
    """Who asks for a change of which kit."""

    request: Request
    desk: Desk
    person: Person
    number: int
    plan: int | None = None

    @property
    def root(self) -> str:
        """Path of the kit's page."""
        return f"/kit/{self.number}"

    @property
    def query(self) -> str:
        """What is said behind each path of the kit."""
        return "" if self.plan is None else f"?plan={self.plan}"

    def change(self, edit: Edit, *, based_on: int, fresh: bool = False) -> Saved:
        """Make a change.

        Raises  Clashed; DocumentErrors for a form that cannot be taken, every field of it
        """
        self.desk.document(self.number, "kit")
        try:
            return change(
                self.desk, self.number, edit, based_on=based_on, by=self.person, fresh=fresh
            )
        except Refused as refused:
            told = [_problem(name, said) for name, said in refused.at.items()]
            raise DocumentErrors("the form", [*told, *refused.others]) from None

    def changed(self, edit: Edit, *, based_on: int, fresh: bool = False, to: str = "") -> Response:
        """Make a change and go on.

        to : behind the path of the kit
        """
        try:
            saved = self.change(edit, based_on=based_on, fresh=fresh)
        except Clashed as clash:
            return self.clashed(clash)
        return self.saved(saved, to=to)

    def saved(self, saved: Saved, *, to: str = "") -> Response:
        """On to the kit, or to what `to` says behind its path."""
        if wants_json(self.request.headers):
            told = {"revision": saved.revision.number, "said": saved.said, "notes": saved.notes}
            return JSONResponse(told)
        reply = gone_to(self.request, f"{self.root}{to}{self.query}")
        reply.headers[REVISION] = str(saved.revision.number)
        return reply

    def clashed(self, clash: Clashed) -> Response:
        """Both versions, to decide between."""
        shown = clash_page(self.number, clash, {})
        if self.request.headers.get("hx-request"):
            reply: Response = page(self.request, "kit/clash.html", self.frame("Kit"), shown, 409)
            reply.headers["hx-retarget"], reply.headers["hx-reswap"] = "#refused", "innerHTML"
            reply.headers["hx-reselect"] = ".clash"
            return reply
        return page(self.request, "kit/clash_page.html", self.frame("Kit"), shown, 409)

    def frame(self, here: str) -> Frame:
        """Around a page of the kit."""
        document = self.desk.document(self.number, "kit")
        links = kit_pages(self.desk, document, self.plan, here)
        return frame(self.person, self.request.url.path, within=links)

    def plans(self) -> dict[str, str]:
        """Names and texts of the plans that use the kit."""
        found = plans_of(self.desk, self.desk.document(self.number, "kit"))
        return {
            title: self.desk.library.read(each).content.decode("utf-8-sig")
            for title, each in found.items()
        }


async def _looking(
    request: Request, number: int, desk: TheDesk, person: ThePerson, plan: From = None
) -> Asking:
    return Asking(request, desk, person, number, plan)


async def _opening(
    request: Request, number: int, desk: TheDesk, person: Editor, plan: From = None
) -> Asking:
    return Asking(request, desk, person, number, plan)


async def _changing(
    request: Request, number: int, desk: TheDesk, person: Editor, plan: Came = None
) -> Asking:
    return Asking(request, desk, person, number, plan)


Looking = Annotated[Asking, Depends(_looking)]
"""Who looks at a kit."""

Opening = Annotated[Asking, Depends(_opening)]
"""Who opens a form of a kit."""

Changing = Annotated[Asking, Depends(_changing)]
"""Who sends one."""


def _problem(name: str, said: str) -> Problem:
    what, _, remedy = said.partition(". ")
    return Problem("error", name.replace("_", " "), what, remedy)
