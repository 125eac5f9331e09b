"""A plan or a kit as it is written by hand, and as it was: what is sent, saved to the letter."""

from __future__ import annotations

from dataclasses import replace

from starlette.requests import Request
from starlette.responses import Response

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.results.editing import Edited
from evencast.web.changing import Edit, Saved, change
from evencast.web.desk import Desk
from evencast.web.failures import failure_of, failure_response, wants_json
from evencast.web.pages.past import TextPage, text_page
from evencast.web.people import Person
from evencast.web.replies import Frame, page


def as_sent(text: str, before: str) -> str:
    """A text out of a form, which makes two characters of every end of a line, with the ends that
    the text had before."""
    plain = text.replace("\r\n", "\n")
    return plain.replace("\n", "\r\n") if "\r\n" in before else plain


def saved_text(
    desk: Desk, number: int, sent: str, *, based_on: int, by: Person
) -> Saved | TextPage:
    """A document as it was written, saved where it reads; else as it was typed, with what is wrong.

    Raises  Clashed where another changed the same meanwhile
    """
    typed = as_sent(sent, desk.at(number, based_on).text)
    shown = text_page(desk, number, typed, based_on)
    if any(each.severity == "error" for each in shown.problems):
        return shown
    try:
        return change(
            desk, number, lambda _: Edited(typed, "written by hand"), based_on=based_on, by=by
        )
    except DocumentErrors as error:  # it reads alone, and not with what another saved meanwhile
        return replace(shown, problems=[*error.problems])
    except EvencastError as error:
        return replace(shown, problems=[Problem("error", error.where, error.what, error.remedy)])


def text_again(request: Request, around: Frame, shown: TextPage) -> Response:
    """A text as it was typed, with what is wrong in it."""
    if not wants_json(request.headers):
        return page(request, "past/text.html", around, shown, 422)
    errors = [each for each in shown.problems if each.severity == "error"]
    failure = failure_of(DocumentErrors(f"the {shown.kind}", errors))
    return failure_response(failure, request.headers)


def brought_back(desk: Desk, number: int, revision: int) -> Edit:
    """The change that makes an earlier revision the newest, byte for byte.

    Raises  EvencastError for a revision that never was
    """
    past = desk.at(number, revision).text
    return lambda _: Edited(past, f"brought back from revision {revision}")
