"""Cautions of a set-up, each once, with the lights that it belongs to."""

from __future__ import annotations

from collections.abc import Collection

from evencast.actions.handouts.job import Part
from evencast.quantities import listed
from evencast.results.minded import minded, of_lights


def minds(part: Part, lights: Collection[str]) -> list[str]:
    """The cautions of some lights and views: "north window: Window: dark film can ..."."""
    said = [(name, cautions) for name, cautions in of_lights(part.answer) if name in lights]
    return [f"{listed(names)}. {caution}" for caution, names in minded(said).items()]
