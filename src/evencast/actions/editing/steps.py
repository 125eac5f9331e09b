"""A third more or less of a light's level."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import PLAN, changed, named, opened
from evencast.actions.editing.words import say_value
from evencast.camera.exposure import marked_stop
from evencast.errors import EvencastError
from evencast.plan.place import quoted
from evencast.quantities import say_stops
from evencast.results.editing import Edited

LINEAR = ("lux", "fc", "cd")
NEAR_ENOUGH = 2e-4
"""A reading may be off by this share to be a shorter number: far below what a meter shows."""
SNAP = 0.03
"""Stops this near to a sixth are meant as thirds or as halves: 0.33, 0.67, 1.3, 0.17."""


def step_level(text: str, light: str, thirds: int) -> Edited:
    """The plan with what was read of a light's level so many thirds brighter (+) or darker.

    Raises  EvencastError where it has no level that was read
    """
    data = opened(PLAN, text)
    path, entry = named(PLAN, data, ("light",), light, what="light")
    level = entry.get("level")
    key, old = _reading(level if isinstance(level, Mapping) else {}, str(entry["name"]))
    new = _stepped(key, old, thirds)
    edited, problems = changed(PLAN, text, [((*path, "level", key), new)])
    said = f"level {say_value(key, old)} -> {say_value(key, new)}, {_by(thirds)}"
    return Edited(edited, f"{entry['name']}: {said}", str(entry["name"]), problems)


def _reading(level: Mapping[str, Any], light: str) -> tuple[str, float]:
    """The reading of a level, and its key."""
    for key in (*LINEAR, "ev", "f_stop"):
        value = level.get(key)
        if isinstance(value, int | float) and not isinstance(value, bool):
            return key, value
    what = "is taken from its watts or its file" if level else "was not read"
    raise EvencastError(
        f"its level {what}, so there is no reading to step",
        where=f"light {quoted(light)}",
        remedy="Read it first, as in 1400 lux or f/4.",
    )


def _stepped(key: str, value: float, thirds: int) -> float | int:
    if key == "ev":
        return stepped_stops(value, thirds)
    if key == "f_stop":
        marked = marked_stop(value * 2 ** (thirds / 6))
        return _whole(float(marked.removeprefix("f/")))
    return shortest(value * 2 ** (thirds / 3))


def stepped_stops(stops: float, thirds: int) -> float | int:
    """Stops so many thirds further: 0.33 and a third is 0.67, and not 0.66."""
    near = round(stops * 6) / 6
    if abs(near - stops) <= SNAP:
        stops = near
    return _whole(round(stops + thirds / 3, 2))


def shortest(value: float) -> float | int:
    """The number of fewest digits that is as good as this one."""
    for digits in range(1, 8):
        rounded = float(f"{value:.{digits}g}")
        if abs(rounded - value) <= NEAR_ENOUGH * abs(value):
            return _whole(rounded)
    return _whole(value)


def _whole(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _by(thirds: int) -> str:
    """ "1/3 stop brighter"."""
    return f"{say_stops(thirds / 3)} {'brighter' if thirds > 0 else 'darker'}"
