"""What the routes of a plan share: what a form sends, and how a change is answered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import Depends, Form, Query, Request
from starlette.datastructures import UploadFile
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from evencast.actions.editing.fields import Refused
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.results.editing import Edited
from evencast.web.asked import Editor, TheDesk, ThePerson
from evencast.web.changing import Clashed, Edit, Saved, change
from evencast.web.desk import Desk, Opened
from evencast.web.failures import Failure, failure_of, failure_response, wants_json
from evencast.web.pages.forms import FormPage
from evencast.web.pages.frame import frame
from evencast.web.pages.plan import PlanPage, plan_page, with_notice
from evencast.web.pages.plan_clash import clash_page
from evencast.web.pages.plan_entry import EntryPage
from evencast.web.pages.plan_forms import address
from evencast.web.pages.plan_trim import TrimPage, trim_page
from evencast.web.pages.within import plan_pages
from evencast.web.people import Person
from evencast.web.replies import REVISION, Frame, page
from evencast.web.tokens import FIELD

REFUSED: dict[int | str, dict[str, Any]] = {
    303: {"description": "Done; the page to go to."},
    400: {"description": "It cannot be done: what, where, remedy."},
    409: {"description": "Another changed the same thing meanwhile: both versions, to decide."},
    422: {"description": "What was typed is not what belongs there, or the plan has errors."},
}
OTHERS: dict[str, Any] = {
    "requestBody": {
        "content": {
            "application/x-www-form-urlencoded": {
                "schema": {"type": "object", "additionalProperties": {"type": "string"}}
            }
        }
    }
}

ALONE = "plan/alone.html"
"""Layout of a page that holds one part of a plan's page."""


@dataclass(frozen=True, slots=True)
class Where:
    """The set-up and the balance of the page that a form stands on."""

    setup: str = ""
    balance: str = ""

    @property
    def query(self) -> dict[str, str]:
        """To be sent on."""
        return {"setup": self.setup, "balance": self.balance}


async def _asked(
    setup: Annotated[str, Query(description="Name of a set-up; left out, the first.")] = "",
    balance: Annotated[str, Query(description='Such as "4300K"; left out, the set-up\'s.')] = "",
) -> Where:
    return Where(setup, balance)


async def _sent(
    setup: Annotated[str, Form(description="Name of a set-up.")] = "",
    balance: Annotated[str, Form(description="Of the page, where it was dragged.")] = "",
) -> Where:
    return Where(setup, balance)


Asked = Annotated[Where, Depends(_asked)]
Sent = Annotated[Where, Depends(_sent)]
BasedOn = Annotated[
    int, Form(ge=1, le=2**31, description="Number of the revision that the form was shown with.")
]
LightName = Annotated[str, Form(description="Name of a light of the plan.")]


async def _fields(request: Request) -> dict[str, str]:
    """Every text of the form; of a field that is sent more than once all of them."""
    found: dict[str, str] = {}
    for name, value in (await request.form()).multi_items():
        if isinstance(value, UploadFile) or name == FIELD:
            continue
        found[name] = f"{found[name]}; {value}" if name in found else value
    return found


Fields = Annotated[dict[str, str], Depends(_fields)]


