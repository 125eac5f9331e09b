"""Several lights on one place: what they look like together, and what one of them does to it.

Lights add as spectra, and so as tristimulus values; mireds do not. Of two lights of one luminance
the bluer has more Z, and turns a mix further than its share of the light tells.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evencast.colour import spread_of, xyz
from evencast.quantities import Floats
from evencast.spectra import GRID_NM


def mix(spectra: Sequence[Floats], luminous: Sequence[float | Floats]) -> Floats:
    """The spectrum of lights together, each by how much light it brings. [(MEMBERS or 1, 81)]

    spectra  : each (MEMBERS or 1, 81), of any scale; members are paired, row with row
    luminous : how much of each arrives, all in one unit, 0 or more: a number, or one for each
               of its members
    Returns  spectra whose luminance is the sum of what arrives; dark where nothing does
    """
    parts = (scaled(each, amount) for each, amount in zip(spectra, luminous, strict=True))
    result: Floats = sum(parts, np.zeros((1, len(GRID_NM))))
    return result


def scaled(power: Floats, luminous: float | Floats) -> Floats:
    """Spectra of a given luminance; dark ones stay dark. [(..., 81)]

    luminous : (...,) or a number
    """
    bright = xyz(power)[..., 1]
    factor = np.divide(luminous, bright, out=np.zeros_like(bright * luminous), where=bright > 0)
    return np.asarray(power * factor[..., None])


def pull(light: Floats, rest: Floats) -> tuple[Floats, Floats]:
    """What a light moves a mix by: the mix with it minus the mix without it.
    [mired, + warmer; Duv, + greener; (...,)]

    light, rest : (..., 3) tristimulus values of the light and of all else, in one unit; leading
                  axes broadcast, so that members are paired
    Returns  infinite or nan in mired where a mix has no CCT (see `Spread`), nan where nothing
             else falls there: that light is the mix
    """
    together, without = spread_of(rest + light), spread_of(rest)
    is_lit = rest[..., 1] > 0
    with np.errstate(invalid="ignore"):
        by_mired = np.where(is_lit, together.mired - without.mired, np.nan)
    return by_mired, np.where(is_lit, together.duv - without.duv, np.nan)


def pull_of(candidates: Floats, ratio: Floats, *, beside_uv: Floats) -> tuple[Floats, Floats]:
    """What each of many spectra would move light of one colour by. [mired, Duv; as `pull`]

    candidates : (..., 81) of any scale
    ratio      : how much light each brings, as a share of all else there; 1 is as much. Broadcast
                 against the candidates: (spots, 1) or (spots, n) with (n, 81) gives (spots, n)
    beside_uv  : (2,) CIE 1960 u, v of all else
    """
    light = xyz(scaled(candidates, 1.0))
    return pull(np.asarray(ratio)[..., None] * light, _of_uv(beside_uv))


def _of_uv(uv_value: Floats) -> Floats:
    """Tristimulus values of a colour, of luminance 1. [(3,)]"""
    u, v = uv_value
    return np.asarray([1.5 * u / v, 1.0, (4.0 - u - 10.0 * v) / (2.0 * v)])
