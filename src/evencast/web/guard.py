"""What every request must pass before anything looks at it, and what every answer carries.

A page of another site that is open in the same browser may send requests here; so a request must
name this server as its host, and one that changes something must come from a page of it.
"""

from __future__ import annotations

import logging
from collections.abc import Collection
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evencast.web.failures import Failure, failure_response
from evencast.web.tokens import SAFE_METHODS

log = logging.getLogger("evencast")

MOST_BYTES = 1024 * 1024
"""Of a form; pages that take files name their own limit."""

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",  # no-referrer would send forms with the origin "null"
    "cross-origin-embedder-policy": "require-corp",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}

TRUSTED = ("127.0.0.1", "localhost")
"""Plain http from elsewhere is nothing that browsers trust: they refuse to keep windows apart for
it, and complain of being asked."""

SEALED_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'"
"""Of a document that leaves the app and may hold what a person wrote into it: opened here, it can
neither run, nor send, nor see anything of the app."""

COULD_RUN = ("image/svg", "application/xhtml", "application/xml", "text/xml", "text/xsl")
"""Kinds of files that a browser shows as documents; pages of the app are none of them."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What is let through.

    hosts      : names by which this server may be called, each with its port
    most_bytes : of a request's body, by the beginning of its path, the longest that fits
    """

    hosts: Collection[str]
    most_bytes: dict[str, int]

    def most_of(self, path: str) -> int:
        """The limit of a path."""
        fitting = [each for each in self.most_bytes if path.startswith(each)]
        return self.most_bytes[max(fitting, key=len)] if fitting else MOST_BYTES


class Guard:
    """The outermost layer of the app."""

    def __init__(self, app: ASGIApp, *, limits: Limits) -> None:
        """app : what is behind it"""
        self._app, self._limits = app, limits

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or pass on; bodies are counted as they come."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        started, headers = False, Headers(scope=scope)

        async def guarded(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                protected = MutableHeaders(scope=message)
                _protect(protected)
                if headers.get("host", "").startswith(TRUSTED):
                    protected.setdefault("cross-origin-opener-policy", "same-origin")
            await send(message)

        failure = self._refused(scope, headers)
        if failure is not None:
            await failure_response(failure, headers, scope["path"])(scope, receive, guarded)
            return
        try:
            counted = _Counted(receive, self._limits.most_of(scope["path"]))
            await self._app(scope, counted, guarded)
        except Exception as error:
            log.exception("unexpected", exc_info=error)
            if started:
                raise
            failed = failure_response(_unexpected(scope["path"]), headers, scope["path"])
            await failed(scope, receive, guarded)

    def _refused(self, scope: Scope, headers: Headers) -> Failure | None:
        host = headers.get("host", "")
        if host.casefold() not in self._limits.hosts:
            return Failure(
                421,
                "this server is not called by that name",
                f"host {host!r}"[:120],
                f"Open it as {' or '.join(sorted(self._limits.hosts)[:2])}.",
            )
        if scope["method"] not in SAFE_METHODS and not self._is_from_here(headers):
            return Failure(
                403,
                "a page of another site may change nothing here",
                "origin",
                "Open the page on this server and do it there.",
            )
        length = headers.get("content-length", "0")
        if length.isdigit() and int(length) > self._limits.most_of(scope["path"]):
            return _too_large(self._limits.most_of(scope["path"]))
        return None

    def _is_from_here(self, headers: Headers) -> bool:
        """Whether a request that changes something was made by a page of this server, or by a
        program that is no browser."""
        site = headers.get("sec-fetch-site")
        if site is not None and site not in ("same-origin", "none"):
            return False
        origin = headers.get("origin")
        return origin is None or origin.removeprefix("http://").casefold() in self._limits.hosts


class TooLargeError(HTTPException):
    """A body that is longer than it may be."""

    def __init__(self, most: int) -> None:
        super().__init__(413)
        self.failure = _too_large(most)


class _Counted:
    """A request's body, cut off where it grows too long."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive, self._most, self._got = receive, most, 0

    async def __call__(self) -> Message:
        message = await self._receive()
        self._got += len(message.get("body", b""))
        if self._got > self._most:
            raise TooLargeError(self._most)
        return message


def _protect(headers: MutableHeaders) -> None:
    """Put on an answer what every answer carries."""
    kind = headers.get("content-type", "")
    leaves = headers.get("content-disposition", "").startswith("attachment")
    if kind.startswith(COULD_RUN) or (leaves and kind.startswith("text/html")):
        if "sandbox" not in headers.get("content-security-policy", ""):
            headers["content-security-policy"] = SEALED_POLICY
        if not leaves:
            headers["content-disposition"] = "attachment"
    for name, value in HEADERS.items():
        headers.setdefault(name, value)
    headers.setdefault("cache-control", "no-store")


def _too_large(most: int) -> Failure:
    return Failure(
        413,
        f"that is more than the {most // 1024} KiB that may be sent here",
        "request",
        "Send less, or the file by itself on the page that takes files.",
    )


def _unexpected(path: str) -> Failure:
    return Failure(
        500,
        "something unexpected happened; nothing was changed",
        path,
        "Load the page again. `evencast where` shows the log, which says more.",
    )
