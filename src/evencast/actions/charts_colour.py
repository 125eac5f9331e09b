"""How the colour of a light is shown in a chart, and where it lies in u', v'."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from evencast.colour import uv_of_xy, xy_of_xyz, xyz
from evencast.colour.difference import upvp_of_uv
from evencast.quantities import Floats, say_duv
from evencast.results.light import LightReading

Shown = Callable[[LightReading], str]
"""How a light looks at the balance, as "#rrggbb"."""

NO_COLOUR = "#808080"
"""Of what has no colour of its own: several lights together, a view."""

CARD = 0.6
"""Reflectance of the card that stands for a light: light enough for pale colours to show on
paper, dark enough for strong ones to fit a display."""


def shown_at(x: float | None, y: float | None) -> Shown:
    """How lights look on a card, each metered for itself, to an eye at a balance of that x, y:
    sRGB, as `look light` has it, from the light's chromaticity alone, which is all that a flat
    card needs. Without a balance, a grey.
    """
    if x is None or y is None:
        return lambda _: NO_COLOUR
    at = (x, y)

    def hexed(reading: LightReading) -> str:
        if reading.x is None or reading.y is None:
            return NO_COLOUR
        return _hexed(at, (reading.x, reading.y))

    return hexed


@lru_cache(4096)
def _hexed(balance_xy: tuple[float, float], xy: tuple[float, float]) -> str:
    """One light at one balance: a page shows the same ones again and again."""
    from evencast.camera.display import display_named, shown  # charts alone need a display

    linear = CARD * _white(*xy) @ _to_display(balance_xy).T
    return shown(linear, display_named("sRGB")).hexes()[0]


@lru_cache(64)
def _to_display(balance_xy: tuple[float, float]) -> Floats:
    """From tristimulus values under the balance to linear red, green, blue. [(3, 3)]"""
    from evencast.camera.display import display_named
    from evencast.colour.adaptation import adapting

    display = display_named("sRGB")
    adapted = adapting(from_white=_white(*balance_xy), to_white=display.white)
    return np.asarray(display.from_xyz @ adapted)


def shown_beside(power: Floats) -> Shown:
    """How lights look at a balance at which a light of that spectrum is neutral. [(81,)]"""
    x, y = xy_of_xyz(xyz(power))
    return shown_at(float(x), float(y))


def _white(x: float, y: float) -> Floats:
    """Tristimulus values of a light, Y being 1."""
    return np.array([x / y, 1.0, (1.0 - x - y) / y])


def prime(x: float | None, y: float | None) -> tuple[float, float] | None:
    """CIE 1976 u', v' of x, y; None where these are."""
    if x is None or y is None:
        return None
    u, v = upvp_of_uv(uv_of_xy(np.array([x, y])))
    return round(float(u), 6), round(float(v), 6)


def say_colour(reading: LightReading) -> str:
    """A colour in words: "4225 K, a trace green"; its green against the white of that Kelvin."""
    if reading.cct_k is None:
        return "no colour temperature"
    side = say_duv(reading.green_duv or 0.0)
    return f"{reading.cct_k:.0f} K" + ("" if side == "neutral" else f", {side}")
