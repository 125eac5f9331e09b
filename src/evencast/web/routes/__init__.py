"""Parse, call, render: one module for each part of the app."""

from __future__ import annotations

from fastapi import APIRouter


def every() -> list[APIRouter]:
    """All routes, in the order they are tried."""
    from evencast.web.routes import jobs, learn, live

    return [jobs.router, learn.router, live.router]
