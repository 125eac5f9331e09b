"""The best stacks again, with every spectrum their sheets and the light may have.

The search goes by nominal spectra. A clever stack that hits the aim with them may miss it
with the real sheets, a plain one may not: so the pool is judged by the mean over the
ensemble, and what is told of a stack is the middle of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from evencast.colour import Spread, cie_1931_2deg, low_middle_high, spread_of
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim, strain_of
from evencast.solver.best import Ints
from evencast.solver.stacks import PRICE_PER_LAYER_UV, PRICE_PER_STOP_UV, Evaluated

_AT_ONCE = 16
"""So many stacks are summed at once: their spectra stay in the processor's cache."""
_FARTHEST_UV = 0.1
_WORST_STRAIN = 10.0
"""A member without a colour temperature counts as this far off, and no further."""


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble:
    """What stacks in front of one light may look like, whatever the aim.

    spread     : colours, (n, members)
    mired, duv : medians, (n,)
    loss_stops : median, (n,)
    """

    spread: Spread
    mired: Floats
    duv: Floats
    loss_stops: Floats

    @classmethod
    def of(cls, light: Floats, sheets: Sequence[Floats], members: Ints) -> Ensemble:
        """Every stack in front of a light.

        light   : (MEMBERS or 1, 81) spectra that the light may have
        sheets  : each (MEMBERS or 1, 81), by the index that `members` holds
        members : (n, layers) indices of sheets; any other means none
        """
        spread = spread_of(_tristimulus(light, sheets, members))
        bare = light @ cie_1931_2deg().cmf_grid[:, 1]
        _, at_mired, _ = low_middle_high(spread.mired)
        _, at_duv, _ = low_middle_high(spread.duv)
        _, loss_stops, _ = low_middle_high(-np.log2(spread.luminous / bare))
        return cls(spread, at_mired, at_duv, loss_stops)

    def residual(self, aim: Aim) -> tuple[Floats, Floats]:
        """Mired and Duv of the middle minus those of an aim; mired nan where either has no colour
        temperature. [(n,), (n,)]"""
        at_mired = np.where(np.isfinite(self.mired), self.mired, np.nan)
        return at_mired - aim.mired, self.duv - aim.duv

    def rows(self, rows: Ints) -> Ensemble:
        """Some of the stacks."""
        spread = self.spread
        return Ensemble(
            Spread(spread.uv[rows], spread.mired[rows], spread.duv[rows], spread.luminous[rows]),
            self.mired[rows],
            self.duv[rows],
            self.loss_stops[rows],
        )


def judge(
    found: Evaluated, light: Floats, sheets: Sequence[Floats], aim: Aim, allowed: Allowed
) -> Evaluated:
    """Stacks by all they may do instead of what their nominal spectra do.

    light, sheets : as `Ensemble.of` has them
    Returns the same stacks with means and medians; unchanged where every spectrum is known
    """
    if len(light) == 1 and all(len(each) == 1 for each in sheets):
        return found
    ensemble = Ensemble.of(light, sheets, found.members)
    return judged(ensemble, found.members, found.layers, aim, allowed)


def judged(
    ensemble: Ensemble, members: Ints, layers: Ints, aim: Aim, allowed: Allowed
) -> Evaluated:
    """Stacks against an aim, by all they may do."""
    spread = ensemble.spread
    miss = _miss_uv(spread, aim)
    strain = strain_of(aim, allowed, spread.mired, spread.duv, lambda: miss)
    residual_mired, residual_duv = ensemble.residual(aim)
    return Evaluated(
        members=members,
        layers=layers,
        miss_uv=miss.mean(axis=-1),
        residual_mired=residual_mired,
        residual_duv=residual_duv,
        loss_stops=ensemble.loss_stops,
        within=_is_within(ensemble, aim, allowed),
        edge=_edge(strain, aim, allowed, spread, miss),
        share_within=(strain <= 1.0).mean(axis=-1),
        price_uv=PRICE_PER_LAYER_UV * layers + PRICE_PER_STOP_UV * ensemble.loss_stops,
    )


def inside(ensemble: Ensemble, aim: Aim, allowed: Allowed) -> tuple[NDArray[np.bool_], Floats]:
    """Whether the middle of each stack is inside, and the share of what it may be that is; as
    `judged` has them. [(n,), (n,)]"""
    spread = ensemble.spread
    strain = strain_of(aim, allowed, spread.mired, spread.duv, lambda: _miss_uv(spread, aim))
    return _is_within(ensemble, aim, allowed), (strain <= 1.0).mean(axis=-1)


def _miss_uv(spread: Spread, aim: Aim) -> Floats:
    """How far each member is from the aim, and no further than the farthest. [(n, members)]"""
    away_u, away_v = spread.uv[..., 0] - aim.uv[0], spread.uv[..., 1] - aim.uv[1]
    return np.asarray(np.minimum(np.sqrt(away_u * away_u + away_v * away_v), _FARTHEST_UV))


def _is_within(ensemble: Ensemble, aim: Aim, allowed: Allowed) -> NDArray[np.bool_]:
    """Whether the middle is inside. [(n,)]"""

    def miss() -> Floats:
        return np.asarray(np.median(_miss_uv(ensemble.spread, aim), axis=-1))

    return np.asarray(strain_of(aim, allowed, ensemble.mired, ensemble.duv, miss) <= 1.0)


def _edge(strain: Floats, aim: Aim, allowed: Allowed, spread: Spread, miss: Floats) -> Floats:
    """Mean square of the strain; where a side allows nothing, a member beyond it counts as at the
    edge until it misses by as much as an eased side would allow. [(n,)]"""
    eased = allowed.eased()
    if eased != allowed:
        softer = strain_of(aim, eased, spread.mired, spread.duv, lambda: miss)
        strain = np.maximum(np.minimum(strain, 1.0), softer)
    result: Floats = (np.minimum(strain, _WORST_STRAIN) ** 2).mean(axis=-1)
    return result


def _tristimulus(light: Floats, sheets: Sequence[Floats], members: Ints) -> Floats:
    """X, Y, Z of every stack and member. [(n, MEMBERS or 1, 3)]

    Ensembles in single precision, which is 0.001 mired off: a tenth of what is ever printed.
    """
    stacks = [tuple(each for each in stack if each < len(sheets)) for stack in members.tolist()]
    used = {each for stack in stacks for each in stack}
    rows = max([len(light), *(len(sheets[each]) for each in used)])
    precision: type[np.floating[Any]] = np.float64 if rows == 1 else np.float32
    cmf = cie_1931_2deg().cmf_grid.astype(precision)
    scale = float(light.max())
    start = (light / scale).astype(precision)
    through = {each: sheets[each].astype(precision) for each in used}
    result = np.empty((len(stacks), rows, 3))
    power: NDArray[Any] = np.empty((min(_AT_ONCE, len(stacks)), rows, len(cmf)), precision)
    behind, before = tuple[int, ...](), start
    order = sorted(range(len(stacks)), key=stacks.__getitem__)  # those alike but for the last sheet
    for first in range(0, len(order), _AT_ONCE):
        places = order[first : first + _AT_ONCE]
        for place, stack in zip(power, (stacks[each] for each in places), strict=False):
            if stack[:-1] != behind:
                behind, before = stack[:-1], start
                for each in behind:
                    before = before * through[each]
            np.multiply(before, through[stack[-1]] if stack else 1.0, out=place)
        summed = power[: len(places)].reshape(-1, len(cmf)) @ cmf
        result[places] = summed.reshape(-1, rows, 3)
    return result * scale
