"""How a light is written on the command line: a name, Kelvin, a reading, dimmed, dialled."""

from __future__ import annotations

import re

from evencast.errors import EvencastError
from evencast.lights.catalogue import builtin
from evencast.lights.dialling import redial
from evencast.lights.dimming import dim_tungsten
from evencast.lights.light import Light, LightKind
from evencast.lights.reading import of_camera, of_kelvin, of_reading
from evencast.lights.tint import TINT_FORMS, parse_tint

_KELVIN = re.compile(r"(?P<cct>\d+(?:\.\d+)?)\s*k(?P<duv>[+-]\d*\.?\d+)?", re.IGNORECASE)
_CAMERA = re.compile(r"camera\s+(?P<cct>\d+(?:\.\d+)?)\s*k(?:\s+(?P<tint>\S.*))?", re.IGNORECASE)
_DIALLED = re.compile(r"(?P<light>.+?)\s+at\s+(?P<cct>\d+(?:\.\d+)?)\s*k", re.IGNORECASE)
_DIMMED = re.compile(r"(?P<light>.+?)\s+-(?P<stops>\d*\.?\d+)\s*stops?", re.IGNORECASE)


def parse_kelvin(text: str) -> tuple[float, float | None] | None:
    """Kelvin and Duv of "5600K" or "5400K+0.0065"; None for anything else."""
    match = _KELVIN.fullmatch(text.strip())
    if match is None:
        return None
    return float(match["cct"]), None if match["duv"] is None else float(match["duv"])


def light_of(text: str, *, kind: LightKind = "unknown") -> Light:
    """The light that a text without a file in it names.

    text : a built-in name, "3200K", "5400K+0.0065", "camera 5200K 4 toward magenta", or any of
           these with " -1stop" (tungsten dimmed) or " at 4300K" (a panel dialled)
    kind : what the person knows it to be; picks the spectra for a reading
    Raises  EvencastError naming what is accepted, and where a built-in light is of another kind
    """
    dimmed = _DIMMED.fullmatch(text.strip())
    if dimmed is not None:
        return dim_tungsten(light_of(dimmed["light"], kind=kind), float(dimmed["stops"]))
    dialled = _DIALLED.fullmatch(text.strip())
    if dialled is not None:
        return redial(light_of(dialled["light"], kind=kind), float(dialled["cct"]))
    if re.fullmatch(r"\d+(\.\d+)?", text.strip()):
        raise EvencastError(
            f'"{text}" has no unit', where="light", remedy=f"Write {text.strip()}K for Kelvin."
        )
    return _by_camera(text, kind) or _by_kelvin(text, kind) or builtin(text, kind=kind)


def parse_camera(text: str) -> tuple[float, float] | None:
    """Kelvin, and steps of tint toward magenta, of "camera 5200K 4 toward magenta".

    Returns None for anything that does not begin so
    Raises  EvencastError for a tint that is not in words
    """
    match = _CAMERA.fullmatch(text.strip())
    if match is None:
        return None
    tint = parse_tint((match["tint"] or "none").casefold())
    if tint is None:
        raise EvencastError(
            f'"{match["tint"]}" is not a tint',
            where=text,
            remedy=f"Write the camera's tint as {TINT_FORMS}: how far the camera moved its "
            "picture to make this light neutral.",
        )
    return float(match["cct"]), tint


def _by_camera(text: str, kind: LightKind) -> Light | None:
    """The light of such a text; None for any other."""
    parsed = parse_camera(text)
    if parsed is None:
        return None
    return of_camera(parsed[0], toward_magenta=parsed[1], kind=kind)


def _by_kelvin(text: str, kind: LightKind) -> Light | None:
    reading = parse_kelvin(text)
    if reading is None:
        return None
    cct_k, duv = reading
    return of_kelvin(cct_k, kind=kind) if duv is None else of_reading(cct_k, duv, kind=kind)
