"""The app: its routes, its guard, and how failures are said."""

from __future__ import annotations

import logging
from collections.abc import AsyncIterator, Collection
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from evencast import __version__
from evencast.errors import EvencastError
from evencast.tables import fonts_folder
from evencast.web import routes
from evencast.web.desk import Desk
from evencast.web.failures import Failure, failure_of, failure_response
from evencast.web.guard import Guard, Limits

log = logging.getLogger("evencast")
STATIC = Path(__file__).parent / "static"
UPLOAD_BYTES = 64 * 1024 * 1024


def create_app(desk: Desk, *, hosts: Collection[str]) -> FastAPI:
    """The app over one library.

    hosts : names by which it may be called, each with its port where that is not 80
    """

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        await desk.live.begin()
        desk.jobs.warm()
        yield
        await desk.live.close()
        desk.close()

    app = FastAPI(
        title="evencast",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/openapi.json",
        lifespan=lifespan,
    )
    app.state.desk = desk
    for each in routes.every():
        app.include_router(each)
    app.mount("/static", StaticFiles(directory=STATIC))
    app.mount("/fonts", StaticFiles(directory=fonts_folder()))
    app.add_exception_handler(EvencastError, _said)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(Exception, _unexpected)
    limits = Limits(frozenset(each.casefold() for each in hosts), {"/import": UPLOAD_BYTES})
    app.add_middleware(Guard, limits=limits)
    return app


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


def _unexpected(request: Request, error: Exception) -> Response:
    log.exception("unexpected", exc_info=error)
    failure = Failure(
        500,
        "something unexpected happened; nothing was changed",
        request.url.path,
        "Load the page again. `evencast where` shows the log, which says more.",
    )
    return failure_response(failure, request.headers, request.url.path)
