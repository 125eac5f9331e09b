"""Every page of the app, found by following links as people do; and the pages that no link leads
to, found by asking the app for its routes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import urldefrag, urljoin, urlsplit

from fastapi.routing import APIRoute
from playwright.sync_api import BrowserContext

from evencast.web import routes

MOST_OF_A_KIND = 2
"""Pages looked at of one route, such as a page for each filter."""


def page_routes() -> dict[str, re.Pattern[str]]:
    """Every route that answers a person who types an address, by its path."""
    return {
        route.path: route.path_regex
        for router in routes.every()
        for route in router.routes
        if isinstance(route, APIRoute) and "GET" in route.methods and not route.include_in_schema
    }


def route_of(path: str) -> str:
    """The route that answers a path: the first that fits, as in the app; "" where none does."""
    fits = (name for name, pattern in page_routes().items() if pattern.fullmatch(path))
    return next(fits, "")


def walk(context: BrowserContext, address: str, starts: list[str]) -> Iterator[str]:
    """Addresses of pages, each with its query, from some pages on by every link.

    Of one route only so many, but for each set of fields in its query; a page at another balance
    is no other page.
    """
    waiting, seen, counts = list(starts), set(starts), dict[Any, int]()
    while waiting:
        path = waiting.pop(0)
        reply = context.request.get(address + path)
        if "text/html" not in reply.headers.get("content-type", ""):
            continue
        yield path
        for found in re.findall(r'<a\b[^>]*?\shref="([^"]+)"', reply.text()):
            link = urljoin(address + path, urldefrag(found.replace("&amp;", "&")).url)
            parts = urlsplit(link)
            short = parts.path + (f"?{parts.query}" if parts.query else "")
            kind = route_of(parts.path), frozenset(re.findall(r"(\w+)=", parts.query)) - {"balance"}
            if not link.startswith(address) or short in seen or not kind[0]:
                continue
            most = 100 if "slug" in kind[0] and not parts.query else MOST_OF_A_KIND
            if counts.get(kind, 0) < most:
                counts[kind] = counts.get(kind, 0) + 1
                seen.add(short)
                waiting.append(short)
