"""Behind the guard: who asks. Nobody gets further who is not in."""

from __future__ import annotations

from collections.abc import Callable, Collection
from pathlib import Path

from starlette.requests import HTTPConnection
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from evencast.store.files import confined
from evencast.web.door import COOKIE, Door
from evencast.web.failures import failure_of, failure_response, wants_json
from evencast.web.people import NOT_IN, OWNER, Person

HERE = frozenset({"127.0.0.1", "::1"})
OPEN_TO_ALL = ("/join", "/static/", "/fonts/")
"""What somebody sees who is not in: the page to join, and what it looks like."""


class Identity:
    """Finds who asks, and keeps what they ask for inside the library."""

    def __init__(self, app: ASGIApp, *, door: Callable[[], Door | None], folder: Path) -> None:
        """door : None where nobody can join: whoever reaches the server is at the laptop
        folder  : beyond which no file of a document is looked for
        """
        self._app, self._door, self._folder = app, door, folder

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass on with the person, or send to the page to join."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        asked = HTTPConnection(scope)
        person = self._person(asked)
        scope.setdefault("state", {})["person"] = person
        if person is None and not _is_open(scope["path"]):
            await _turned_away(asked, scope["method"])(scope, receive, send)
            return
        with confined(self._folder):
            await self._app(scope, receive, send)

    def _person(self, asked: HTTPConnection) -> Person | None:
        door = self._door()
        if door is None or is_here(asked, HERE):
            return OWNER
        return door.person_of(asked.cookies.get(COOKIE, ""))


def is_here(asked: HTTPConnection, addresses: Collection[str]) -> bool:
    """Whether a request comes from the laptop itself, by its own inner address."""
    return asked.client is not None and asked.client.host in addresses


def _is_open(path: str) -> bool:
    return path == OPEN_TO_ALL[0] or path.startswith(OPEN_TO_ALL[1:])


def _turned_away(asked: HTTPConnection, method: str) -> Response:
    is_page = method in ("GET", "HEAD") and not asked.headers.get("hx-request")
    path = asked.url.path
    if is_page and path != "/live" and not wants_json(asked.headers, path):
        return RedirectResponse("/join", 303)
    return failure_response(failure_of(NOT_IN), asked.headers, path)
