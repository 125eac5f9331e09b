"""Parse, call, render: one module for each part of the app."""

from __future__ import annotations

from fastapi import APIRouter


def every() -> list[APIRouter]:
    """All routes, in the order they are tried."""
    from evencast.web.routes import jobs, live, plan

    return [jobs.router, live.router, plan.router]
