"""Parse, call, render: one module for each part of the app."""

from __future__ import annotations

from importlib import import_module

from fastapi import APIRouter

PARTS = (
    "plan",
    "plan_lights",
    "jobs",
    "bundles",
    "kit_stock",
    "kit_history",
    "reference",
    "kit",
    "handouts",
    "scratch",
    "plan_job",
    "plan_solve",
    "plan_history",
    "learn",
    "crew",
    "live",
)
"""Modules with a `router`, in the order their routes are tried: first what is asked most."""


def every() -> list[APIRouter]:
    """All routes."""
    found = [import_module(f"evencast.web.routes.{name}").router for name in PARTS]
    assert all(isinstance(each, APIRouter) for each in found)
    return found
