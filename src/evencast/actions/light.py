"""`light`: what colour a light is."""

from __future__ import annotations

from dataclasses import asdict

from evencast.actions import resolve
from evencast.actions.cautions import cautions
from evencast.actions.reading import reading
from evencast.results import LightAnswer


def light(text: str, *, kind: str | None) -> LightAnswer:
    """The colour of the light a text names."""
    found = resolve.light(text, kind)
    return LightAnswer(
        **asdict(reading(found)),
        name=found.name,
        note=found.note,
        cautions=cautions(found, [], 0.0),
    )
