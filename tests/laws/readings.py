"""A lamp known by its reading alone, against the lamp itself: shared by the tests of readings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from evencast.colour import cie_1931_2deg, mired_duv, uv, uv_of_xyz
from evencast.filters import generic, generic_names
from evencast.lights import Light
from evencast.lights.bases import Bases, bases_of
from evencast.lights.bend import bend
from evencast.lights.catalogue import builtin_of_kind
from evencast.lights.guess import Guess, guess
from evencast.lights.reading import METER_DUV, METER_SHARE
from evencast.quantities import Floats
from evencast.spectra import normal

ALIKE = 0.998
"""A base that is bent to the reading of a lamp and then correlates with it by this much is the
same lamp measured, printed or mixed again, and is left out with it."""

KINDS = (
    "tungsten",
    "daylight",
    "phosphor LED",
    "RGB LED",
    "three-band tube",
    "halophosphate tube",
    "broad-band tube",
)
TUBES = KINDS[4:]

FILTERS = tuple(
    generic(name).transmittance
    for name in generic_names()
    if generic(name).role in ("correction", "green") and " ND " not in name
)
"""The generic blues, oranges, straws, greens and magentas: 27."""


@dataclass(frozen=True, slots=True, eq=False)
class Effect:
    """What each filter does to each of n lights: every array is (n, filters).

    mired, duv : shifts, nan where either colour has no colour temperature
    stops : loss
    u, v  : CIE 1960, through the filter
    """

    mired: Floats
    duv: Floats
    stops: Floats
    u: Floats
    v: Floats


def effect(power: Floats) -> Effect:
    """Of every filter on every light. power: (n, 81)"""
    cmf = cie_1931_2deg().cmf_grid
    filtered = np.einsum("nw,fw,wc->nfc", power, np.stack(FILTERS), cmf, optimize=True)
    bare_mired, bare_duv = mired_duv(uv(power))
    place = uv_of_xyz(filtered)
    mired, duv = mired_duv(place)
    stops = -np.log2(filtered[..., 1] / (power @ cmf)[:, 1:2])
    return Effect(
        mired - bare_mired[:, None], duv - bare_duv[:, None], stops, place[..., 0], place[..., 1]
    )


@cache
def lamps(kind: str) -> tuple[Light, ...]:
    """The built-in lamps of a kind; a panel of two emitters is no lamp of its own."""
    return tuple(each for each in builtin_of_kind(kind) if not each.emitters)


def place_of(lamp: Light) -> tuple[float, float]:
    """Mired and Duv."""
    at_mired, duv = mired_duv(uv(lamp.power))
    return float(at_mired), float(duv)


@cache
def bases_without(lamp: Light, kind: str) -> Bases:
    """What would stand for the kind if neither this lamp nor its like were built in.

    Filament and daylight are alike by physics: of those the lamp itself is left out alone.
    """
    at_mired, _ = place_of(lamp)
    bases = bases_of(kind, 1e6 / at_mired)
    bent, steepness = bend(bases.power, uv(lamp.power))
    alike = [
        np.isfinite(bend_) and np.corrcoef(power, lamp.power)[0, 1] >= ALIKE
        for power, bend_ in zip(bent, steepness, strict=True)
    ]
    by_physics = ("tungsten", "daylight")
    left_out = {
        name
        for name, own, like in zip(bases.names, bases.kinds, alike, strict=True)
        if like and own not in by_physics
    }
    return bases.without(left_out | {lamp.name})


def guessed(lamp: Light, kind: str, *, reading: tuple[float, float], key: str) -> Guess:
    """The lamp as it is taken to be when only that reading is known of it."""
    at_mired, duv = reading
    doubt = normal(f"doubt {key}", 2) * np.array([METER_SHARE * at_mired, METER_DUV])
    bases = bases_without(lamp, kind)
    found = guess(bases, at_mired=at_mired, duv=duv, doubt=doubt, key=key)
    assert found is not None
    return found


def blackbody(lamp: Light) -> Floats:
    """The smooth light that reads the same: a blackbody, bent. [(1, 81)]"""
    (planck,) = bases_of("tungsten", 1e6 / place_of(lamp)[0]).power[-1:]
    bent, steepness = bend(planck[None], uv(lamp.power))
    assert np.isfinite(steepness).all()
    return bent
