"""From a spectrum to the reading every answer shows."""

from __future__ import annotations

import math

import numpy as np

from evencast.colour import mired_duv, uv, white_uv, xy_of_xyz, xyz
from evencast.lights import Light
from evencast.quantities import Floats, kelvin
from evencast.results import LightReading


def rounded(value: float, digits: int) -> float | None:
    """A finite value to that many places; None for nan and infinity."""
    return round(float(value), digits) + 0.0 if math.isfinite(value) else None


def reading(light: Light, *, through: Floats | None = None) -> LightReading:
    """The colour of a light, bare or through a transmittance on the grid."""
    power = light.power if through is None else light.power * through
    at_mired, at_duv = mired_duv(uv(power))
    x, y = xy_of_xyz(xyz(power))
    return LightReading(
        state="ok" if np.isfinite(at_mired) else "no_cct",
        cct_k=rounded(1e6 / float(at_mired), 2),
        duv=rounded(float(at_duv), 6),
        mired=rounded(float(at_mired), 3),
        green_duv=_green_duv(float(at_mired), float(at_duv)),
        x=rounded(float(x), 6),
        y=rounded(float(y), 6),
        kind=light.kind,
        assumed=light.assumed,
    )


def _green_duv(at_mired: float, at_duv: float) -> float | None:
    """Duv beside the white of the same colour temperature."""
    if not math.isfinite(at_mired):
        return None
    _, white_duv = mired_duv(white_uv(kelvin(at_mired)))
    return rounded(at_duv - float(white_duv), 6)
