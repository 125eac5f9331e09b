"""A third more or less: of a light's level, of its aim, of what its dimmer takes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import PLAN, Data, changed, is_named, named, opened
from evencast.actions.editing.setups import note_rigged
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


def step_aim(text: str, light: str, thirds: int) -> Edited:
    """The plan with a light's aim against the key so many thirds brighter (+) or darker; one that
    had none is set against the key's own level."""
    data = opened(PLAN, text)
    path, entry = named(PLAN, data, ("light",), light, what="light")
    aim = entry.get("aim")
    old = aim.get("stops") if isinstance(aim, Mapping) else None
    new = stepped_stops(old if isinstance(old, int | float) else 0.0, thirds)
    change = ((*path, "aim", "stops"), new) if aim else ((*path, "aim"), {"stops": new})
    edited, problems = changed(PLAN, text, [change])
    before = "" if old is None else f"{say_value('stops', old)} -> "
    said = f"aim against the key {before}{say_value('stops', new)}, {_by(thirds)}"
    return Edited(edited, f"{entry['name']}: {said}", str(entry["name"]), problems)


def step_dimmer(text: str, setup: str, light: str, thirds: int) -> Edited:
    """The plan with the dimmer of a light in a set-up so many thirds up (+) or down, as rigged.

    Raises  EvencastError where it stands at full already
    """
    data = opened(PLAN, text)
    _, there = named(PLAN, data, ("setup",), setup, what="set-up")
    entry: Data = next((each for each in there.get("light", []) if is_named(each, light)), {})
    hung = entry.get("rigged") or entry.get("planned") or {}
    old = hung.get("dim_stops", 0)
    new = stepped_stops(old, -thirds)
    if new < 0:
        raise EvencastError(
            f"it is dimmed by {say_value('dim_stops', old)} and cannot be {_by(thirds)}",
            where=f"light {quoted(light)}",
            remedy="Take a scrim or a sheet out, or move it nearer.",
        )
    edited = note_rigged(text, setup, light, {"dim_stops": new})
    said = f"{light}: dimmer {say_value('dim_stops', old)} -> {say_value('dim_stops', new)}"
    return Edited(edited.text, f"{said}, {_by(thirds)}", light, edited.problems)


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
