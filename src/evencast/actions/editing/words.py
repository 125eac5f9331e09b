"""Values of a document in words, for a history and for two versions side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from evencast.plan.part import MM_PER_UNIT
from evencast.plan.place import printable
from evencast.quantities import listed, say_duv, say_mired

_AFTER = {"lux": " lx", "fc": " fc", "cd": " cd", "watts": " W", "amps": " A", "volts": " V"}
_AFTER |= {"_k": " K", "_hz": " Hz", "_s": " s", "_deg": " degrees", "_a": " A", "_percent": " %"}
_AFTER |= {f"_{unit}": f" {unit}" for unit in MM_PER_UNIT}
_BEFORE = {"ev": "EV ", "f_stop": "f/", "t_stop": "T"}
_AMOUNTS = ("lux", "fc", "ev", "f_stop", "cd", "watts")
"""Keys that need no name beside their value."""


_UNSIDED = ("tolerance", "weights", "kelvin")
_PLAIN = "plain_stops"


def key_at(path: Sequence[str | int], key: str) -> str:
    """A key as the functions here take it: stops that are over or under nothing are told apart."""
    return _PLAIN if key == "stops" and any(each in _UNSIDED for each in path) else key


def say_key(key: str) -> str:
    """A key as it is said: "distance" for distance_m, "exposure index"."""
    for ending in ("_k", "_hz", "_s", "_deg", "_a", *(f"_{unit}" for unit in MM_PER_UNIT)):
        if key.endswith(ending):
            key = {"cct_k": "colour", "f_stop": "f_stop"}.get(key, key.removesuffix(ending))
            break
    return {_PLAIN: "stops", "f_stop": "stop", "t_stop": "stop", "cct": "colour"}.get(
        key, key.replace("_", " ")
    )


def say_value(key: str, value: Any) -> str:
    """A value with its unit: "1400 lx", "f/4", "30 mired warm", "half CTB and double"."""
    if value is None:
        return "nothing"
    if isinstance(value, Mapping):
        inside = ("kelvin",) if "to_k" in value else ()
        told = [_say_inside(key_at(inside, each), value[each]) for each in value]
        return ", ".join(told) or "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return listed([say_value(key, each) for each in value]) or "none"
    if isinstance(value, int | float):
        return _say_number(key, value)
    return _say_time(str(value)) if key == "time" else printable(str(value))


def _say_time(text: str) -> str:
    """A time as it was noted, by the clock of its place: "4 May 2031, 16:31"."""
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return printable(text)
    return f"{at.day} {at:%b %Y, %H:%M}"


def _say_inside(key: str, value: Any) -> str:
    if key in _AMOUNTS or isinstance(value, list | tuple | Mapping):
        return say_value(key, value)
    if key in ("mired", "stops", "duv") and not isinstance(value, str):
        return say_value(key, value)
    return f"{say_key(key)} {say_value(key, value)}"


def _say_number(key: str, value: float) -> str:
    if key == "mired":
        return say_mired(value)
    if key == "duv" or key.endswith("_duv"):
        return f"Duv {value:+g} ({say_duv(value)})"
    if key == "stops" or key.endswith("_stops"):
        side = "" if key != "stops" or not value else " over" if value > 0 else " under"
        return f"{abs(value):.3g} {'stops' if abs(value) > 1 else 'stop'}{side}"
    if key in _BEFORE:
        return f"{_BEFORE[key]}{value:g}"
    ending = max((each for each in _AFTER if key.endswith(each)), key=len, default="")
    return f"{value:.10g}{_AFTER.get(ending, '')}"


def say_change(key: str, old: Any, new: Any, *, old_key: str | None = None) -> str:
    """One change of a value: "1400 lx -> 1760 lx", "distance 3 m taken away".

    old_key : where it was written with another unit
    """
    said = "" if key in _AMOUNTS else f"{say_key(key)} "
    before = say_value(old_key or key, old)
    if new is None:
        return f"{said}{before} taken away"
    after = say_value(key, new)
    return f"{said}{after}" if old is None else f"{said}{before} -> {after}"
