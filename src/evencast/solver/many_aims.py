"""The best stacks for one light at each of many aims: of each what one search would find.

What sheets do to a light does not depend on its aim. So every aim keeps the pool that `search`
keeps for it, and what the stacks of all pools may look like is worked out once.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim
from evencast.solver.doubt import Ensemble, judged
from evencast.solver.stacks import Evaluated, count_stacks, search

FEW_STACKS = 20_000
"""Up to so many are worked out at once; of more, those of a few aims at a time, for memory."""
_AIMS_AT_ONCE = 25


def best_at_each(
    aims: Sequence[Aim],
    tolerance: Allowed,
    *,
    light: Floats,
    light_members: Floats,
    sheets: Floats,
    sheet_members: Sequence[Floats],
    layers: int,
    most: int,
    most_loss_stops: float = math.inf,
) -> list[Evaluated]:
    """The best `most` stacks at each aim, best first: those of `search`, judged and put in order.

    light         : (81,) nominal spectrum
    light_members : (MEMBERS or 1, 81) spectra it may have
    sheets        : (n, 81) nominal transmittances
    sheet_members : each (MEMBERS or 1, 81)
    layers, most_loss_stops : as in `search`
    """
    few = count_stacks(len(sheets), layers) <= FEW_STACKS
    step = len(aims) if few else _AIMS_AT_ONCE
    found: list[Evaluated] = []
    for start in range(0, len(aims), max(step, 1)):
        some = aims[start : start + step]
        pools = [
            search(
                light, sheets, aim, tolerance, layers=layers, most_loss_stops=most_loss_stops
            ).best
            for aim in some
        ]
        found += _judged(pools, some, tolerance, light_members, sheet_members)
    return [each.rows(each.order()[:most]) for each in found]


def _judged(
    pools: Sequence[Evaluated],
    aims: Sequence[Aim],
    tolerance: Allowed,
    light: Floats,
    sheets: Sequence[Floats],
) -> list[Evaluated]:
    """The pools by all that light and sheets may be; as they are where all of it is known."""
    if len(light) == 1 and all(len(each) == 1 for each in sheets):
        return list(pools)
    members, places = np.unique(
        np.vstack([each.members for each in pools]), axis=0, return_inverse=True
    )
    ensemble = Ensemble.of(light, sheets, members)
    ends = np.cumsum([len(each.members) for each in pools])
    return [
        judged(ensemble.rows(rows), pool.members, pool.layers, aim, tolerance)
        for pool, aim, rows in zip(pools, aims, np.split(places.ravel(), ends[:-1]), strict=True)
    ]
