"""What a light shall look like."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from evencast.colour import mired_duv, uv_of_mired_duv, white_uv
from evencast.errors import EvencastError
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats, kelvin, mired


@dataclass(frozen=True, slots=True, eq=False)
class Aim:
    """A colour to reach.

    label : as the person wrote it
    uv    : (2,) CIE 1960 u, v
    mired : reciprocal colour temperature, or nan where the colour has none
    duv   : distance from the Planckian locus, + greener
    stops : wanted level against the key; kept, not judged while levels are unknown
    """

    label: str
    uv: Floats
    mired: float
    duv: float
    stops: float = 0.0


def aim_at_uv(label: str, uv_value: Floats, *, stops: float = 0.0) -> Aim:
    """An aim at a place in u, v."""
    at_mired, at_duv = mired_duv(uv_value)
    return Aim(label, np.asarray(uv_value), float(at_mired), float(at_duv), stops)


def aim_beside(
    aim: Aim, *, label: str, mired_offset: float = 0.0, duv_offset: float = 0.0, stops: float = 0.0
) -> Aim:
    """An aim given as an offset from another, mostly from the balance.

    Raises  EvencastError where the offset leaves the colours that have a CCT, or the other aim
            has none
    """
    if not math.isfinite(aim.mired):
        raise EvencastError(
            f"{aim.label} has no colour temperature, so nothing lies {mired_offset:+g} mired and "
            f"{duv_offset:+g} Duv from it",
            where=label,
            remedy="Take another balance; beside this one a light can look white or like another "
            "light, and nothing between.",
        )
    to_mired, to_duv = aim.mired + mired_offset, aim.duv + duv_offset
    if not 10.0 <= to_mired <= 1000.0 or abs(to_duv) > 0.05:
        lowest, highest = math.ceil(10.0 - aim.mired), math.floor(1000.0 - aim.mired)
        raise EvencastError(
            f"{mired_offset:+g} mired and {duv_offset:+g} Duv from {aim.label} is no white "
            "that light can have",
            where=label,
            remedy=f"Use {lowest:+d} to {highest:+d} mired and at most 0.05 Duv in all.",
        )
    place = uv_of_mired_duv(np.array(to_mired), np.array(to_duv))
    return Aim(label, place, to_mired, to_duv, stops)


def aim_at_look(
    balance: Aim, *, label: str, mired_offset: float, duv_offset: float, stops: float = 0.0
) -> Aim:
    """A look, as an offset from the balance.

    duv_offset : beside the white of the Kelvin that comes out, as the balance lies beside its
                 own: daylight has +0.003 by nature, and a fire seen from there is no greener
    Raises  EvencastError as `aim_beside`
    """
    to_mired = balance.mired + mired_offset
    if 10.0 <= to_mired <= 1000.0:
        duv_offset += _white_duv(to_mired) - _white_duv(balance.mired)
    return aim_beside(
        balance, label=label, mired_offset=mired_offset, duv_offset=duv_offset, stops=stops
    )


def _white_duv(at_mired: float) -> float:
    return float(mired_duv(white_uv(kelvin(at_mired)))[1])


def aim_at_kelvin(label: str, cct_k: float, duv: float, *, stops: float = 0.0) -> Aim:
    """An aim at Kelvin and Duv."""
    if not 1000.0 <= cct_k <= 100_000.0 or not math.isfinite(duv) or abs(duv) > 0.05:
        raise EvencastError(
            f"{cct_k:g} K with a Duv of {duv:g} is no white that light can have",
            where=label,
            remedy="Use 1000 to 100000 K and a Duv within 0.05.",
        )
    place = uv_of_mired_duv(np.array(mired(cct_k)), np.array(duv))
    return Aim(label, place, mired(cct_k), duv, stops)


def strain_of(
    aim: Aim, allowed: Allowed, at_mired: Floats, at_duv: Floats, miss_uv: Callable[[], Floats]
) -> Floats:
    """Residual as a share of what is allowed, 1 at the edge; infinite without a CCT. [(...,)]

    miss_uv : distance from the aim in CIE 1960 u, v; asked for where the aim has no CCT, which
              allows the tolerance's Duv in any direction
    """
    if not math.isfinite(aim.mired):
        return miss_uv() / max(allowed.duv, 1e-12)
    return allowed.strain(at_mired - aim.mired, at_duv - aim.duv)
