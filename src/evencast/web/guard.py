"""What every request must pass before anything looks at it, and what every answer carries.

A page of another site that is open in the same browser may send requests here; so a request must
name this server as its host, and one that changes something must come from a page of it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evencast.web.failures import Failure, failure_response

MOST_BYTES = 1024 * 1024
"""Of a form; pages that take files name their own limit."""

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})

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
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}


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

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
                headers.setdefault("cache-control", "no-store")
            await send(message)

        headers = Headers(scope=scope)
        failure = self._refused(scope, headers)
        if failure is not None:
            await failure_response(failure, headers)(scope, receive, guarded)
            return
        counted = _Counted(receive, self._limits.most_of(scope["path"]))
        try:
            await self._app(scope, counted, guarded)
        except TooLargeError:
            if not counted.answered:
                await failure_response(_too_large(counted.most), headers)(scope, receive, guarded)

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
        return origin is None or origin.partition("://")[2].casefold() in self._limits.hosts


class TooLargeError(Exception):
    """A body that is longer than it may be."""


class _Counted:
    """A request's body, cut off where it grows too long."""

    def __init__(self, receive: Receive, most: int) -> None:
        self._receive, self.most, self._got, self.answered = receive, most, 0, False

    async def __call__(self) -> Message:
        message = await self._receive()
        self._got += len(message.get("body", b""))
        if self._got > self.most:
            raise TooLargeError
        return message


def _too_large(most: int) -> Failure:
    return Failure(
        413,
        f"that is more than the {most // 1024} KiB that may be sent here",
        "request",
        "Send less, or the file by itself on the page that takes files.",
    )
