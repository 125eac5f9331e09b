"""The app: its routes, its guard, and how failures are said."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Collection
from contextlib import AbstractAsyncContextManager, asynccontextmanager, suppress
from pathlib import Path
from typing import Any

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from evencast import __version__
from evencast.errors import EvencastError
from evencast.web import routes
from evencast.web.described import described
from evencast.web.desk import Desk
from evencast.web.door import Door
from evencast.web.failures import Failure, failure_of, failure_response
from evencast.web.guard import Guard, Limits, TooLargeError
from evencast.web.identity import Identity
from evencast.web.tokens import Tokens, from_our_page

STATIC = Path(__file__).parent / "static"
UPLOAD_BYTES = 64 * 1024 * 1024
KEEP_SEEN_EVERY_S = 60.0


def create_app(desk: Desk, *, hosts: Collection[str], door: Door | None = None) -> FastAPI:
    """The app over one library.

    hosts : names by which it may be called, each with its port where that is not 80
    door  : where the crew comes in; without one nobody can join, and the server must listen to
            the laptop alone
    """
    app = FastAPI(
        title="evencast",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/openapi.json",
        lifespan=_lifespan(desk, door),
    )
    app.state.desk, app.state.door, app.state.tokens = desk, door, Tokens(desk.form_key())
    for each in routes.every():
        app.include_router(each, dependencies=[Depends(from_our_page)])
    app.mount("/static", _Static(directory=STATIC))
    app.add_exception_handler(EvencastError, _said)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    app.openapi = described(app)  # type: ignore[method-assign]
    app.add_middleware(Identity, door=lambda: door, folder=desk.library.place.checkouts)
    limits = Limits(frozenset(each.casefold() for each in hosts), {"/import": UPLOAD_BYTES})
    app.add_middleware(Guard, limits=limits)
    return app


class _Static(StaticFiles):
    """Styles, scripts and fonts: kept by the browser, which asks each time whether they are still
    the same."""

    def file_response(self, *args: Any, **named: Any) -> Response:
        """The file, or that it is the same."""
        reply = super().file_response(*args, **named)
        reply.headers["cache-control"] = "no-cache"
        return reply


def _lifespan(
    desk: Desk, door: Door | None
) -> Callable[[FastAPI], AbstractAsyncContextManager[None]]:
    async def keep_seen(to: Door) -> None:
        while True:
            await asyncio.sleep(KEEP_SEEN_EVERY_S)
            await asyncio.to_thread(to.keep_seen)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        await desk.live.begin()
        desk.jobs.warm()
        keeping = None if door is None else asyncio.create_task(keep_seen(door))
        yield
        if door is not None and keeping is not None:
            keeping.cancel()
            with suppress(asyncio.CancelledError):
                await keeping
            door.close()
        await desk.live.close()
        desk.close()

    return lifespan


def _said(request: Request, error: Exception) -> Response:
    assert isinstance(error, EvencastError)
    return failure_response(failure_of(error), request.headers, request.url.path)


def _invalid(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0]
    where = ".".join(str(each) for each in first["loc"][1:]) or "request"
    failure = Failure(422, str(first["msg"]), where, "Mend that field and send it again.")
    return failure_response(failure, request.headers, request.url.path)


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if isinstance(error, TooLargeError):
        return failure_response(error.failure, request.headers, request.url.path)
    what = {404: "there is no such page", 405: "that cannot be done with this page"}
    failure = Failure(
        error.status_code,
        what.get(error.status_code, str(error.detail)),
        request.url.path,
        "Go to the jobs and on from there.",
    )
    reply = failure_response(failure, request.headers, request.url.path)
    reply.headers.update(error.headers or {})
    return reply
