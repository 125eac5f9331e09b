"""`light`: what colour a light is."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.cautions import cautions
from evencast.actions.doubt import colour_band
from evencast.actions.export import write_light
from evencast.actions.quality import in_words
from evencast.actions.reading import reading
from evencast.colour import spread_of_power
from evencast.results.light import LightAnswer


def light(text: str, *, kind: str | None, write: Path | None = None) -> LightAnswer:
    """The colour of the light a text names; its spectrum in a new file if one is given."""
    found = resolve.light(text, kind)
    shown = reading(found)
    return LightAnswer(
        **asdict(shown),
        name=found.name,
        note=found.note,
        band=colour_band(spread_of_power(found.members)) if found.possible is not None else None,
        quality=in_words(found, shown),
        cautions=cautions(found, [], 0.0),
        written_to=write_light(write, found),
    )
