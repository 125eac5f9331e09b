"""A plan or a kit as it is written by hand, and as it was: what is sent, saved to the letter."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from starlette.responses import Response

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.results.editing import Edited
from evencast.store.library.kinds import Kind
from evencast.web import kit_replies, plan_replies
from evencast.web.changing import Clashed, Edit, Saved, as_sent, change
from evencast.web.desk import Desk
from evencast.web.failures import failure_of, failure_response, wants_json
from evencast.web.pages.past import TextPage, text_page
from evencast.web.replies import page

Asking = kit_replies.Asking | plan_replies.Asking


def written(
    asking: Asking, kind: Kind, sent: str, *, based_on: int, done: Callable[[Saved], Response]
) -> Response:
    """A document as it was written, saved where it reads; else as it was typed, with what is wrong.

    kind : that it has to be of
    done : the answer where it is saved
    """
    asking.desk.document(asking.number, kind)
    typed = as_sent(sent, asking.desk.at(asking.number, based_on).text)
    shown = text_page(asking.desk, asking.number, typed, based_on)
    if any(each.severity == "error" for each in shown.problems):
        return _again(asking, shown)
    made = Edited(typed, "written by hand")
    try:
        saved = change(
            asking.desk, asking.number, lambda _: made, based_on=based_on, by=asking.person
        )
    except Clashed as clash:
        return asking.clashed(clash)
    except DocumentErrors as error:  # it reads alone, and not with what another saved meanwhile
        return _again(asking, replace(shown, problems=[*error.problems]))
    except EvencastError as error:
        found = Problem("error", error.where, error.what, error.remedy)
        return _again(asking, replace(shown, problems=[found]))
    return done(saved)


def _again(asking: Asking, shown: TextPage) -> Response:
    """A text as it was typed, with what is wrong in it."""
    if not wants_json(asking.request.headers):
        around = asking.frame(shown.kind.capitalize())
        return page(asking.request, "past/text.html", around, shown, 422)
    errors = [each for each in shown.problems if each.severity == "error"]
    failure = failure_of(DocumentErrors(f"the {shown.kind}", errors))
    return failure_response(failure, asking.request.headers)


def brought_back(desk: Desk, number: int, revision: int) -> Edit:
    """The change that makes an earlier revision the newest, byte for byte.

    Raises  EvencastError for a revision that never was
    """
    past = desk.at(number, revision).text
    return lambda _: Edited(past, f"brought back from revision {revision}")
