"""Failures as pages and as JSON: what was wrong, where, what to do."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field, replace
from typing import Any

from starlette.datastructures import Headers
from starlette.responses import HTMLResponse, JSONResponse, Response

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.web.people import Refused

MARKS = re.compile(r"`[^`]*`| \(--[a-z-]+\)|--(?=[a-z])")


@dataclass(frozen=True, slots=True)
class Failure:
    """One failure.

    status   : of HTTP
    problems : of a document, where that is what failed
    retry_after_s : seconds until it may be tried again; 0 where that is not the point
    """

    status: int
    what: str
    where: str
    remedy: str
    problems: list[Problem] = field(default_factory=list)
    retry_after_s: int = 0


def failure_of(error: EvencastError, status: int | None = None) -> Failure:
    """What an action could not do, as a page says it; 422 where a document has errors, what the
    refusal says where it is one, else 400."""
    refused = error if isinstance(error, Refused) else None
    problems = error.problems if isinstance(error, DocumentErrors) else ()
    return Failure(
        status or (refused.status if refused else 422 if problems else 400),
        as_said(error.what),
        as_said(error.where),
        as_said(error.remedy),
        plainly(problems),
        refused.retry_after_s if refused else 0,
    )


def as_said(text: str) -> str:
    """Without the marks of the command line, but where a whole command is quoted."""
    return MARKS.sub(lambda found: found[0] if found[0].startswith("`") else "", text)


def plainly(problems: Iterable[Problem]) -> list[Problem]:
    """Problems without the marks of the command line."""
    return [
        replace(
            each,
            where=as_said(each.where),
            message=as_said(each.message),
            remedy=as_said(each.remedy),
        )
        for each in problems
    ]


def wants_json(headers: Headers, path: str = "") -> bool:
    """Whether an answer goes to a program."""
    accept = headers.get("accept", "")
    return path.endswith(".json") or ("json" in accept and "text/html" not in accept)


def failure_response(failure: Failure, headers: Headers, path: str = "") -> Response:
    """A failure in the form that was asked for; for a part of a page only its message."""
    later = {"retry-after": str(failure.retry_after_s)} if failure.retry_after_s else None
    if wants_json(headers, path):
        return JSONResponse(failure_json(failure), failure.status, later)
    told = _message(failure)
    if headers.get("hx-request"):
        return HTMLResponse(told, failure.status, (later or {}) | {"hx-reselect": ".failure"})
    return HTMLResponse(PAGE.replace("MESSAGE", told), failure.status, later)


def failure_json(failure: Failure) -> dict[str, Any]:
    """The one shape of an error."""
    error: dict[str, Any] = {
        "what": failure.what,
        "where": failure.where,
        "remedy": failure.remedy,
    }
    if failure.problems:
        error["problems"] = [asdict(each) for each in failure.problems]
    return {"error": error}


def _message(failure: Failure) -> str:
    found = "".join(
        f"<li><b>{html.escape(each.where)}</b>: {html.escape(each.message)}. "
        f"{html.escape(each.remedy)}</li>"
        for each in failure.problems
    )
    return (
        f'<div class="failure" role="alert"><p><b>{html.escape(_capital(failure.what))}.</b></p>'
        f"<p>{html.escape(failure.where)}</p><p>{html.escape(failure.remedy)}</p>"
        f"{f'<ul>{found}</ul>' if found else ''}</div>"
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>evencast: not done</title>
<link rel="stylesheet" href="/static/app.css">
</head>
<body>
<main>
<h1>Not done</h1>
MESSAGE
<p><a href="/">To the jobs</a></p>
</main>
</body>
</html>
"""
