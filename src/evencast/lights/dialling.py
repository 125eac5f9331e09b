"""What turning its colour knob does to a light."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evencast.colour import check_kelvin, mired_duv, uv, uv_of_mired_duv, xyz
from evencast.errors import EvencastError
from evencast.lights.bend import STEEPEST, bend, bend_members
from evencast.lights.light import Light
from evencast.quantities import Floats, mired
from evencast.spectra import MEMBERS, normal

DIALLED_DUV = 0.003
"""How far Duv may stray when a light is turned, one standard deviation: a panel of two emitters
dips by 0.006 in its middle and not at its ends (computed from CIE LED-B1 and LED-B5)."""

_AT_ITS_END_MIRED = 1e-5
"""What a colour temperature is known to: a light's own end lies no further beyond it."""


def redial(light: Light, cct_k: float) -> Light:
    """An adjustable light turned to another colour temperature.

    A light of two emitters is mixed anew, along the straight line between them, which dips
    towards magenta in the middle. Of another only the spectrum is known: it is bent, its Duv
    kept, and marked as assumed; in the spectra it may have, the Duv strays by DIALLED_DUV.

    Raises  EvencastError where the light cannot go there
    """
    if light.emitters:
        power, possible = _mix(light.emitters, cct_k), None
    else:
        check_kelvin(cct_k)
        power, possible = _turned(light, cct_k)
    if power is None:
        raise EvencastError(
            f"{light.name} cannot be dialled to {cct_k:g} K",
            where=light.name,
            remedy="Dial within what the light itself can do.",
        )
    return replace(
        light,
        name=f"{light.name} at {cct_k:g}K",
        power=power,
        assumed=light.assumed or not light.emitters,
        note=f"dialled to {cct_k:g} K"
        + ("" if light.emitters else ", its Duv taken as unchanged: read it there"),
        spectrum=None,
        possible=possible,
    )


def _mix(emitters: tuple[Floats, ...], cct_k: float) -> Floats | None:
    """Warm and cool emitter in the proportion that has this colour temperature."""
    if cct_k <= 0:
        return None
    warm, cool = (each / xyz(each)[1] for each in emitters)
    wanted = mired(cct_k)
    (warmest, coolest), _ = mired_duv(uv(np.stack([warm, cool])))
    if not coolest - _AT_ITS_END_MIRED <= wanted <= warmest + _AT_ITS_END_MIRED:
        return None
    low, high = 0.0, 1.0
    for _ in range(6):
        share = np.linspace(low, high, 33)
        read, _ = mired_duv(uv(share[:, None] * cool + (1 - share[:, None]) * warm))
        beyond = min(max(int(np.searchsorted(-read, -wanted)), 1), len(share) - 1)
        low, high = share[beyond - 1], share[beyond]
    return np.asarray(high * cool + (1 - high) * warm)


def _turned(light: Light, cct_k: float) -> tuple[Floats | None, Floats | None]:
    """The spectrum at that Kelvin and its own Duv, and all it may be: (81,), (MEMBERS, 81).

    What was not known of the light stays unknown; how its Duv follows the knob comes to it.
    None where that takes an absurd bend, or where it has no Kelvin to be turned from.
    """
    was_mired, duv = mired_duv(uv(light.power))
    if not np.isfinite(was_mired):
        return None, None
    bent, steepness = bend(light.power[None], uv_of_mired_duv(np.array(mired(cct_k)), duv))
    if not steepness[0] <= STEEPEST:
        return None, None
    own_mired, own_duv = mired_duv(uv(light.members))
    strays = DIALLED_DUV * normal(f"{light.name} at {cct_k:g}K", 1)[:, 0]
    possible = bend_members(
        np.broadcast_to(light.members, (MEMBERS, light.power.size)),
        own_mired - was_mired + mired(cct_k),
        own_duv + strays,
    )
    return (None if possible is None else bent[0]), possible