@dataclass(frozen=True, slots=True)
class Asking:
    """Who asks for a change of which plan, and how it is answered."""

    request: Request
    desk: Desk
    person: Person
    number: int
    where: Where

    @property
    def query(self) -> dict[str, str]:
        """The page's set-up and balance, to be sent on."""
        return self.where.query

    def opened(self) -> Opened:
        """The plan as it is now."""
        return self.desk.open(self.number)

    def seen_at(self, based_on: int) -> Opened:
        """The plan as it was in the revision that a form was shown with."""
        return self.desk.at(self.number, based_on)

    def changed(
        self,
        edit: Edit,
        *,
        based_on: int,
        fresh: bool = False,
        form: Callable[[], FormPage] | None = None,
        fields: dict[str, str] | None = None,
        trim_of: str | None = None,
        setup: str | None = None,
    ) -> Response:
        """Make a change and show the plan; or show what clashed, or the form as it was typed.

        form    : the form that was sent, for when it cannot be taken
        trim_of : a light whose trim is shown under its row then
        setup   : to be shown then, in place of the form's own
        """
        typed = fields or {}
        try:
            saved = change(
                self.desk, self.number, edit, based_on=based_on, by=self.person, fresh=fresh
            )
        except Clashed as clash:
            return self.clashed(clash)
        except Refused as refused:
            others = [f"{each.where}: {each.message}. {each.remedy}" for each in refused.others]
            return self.again(form, typed, dict(refused.at), others)
        except DocumentErrors as error:
            if form is None:
                raise
            return self.again(form, typed, {}, [_said(each) for each in error.problems])
        except EvencastError as error:
            if form is None:
                raise
            return self.again(form, typed, {}, [f"{error.what}. {error.remedy}"])
        where = self.where if setup is None else Where(setup, self.where.balance)
        return self.saved(saved, where, trim_of=trim_of)

    def filled(
        self,
        form: Callable[[], FormPage],
        fields: dict[str, str],
        edit: Callable[[str, dict[str, str]], Edited],
        *,
        based_on: int,
        trim_of: str | None = None,
    ) -> Response:
        """Make the change of a form: `edit` is given the text and each key that the form has."""
        keys = _emptied(form(), fields)
        return self.changed(
            lambda text: edit(text, keys),
            based_on=based_on,
            form=form,
            fields=fields,
            trim_of=trim_of,
        )

    def saved(self, saved: Saved, where: Where, *, trim_of: str | None = None) -> Response:
        """The plan with what was just done: the page's own part where the page asked, else the
        way to it."""
        if not self.request.headers.get("hx-request"):
            if wants_json(self.request.headers):
                return self._json(saved)
            to = address(self.number, where.query, saved=str(saved.revision.number))
            if trim_of is not None:
                to = address(self.number, where.query, "/trim", light=trim_of)
            return RedirectResponse(to, 303)
        opened = self.opened()
        shown = page_of(self.desk, opened, where, with_chart=False)
        trim: TrimPage | None = None
        if trim_of is not None:
            query = {**where.query, "setup": shown.setup}
            trim = trim_page(self.desk, opened, trim_of, query)
        reply = self.part(with_notice(shown, saved, trim))
        reply.headers[REVISION] = str(saved.revision.number)
        return reply

    def part(self, shown: PlanPage) -> HTMLResponse:
        """The page's own part."""
        reply = page(self.request, "plan/body.html", frame(self.person, self._path), shown)
        reply.headers["hx-replace-url"] = address(self.number, shown.where)
        reply.headers["hx-retarget"], reply.headers["hx-reswap"] = "#plan", "outerHTML"
        return reply

    def clashed(self, clash: Clashed) -> Response:
        """Both versions, to decide between."""
        shown = clash_page(self.number, clash, self.query)
        reply = self._shown("plan/clash", shown, 409)
        if self.request.headers.get("hx-request"):
            reply.headers["hx-retarget"], reply.headers["hx-reswap"] = "#refused", "innerHTML"
        return reply

    def again(
        self,
        form: Callable[[], FormPage] | None,
        fields: dict[str, str],
        at: dict[str, str],
        problems: list[str],
    ) -> Response:
        """A form as it was typed, with what is wrong with it; based on what it was based on."""
        if wants_json(self.request.headers) or form is None:
            told = [Problem("error", name, each, "Mend that field.") for name, each in at.items()]
            told += [
                Problem("error", "the plan", each, "Change what was sent.") for each in problems
            ]
            failure = failure_of(DocumentErrors("form", told))
            return failure_response(failure, self.request.headers)
        shown = form()
        filled = shown.filled(_emptied(shown, fields), at=at, problems=problems)
        reply = self._shown("plan/form", filled, 422)
        if self.request.headers.get("hx-request"):
            reply.headers["hx-retarget"] = f"#{shown.tray}"
            reply.headers["hx-reswap"] = "innerHTML"
        return reply

    def not_yet(self, entry: EntryPage) -> Response:
        """A typed light that still asks for something."""
        if wants_json(self.request.headers):
            what = entry.problem or "; ".join(each.question for each in entry.asks) or "nothing"
            failure = Failure(422, what, "line", "Say it in the line.")
            return failure_response(failure, self.request.headers)
        reply = self._shown("plan/entry", entry, 422)
        if self.request.headers.get("hx-request"):
            reply.headers["hx-retarget"], reply.headers["hx-reswap"] = "#entry", "outerHTML"
        return reply

    def frame(self, here: str) -> Frame:
        """Around a page of the plan."""
        links = plan_pages(self.desk, self.desk.open(self.number, "plan"), here)
        return frame(self.person, self._path, within=links)

    def back(self) -> Response:
        """To the plan."""
        return RedirectResponse(address(self.number, self.query), 303)

    def shown(self, name: str, content: Any, *, alone: str = ALONE) -> HTMLResponse:
        """A part of a page by itself, or as a page of its own.

        alone : the layout of that page
        """
        return self._shown(name, content, 200, alone)

    def _shown(self, name: str, content: Any, status: int, alone: str = ALONE) -> HTMLResponse:
        around, part = self.frame("Plan"), f"{name}.html"
        if self.request.headers.get("hx-request"):
            return page(self.request, part, around, content, status)
        return page(self.request, alone, around, content, status, part=part)

    @property
    def _path(self) -> str:
        return self.request.url.path

    def _json(self, saved: Saved) -> Response:
        return JSONResponse(
            {
                "revision": saved.revision.number,
                "said": saved.said,
                "name": saved.name,
                "notes": saved.notes,
            }
        )


async def _looking(
    request: Request, number: int, desk: TheDesk, person: ThePerson, where: Asked
) -> Asking:
    return Asking(request, desk, person, number, where)


async def _opening(
    request: Request, number: int, desk: TheDesk, person: Editor, where: Asked
) -> Asking:
    return Asking(request, desk, person, number, where)


async def _changing(
    request: Request, number: int, desk: TheDesk, person: Editor, where: Sent
) -> Asking:
    return Asking(request, desk, person, number, where)


Looking = Annotated[Asking, Depends(_looking)]
"""Who looks at a part of a plan."""

Opening = Annotated[Asking, Depends(_opening)]
"""Who opens a form of a plan."""

Changing = Annotated[Asking, Depends(_changing)]
"""Who sends one."""


def page_of(desk: Desk, opened: Opened, where: Where, *, with_chart: bool = True) -> PlanPage:
    """A plan as it hangs in the set-up and at the balance of a page."""
    return plan_page(
        desk,
        opened,
        setup=where.setup or None,
        balance=where.balance or None,
        with_chart=with_chart,
    )


def _emptied(form: FormPage, fields: dict[str, str]) -> dict[str, str]:
    """What was typed, with "" for boxes of which none was ticked."""
    return {name: fields.get(name, "") for name in form.names}


def _said(problem: Problem) -> str:
    return f"{problem.where}: {problem.message}. {problem.remedy}"
