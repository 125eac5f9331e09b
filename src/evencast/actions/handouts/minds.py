"""Cautions of a set-up, each once, with the lights that it belongs to."""

from __future__ import annotations

from collections.abc import Collection

from evencast.actions.handouts.job import Part
from evencast.quantities import listed


def minds(part: Part, lights: Collection[str]) -> list[str]:
    """The cautions of some lights and views: "north window: Window: dark film can ..."."""
    of: dict[str, list[str]] = {}
    said = [(each.name, each.cautions) for each in part.answer.lights]
    said += [(each.name, each.cautions) for each in part.answer.views]
    for name, cautions in said:
        for caution in cautions if name in lights else ():
            of.setdefault(caution, []).append(name)
    return [f"{listed(names)}. {caution}" for caution, names in of.items()]
