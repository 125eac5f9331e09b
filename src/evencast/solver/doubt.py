"""The best stacks again, with every spectrum their sheets and the light may have.

The search goes by nominal spectra. A clever stack that hits the aim with them may miss it
with the real sheets, a plain one may not: so the pool is judged by the mean over the
ensemble, and what is told of a stack is the middle of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evencast.colour import cie_1931_2deg, low_middle_high, spread_of
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim, strain_of
from evencast.solver.best import Ints
from evencast.solver.stacks import PRICE_PER_LAYER_UV, PRICE_PER_STOP_UV, Evaluated
from evencast.spectra import MEMBERS

_FARTHEST_UV = 0.1
_WORST_STRAIN = 10.0
"""A member without a colour temperature counts as this far off, and no further."""


def judge(
    found: Evaluated, light: Floats, sheets: Sequence[Floats], aim: Aim, allowed: Allowed
) -> Evaluated:
    """Stacks by all they may do instead of what their nominal spectra do.

    light  : (MEMBERS or 1, 81) spectra that the light may have
    sheets : each (MEMBERS or 1, 81), by the index that `found.members` holds
    Returns the same stacks with means and medians; unchanged where every spectrum is known
    """
    if len(light) == 1 and all(len(each) == 1 for each in sheets):
        return found
    tristimulus = np.empty((len(found.members), MEMBERS, 3))
    for row, members in enumerate(found.members):
        tristimulus[row] = _tristimulus(light, sheets, members)
    spread = spread_of(tristimulus)
    miss = np.minimum(np.hypot(*np.moveaxis(spread.uv - aim.uv, -1, 0)), _FARTHEST_UV)
    strain = np.minimum(strain_of(aim, allowed, spread.mired, spread.duv, miss), _WORST_STRAIN)
    bare = light @ cie_1931_2deg().cmf_grid[:, 1]
    _, at_mired, _ = low_middle_high(spread.mired)
    _, at_duv, _ = low_middle_high(spread.duv)
    _, loss_stops, _ = low_middle_high(-np.log2(spread.luminous / bare))
    middle = strain_of(aim, allowed, at_mired, at_duv, np.median(miss, axis=-1))
    residual_mired = np.where(np.isfinite(at_mired), at_mired - aim.mired, np.nan)
    return replace(
        found,
        miss_uv=miss.mean(axis=-1),
        residual_mired=residual_mired,
        residual_duv=at_duv - aim.duv,
        loss_stops=loss_stops,
        within=middle <= 1.0,
        edge=(strain**2).mean(axis=-1),
        share_within=(strain <= 1.0).mean(axis=-1),
        price_uv=PRICE_PER_LAYER_UV * found.layers + PRICE_PER_STOP_UV * loss_stops,
    )


def _tristimulus(light: Floats, sheets: Sequence[Floats], members: Ints) -> Floats:
    """X, Y, Z of every member of one stack. [(MEMBERS or 1, 3)]"""
    power = light
    for each in members:
        if each < len(sheets):
            power = power * sheets[each]
    return np.asarray(power @ cie_1931_2deg().cmf_grid)
