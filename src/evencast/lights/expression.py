"""How a light is written on the command line: a name, Kelvin, a reading, or dimmed."""

from __future__ import annotations

import re

from evencast.errors import EvencastError
from evencast.lights.catalogue import builtin
from evencast.lights.dimming import dim_tungsten
from evencast.lights.light import Light
from evencast.lights.reading import of_kelvin, of_reading, redial

_KELVIN = re.compile(r"(?P<cct>\d+(?:\.\d+)?)\s*k(?P<duv>[+-]\d*\.?\d+)?", re.IGNORECASE)
_DIALLED = re.compile(r"(?P<light>.+?)\s+at\s+(?P<cct>\d+(?:\.\d+)?)\s*k", re.IGNORECASE)
_DIMMED = re.compile(r"(?P<light>.+?)\s+-(?P<stops>\d*\.?\d+)\s*stops?", re.IGNORECASE)


def parse_kelvin(text: str) -> tuple[float, float | None] | None:
    """Kelvin and Duv of "5600K" or "5400K+0.0065"; None for anything else."""
    match = _KELVIN.fullmatch(text.strip())
    if match is None:
        return None
    return float(match["cct"]), None if match["duv"] is None else float(match["duv"])


def light_of(text: str) -> Light:
    """The light that a text without a file in it names.

    text : a built-in name, "3200K", "5400K+0.0065", or any of these with
           " -1stop" (tungsten dimmed) or " at 4300K" (a panel dialled)
    Raises  EvencastError naming what is accepted
    """
    dimmed = _DIMMED.fullmatch(text.strip())
    if dimmed is not None:
        return dim_tungsten(light_of(dimmed["light"]), float(dimmed["stops"]))
    dialled = _DIALLED.fullmatch(text.strip())
    if dialled is not None:
        return redial(light_of(dialled["light"]), float(dialled["cct"]))
    if re.fullmatch(r"\d+(\.\d+)?", text.strip()):
        raise EvencastError(
            f'"{text}" has no unit', where="light", remedy=f"Write {text.strip()}K for Kelvin."
        )
    reading = parse_kelvin(text)
    if reading is None:
        return builtin(text)
    cct_k, duv = reading
    return of_kelvin(cct_k) if duv is None else of_reading(cct_k, duv)
