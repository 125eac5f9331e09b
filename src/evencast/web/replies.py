"""A page as HTML or as JSON: one dataclass, one template."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from evencast.quantities import say_duv, say_left, say_mired, say_stops

if TYPE_CHECKING:
    from evencast.web.people import Person


@dataclass(frozen=True, slots=True)
class Link:
    """One of the pages that every page leads to."""

    name: str
    path: str
    here: bool = False


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page.

    pages  : the others
    person : who looks at it
    state  : such as "saved, revision 14"
    """

    pages: list[Link]
    person: Person
    state: str = ""


@cache
def templates() -> Environment:
    """The layouts, every value of them escaped."""
    found = Environment(
        loader=PackageLoader("evencast.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.filters |= {
        "stops": say_stops,
        "mired": say_mired,
        "duv": say_duv,
        "capital": lambda text: text[:1].upper() + text[1:],
        "query": lambda told, **more: urlencode(
            {name: each for name, each in {**told, **more}.items() if each}
        ),
    }
    found.globals["left"] = say_left
    return found


def page(
    request: Request, template: str, frame: Frame, content: Any, status: int = 200
) -> HTMLResponse:
    """A page, or its main part where the page itself asks for it.

    content : the dataclass that the JSON twin shows
    """
    text = (
        templates().get_template(template).render(frame=frame, page=content, path=request.url.path)
    )
    return HTMLResponse(text, status)
