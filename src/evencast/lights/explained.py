"""What a light must have become, when what comes through its sheets reads otherwise."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from evencast.colour import DUV_LIMIT, low_middle_high, mired_duv, uv, uv_of_mired_duv
from evencast.colour.temperature import COOLEST_MIRED, WARMEST_MIRED
from evencast.errors import EvencastError
from evencast.lights.bend import STEEPEST, bend_members, bending
from evencast.lights.dialling import DIALLED_DUV
from evencast.lights.light import Light
from evencast.lights.reading import (
    CAMERA_DUV,
    CAMERA_MIRED,
    METER_DUV,
    METER_SHARE,
    TINT_STEP_FACTOR,
)
from evencast.quantities import Floats, mired
from evencast.spectra import MEMBERS, normal

DIALLED_OVER_MIRED = 100.0
"""A panel of two emitters dips by twice DIALLED_DUV over about half of its range, so far."""


@dataclass(frozen=True, slots=True)
class ReadColour:
    """A colour as an instrument told it.

    cct_k  : Kelvin read
    duv    : Duv read, + greener; None where the instrument shows Kelvin alone
    tint_duv : share of the Duv that comes from tint steps of unknown size
    sensor : whether the instrument's own eye is a camera's, which may see a spectrum otherwise
             than people and meters do
    """

    cct_k: float
    duv: float | None
    tint_duv: float = 0.0
    sensor: bool = False

    def doubt(self, key: str) -> Floats:
        """What mired and Duv may be off by, 0 in the middle. [(MEMBERS, 2)]"""
        draws = normal(f"{key} read {self.cct_k:g}K", 3)
        off = draws[:, :2] * np.array([METER_SHARE * mired(self.cct_k), METER_DUV])
        if self.sensor:
            off = draws[:, :2] * np.array([CAMERA_MIRED, CAMERA_DUV])
        off[:, 1] += self.tint_duv * (TINT_STEP_FACTOR ** draws[:, 2] - 1.0)
        return np.asarray(off - low_middle_high(off.T)[1])


def explained(light: Light, stack: Floats, sheets: Floats, read: ReadColour) -> Light:
    """The light that reads so through its sheets: the smoothest change of it that does.

    The sheets are taken to be as they are known, so that all that differs is the light's. What
    comes through is bent to the reading; the same factors hold for the light behind.

    light  : as it was taken to be
    stack  : (81,) nominal transmittance of what hangs
    sheets : (MEMBERS or 1, 81) transmittances it may have
    Returns the light with MEMBERS spectra, paired with those of the sheets
    Raises  EvencastError where no change within reason (STEEPEST) leads there
    """
    aim = np.array([mired(read.cct_k), 0.0 if read.duv is None else read.duv])
    through = np.vstack([light.power * stack, _paired(light.members * sheets)])
    to = aim + np.vstack([np.zeros((1, 2)), read.doubt(light.name)])
    if read.duv is None:
        to[:, 1] = mired_duv(uv(through))[1]
    at_mired = np.clip(to[:, 0], COOLEST_MIRED, WARMEST_MIRED)
    place = uv_of_mired_duv(at_mired, np.clip(to[:, 1], -DUV_LIMIT, DUV_LIMIT))
    factors, steepness = bending(through, place)
    good = np.flatnonzero(np.isfinite(steepness[1:])) + 1
    if not (steepness[0] <= STEEPEST and len(good)):
        told = "" if read.duv is None else f" with a Duv of {read.duv:+.3g}"
        raise EvencastError(
            f"{light.name} cannot have become one that reads {read.cct_k:.0f} K{told} "
            "through what hangs there",
            where=light.name,
            remedy="Check the reading, what hangs there, and which light it is.",
        )
    rows = np.arange(1, MEMBERS + 1)
    rows[~np.isfinite(steepness[1:])] = np.resize(good, MEMBERS - len(good))
    return replace(
        light,
        power=light.power * factors[0],
        possible=_paired(light.members) * factors[rows],
        assumed=True,
        spectrum=None,
        emitters=(),
    )


def changed(now: Light, *, before: Light, after: Light) -> Light:
    """An explained light on which something is set otherwise: its dial or its dimmer.

    before, after : the light it was taken to be, as it was set and as it shall be; what lies
                    between their spectra is what the change does to this one as well
    """
    factors = np.divide(
        after.power, before.power, out=np.ones_like(after.power), where=before.power > 0
    )
    return replace(now, power=now.power * factors, possible=now.members * factors)


def straying(now: Light, *, mired_turned: float, key: str) -> Light:
    """A light whose dial was turned, its Duv known the less the further: DIALLED_DUV in one
    standard deviation from DIALLED_OVER_MIRED on, in proportion before."""
    share = min(1.0, abs(mired_turned) / DIALLED_OVER_MIRED)
    at_mired, duv = mired_duv(uv(now.members))
    strays = DIALLED_DUV * share * normal(key, 1)[:, 0]
    possible = bend_members(now.members, at_mired, duv + strays - low_middle_high(strays)[1])
    return now if possible is None else replace(now, possible=possible)


def _paired(members: Floats) -> Floats:
    """As many rows as an ensemble has. [(MEMBERS, 81)]"""
    return np.broadcast_to(members, (MEMBERS, members.shape[-1]))
