"""Every page of the app, found by following links as people do; and the pages that no link leads
to, found by asking the app for its routes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from urllib.parse import urldefrag, urljoin, urlsplit

from fastapi.routing import APIRoute
from playwright.sync_api import BrowserContext

from evencast.web import routes

SHAPES = frozenset({"guess", "view", "light", "spot", "circuit", "plan"})
"""Fields of a query that make another page of it; others set it to another value."""


def page_routes() -> dict[str, re.Pattern[str]]:
    """Every route that answers a person who types an address, by its path."""
    return {
        route.path: route.path_regex
        for router in routes.every()
        for route in router.routes
        if isinstance(route, APIRoute)
        and "GET" in (route.methods or ())
        and not route.include_in_schema
    }


def route_of(path: str) -> str:
    """The route that answers a path: the first that fits, as in the app; "" where none does."""
    fits = (name for name, pattern in page_routes().items() if pattern.fullmatch(path))
    return next(fits, "")


def kind_of(path: str, query: str) -> tuple[str, ...]:
    """Pages of one kind look alike. Every lesson is a kind of its own, but not for a class."""
    fields = SHAPES & set(re.findall(r"(\w+)=", query))
    lesson = path if "{slug}" in route_of(path) and "view" not in fields else ""
    return (route_of(path), lesson, *sorted(fields))


def walk(context: BrowserContext, address: str, starts: list[str]) -> Iterator[str]:
    """Addresses of pages, each with its query, from some pages on by every link; one of a kind,
    such as one filter's."""
    waiting = list(starts)
    kinds = {kind_of(*path.partition("?")[::2]) for path in starts}
    while waiting:
        path = waiting.pop(0)
        reply = context.request.get(address + path)
        if "text/html" not in reply.headers.get("content-type", ""):
            continue
        yield path
        for found in re.findall(r'<a\b[^>]*?\shref="([^"]+)"', reply.text()):
            link = urljoin(address + path, urldefrag(unescape(found)).url)
            parts = urlsplit(link)
            short = parts.path + (f"?{parts.query}" if parts.query else "")
            kind = kind_of(parts.path, parts.query)
            if link.startswith(address) and kind[0] and kind not in kinds:
                kinds.add(kind)
                waiting.append(short)
