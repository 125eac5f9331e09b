"""What dimming does to a light."""

from __future__ import annotations

import numpy as np

from evencast.colour import cct_duv, uv, xyz
from evencast.colour.whites import WARMEST_WHITE_K
from evencast.errors import EvencastError
from evencast.lights.light import Light
from evencast.quantities import Floats
from evencast.spectra import planckian

CCT_EXPONENT = 0.42
LIGHT_EXPONENT = 3.4
"""Colour temperature goes as voltage ** 0.42, light as voltage ** 3.4."""

MOST_STOPS = 4.0


def dim_tungsten(light: Light, stops: float) -> Light:
    """A tungsten light dimmed by that many stops: darker and warmer.

    stops : 0 to 4, light given up
    Returns the light's own spectrum times the ratio of the blackbodies at its dimmed and
            its full colour temperature, so that a measured lamp keeps its character; the
            spectra it may have are dimmed each from its own
    Raises  EvencastError for other kinds: LED panels keep their colour, tubes and discharge
            lamps must not be put on a dimmer that is not made for them
    Source  exponents of incandescent lamps, Standard Handbook for Electrical Engineers, as
            quoted in public reference; light measured far down is overstated by them
    """
    if light.kind not in ("tungsten", "Planckian"):
        raise EvencastError(
            f"{light.name} is {light.kind}: only tungsten warms on a dimmer",
            where=f"{light.name} -{stops:g}stop",
            remedy="Dim an LED panel at its own control (its colour stays); leave tubes and "
            "discharge lamps at full: a dimmer not made for them can fail hot.",
        )
    if not 0 <= stops <= MOST_STOPS:
        raise EvencastError(
            f"{stops:g} stops of dimming is outside what the lamp formula covers",
            where=f"{light.name} -{stops:g}stop",
            remedy=f"Use 0 to {MOST_STOPS:g} stops; further down use scrims or distance.",
        )
    full_k = float(cct_duv(uv(light.power))[0])
    dimmed_k = full_k * _cooling(stops)
    if not dimmed_k >= WARMEST_WHITE_K:
        raise EvencastError(
            f"{light.name} would glow below {WARMEST_WHITE_K:g} K",
            where=f"{light.name} -{stops:g}stop",
            remedy="Dim it less; further down use scrims or distance.",
        )
    return Light(
        name=f"{light.name} -{stops:g}stop",
        kind=light.kind,
        power=_dimmed(light.power, stops),
        assumed=light.assumed,
        fitting=light.fitting,
        note=f"dimmed from {full_k:.0f} K to {dimmed_k:.0f} K",
        possible=None if light.possible is None else _dimmed(light.possible, stops),
    )


def _dimmed(power: Floats, stops: float) -> Floats:
    """Spectra times the ratio of two blackbodies, each from its own temperature. [(..., 81)]"""
    full_k = np.clip(cct_duv(uv(power))[0], WARMEST_WHITE_K, None)
    dimmed = power * planckian(full_k * _cooling(stops)) / planckian(full_k)
    lost = 2.0**-stops * xyz(power)[..., 1:2] / xyz(dimmed)[..., 1:2]
    return np.asarray(dimmed * lost)


def _cooling(stops: float) -> float:
    """Colour temperature of a filament dimmed by that many stops, against that at full."""
    return float(2.0 ** (-stops * CCT_EXPONENT / LIGHT_EXPONENT))
