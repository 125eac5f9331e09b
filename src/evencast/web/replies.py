"""A page as HTML or as JSON: one dataclass, one template."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import PurePosixPath
from typing import Any
from urllib.parse import quote, urlencode

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from pydantic import TypeAdapter
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from evencast.itself import Itself
from evencast.quantities import say_duv, say_left, say_mired, say_stops
from evencast.web.people import Person
from evencast.web.tokens import Tokens, in_forms

REVISION = "evencast-revision"
"""Header of the answer to a change: the number of what it made."""


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
    """

    pages: tuple[Link, ...]
    person: Person


@cache
def templates() -> Environment:
    """The layouts, every value of them escaped."""
    found = Environment(
        loader=PackageLoader("evencast.web", "templates"),
        autoescape=True,
        auto_reload=False,
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
        "when": _when,
    }
    found.globals["left"] = say_left
    return found


def _when(saved_at: str) -> Markup:
    """A time that the device shows in its own zone; in UTC where it does not."""
    in_utc = saved_at.replace("T", " ").replace("+00:00", " UTC")
    return Markup('<time datetime="{}">{}</time>').format(saved_at, in_utc)


def page(
    request: Request,
    template: str,
    frame: Frame,
    content: Any,
    status: int = 200,
    *,
    part: str = "",
    kept: bool = False,
) -> HTMLResponse:
    """A page, or its main part where the page itself asks for it.

    content : the dataclass that the JSON twin shows
    part    : layout of what a page holds that is made for any
    kept    : whether others will ask for that very content, so that its text is kept
    """
    tokens: Tokens = request.app.state.tokens
    lay_out = _laid_out_once if kept else _laid_out
    shown_to = replace(frame, person=Person("", "", frame.person.role))
    text = lay_out(template, part, request.url.path, shown_to, Itself(content))
    return HTMLResponse(text.replace(_TOKEN, tokens.of(frame.person)), status)


_TOKEN = secrets.token_hex(20)
"""Stands where each session's own token goes."""
_KEPT = 32


def _laid_out(template: str, part: str, path: str, frame: Frame, content: Itself[Any]) -> str:
    """A page for whoever has that role."""
    found = templates().get_template(template)
    text = found.render(frame=frame, page=content.held, path=path, token=_TOKEN, part=part)
    return in_forms(text, _TOKEN)


_laid_out_once = lru_cache(_KEPT)(_laid_out)


@lru_cache(_KEPT)
def _as_json(content: Itself[Any], kind: TypeAdapter[Any]) -> bytes:
    return kind.dump_json(content.held)


def twin(content: Any, kind: TypeAdapter[Any]) -> Response:
    """A page as JSON; others will ask for that very content, so its text is kept."""
    return Response(_as_json(Itself(content), kind), media_type="application/json")


MEDIA = {".pdf": "application/pdf", ".png": "image/png", ".csv": "text/csv; charset=utf-8"}
MEDIA |= {".html": "text/html; charset=utf-8", ".zip": "application/zip"}
NOTHING_ELSE = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
LONGEST_FILE_NAME = 120
_NOT_IN_NAMES = set('<>:"|?*\\/')


def file_reply(content: bytes, name: str, *, inline: bool = False) -> Response:
    """A file: to be kept on the device; or to be looked at, which holds for PDF and PNG alone.

    name : as the device shall call it
    """
    media = MEDIA.get(PurePosixPath(name).suffix.casefold(), "application/octet-stream")
    shown = inline and media in ("application/pdf", "image/png")
    policy = NOTHING_ELSE if shown else f"{NOTHING_ELSE}; sandbox"
    how = f"{'inline' if shown else 'attachment'}; {_named(name)}"
    headers = {"content-disposition": how, "content-security-policy": policy}
    return Response(content, media_type=media, headers=headers)


def file_name(title: str, name: str) -> str:
    """What a device shall call a file of a plan or kit: "night bindery, lamp-cards.pdf"."""
    kept = "".join(" " if each in _NOT_IN_NAMES else each for each in title if each.isprintable())
    head = " ".join(kept.split()).strip(". ")[: LONGEST_FILE_NAME - len(name)]
    return f"{head}, {name}" if head else name


def _named(name: str) -> str:
    """RFC 6266: in plain letters, and as it is for those who read that."""
    plain = "".join(
        each if each.isascii() and each.isprintable() and each not in '"\\' else "_"
        for each in name
    )
    return f"filename=\"{plain}\"; filename*=UTF-8''{quote(name, safe='')}"


def gone_to(request: Request, path: str) -> Response:
    """On to another page, after something was done. Where only the main part is to be shown anew,
    it comes from there."""
    if request.headers.get("hx-request") and request.headers.get("hx-target") != "main":
        return Response(status_code=204, headers={"hx-redirect": path})
    return RedirectResponse(path, 303)
