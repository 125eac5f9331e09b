"""Values of a document in words, for a history and for two versions side by side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.plan.part import MM_PER_UNIT
from evencast.plan.place import printable
from evencast.quantities import say_duv, say_mired

_AFTER = {"lux": " lx", "fc": " fc", "cd": " cd", "watts": " W", "amps": " A", "volts": " V"}
_AFTER |= {"_k": " K", "_hz": " Hz", "_s": " s", "_deg": " degrees", "_a": " A", "_percent": " %"}
_AFTER |= {f"_{unit}": f" {unit}" for unit in MM_PER_UNIT}
_BEFORE = {"ev": "EV ", "f_stop": "f/", "t_stop": "T"}
_AMOUNTS = ("lux", "fc", "ev", "f_stop", "cd", "watts")
"""Keys that need no name beside their value."""


def say_key(key: str) -> str:
    """A key as it is said: "distance" for distance_m, "exposure index"."""
    for ending in ("_k", "_hz", "_s", "_deg", *(f"_{unit}" for unit in MM_PER_UNIT)):
        if key.endswith(ending):
            key = {"cct_k": "colour", "f_stop": "f_stop"}.get(key, key.removesuffix(ending))
            break
    return {"f_stop": "stop", "t_stop": "stop", "cct": "colour"}.get(key, key.replace("_", " "))


def say_value(key: str, value: Any) -> str:
    """A value with its unit: "1400 lx", "f/4", "30 mired warm", "half CTB and double"."""
    if value is None:
        return "nothing"
    if isinstance(value, Mapping):
        return ", ".join(_say_inside(each, inside) for each, inside in value.items()) or "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return " and ".join(say_value(key, each) for each in value) or "none"
    if isinstance(value, int | float):
        return _say_number(key, value)
    return printable(str(value))


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
        return f"{value:+.3g} stop" if key == "stops" else f"{value:.3g} stop"
    if key in _BEFORE:
        return f"{_BEFORE[key]}{value:g}"
    ending = max((each for each in _AFTER if key.endswith(each)), key=len, default="")
    return f"{value:.10g}{_AFTER.get(ending, '')}"


def say_change(key: str, old: Any, new: Any) -> str:
    """One change of a value: "level 1400 lx -> 1760 lx", "distance 3 m taken away"."""
    said = say_key(key)
    if new is None:
        return f"{said} {say_value(key, old)} taken away"
    if old is None:
        return f"{said} {say_value(key, new)}"
    return f"{said} {say_value(key, old)} -> {say_value(key, new)}"
