"""The plainest stacks that bring each of many lights to each of many aims.

A stack is plainest where no sheet of it can be left out. What else reaches the aim is one of
these with more sheets, so these alone say which sheets are needed. All stacks are looked at by
nominal spectra, for all lights at once; those that come near are judged by every spectrum that
light and sheets may have.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, replace
from itertools import combinations_with_replacement, islice

import numpy as np
from numpy.typing import NDArray

from evencast.colour import cie_1931_2deg, mired_duv, uv_of_xyz
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim
from evencast.solver.best import Ints
from evencast.solver.doubt import judge
from evencast.solver.stacks import LIKELY, Evaluated, count_stacks, evaluate
from evencast.spectra import GRID_NM

Bools = NDArray[np.bool_]

NEAR_MIRED, NEAR_DUV = 20.0, 0.006
"""How far beyond the tolerance a stack's nominal spectrum may end that is still judged: to judge
those twice as far found not one stack more (tests/unit/solver/test_reach.py)."""

MOST_STACKS = 5_000_000
_AT_A_TIME = 8192


def plainest(
    lights: Sequence[Light],
    sheets: Sequence[Filter],
    aims: Sequence[Aim],
    allowed: Allowed,
    *,
    layers: int,
    most_loss_stops: float = math.inf,
) -> list[list[Evaluated]]:
    """By light and aim, the plainest stacks of up to `layers` sheets that reach it, judged.

    Those likely inside the tolerance; where there is none, those whose middle is inside.
    Raises  EvencastError for more than five million stacks
    """
    searched = count_stacks(len(sheets), layers)
    if searched > MOST_STACKS:
        raise EvencastError(
            f"{len(sheets)} sheets make {searched:,} stacks of up to {layers}, too many to look "
            "at for every light",
            where="layers",
            remedy="Take fewer layers, or a kit of fewer sheets.",
        )
    nominal = np.array([each.transmittance for each in sheets]).reshape(-1, len(GRID_NM))
    members = [each.members for each in sheets]
    near = _near(lights, nominal, aims, allowed, layers)

    def reached(light: Light, aim: Aim, stacks: Ints) -> Evaluated:
        def judged(rows: Ints) -> Evaluated:
            found = evaluate(light.power, nominal, rows, aim, allowed)
            return judge(found, light.members, members, aim, allowed)

        return _plainest(stacks, len(sheets), judged, most_loss_stops)

    return [
        [reached(light, aim, near[row][column]) for column, aim in enumerate(aims)]
        for row, light in enumerate(lights)
    ]


def copies_of(members: Ints, filters: int) -> Ints:
    """Copies of each filter in stacks. [(n, layers) to (n, filters)]"""
    return np.asarray((members[:, :, None] == np.arange(filters)).sum(axis=1))


def _near(
    lights: Sequence[Light], sheets: Floats, aims: Sequence[Aim], allowed: Allowed, layers: int
) -> list[list[Ints]]:
    """By light and aim, the stacks whose nominal spectra come near. [(n, layers) each]"""
    wide = replace(
        allowed,
        mired_low=allowed.mired_low - NEAR_MIRED,
        mired_high=allowed.mired_high + NEAR_MIRED,
        duv=allowed.duv + NEAR_DUV,
    )
    with_clear = np.vstack([sheets, np.ones(len(GRID_NM))])
    cmf = cie_1931_2deg().cmf_grid
    weights = np.concatenate([each.power[:, None] * cmf for each in lights], axis=1)
    found: list[list[list[Ints]]] = [[[] for _ in aims] for _ in lights]
    for stacks in _stacks(len(sheets), layers):
        through = np.prod(with_clear[stacks], axis=1)
        tristimulus = (through @ weights).reshape(len(stacks), len(lights), 3)
        at_mired, at_duv = mired_duv(uv_of_xyz(tristimulus))
        for row, of_light in enumerate(found):
            for aim, of_aim in zip(aims, of_light, strict=True):
                strain = wide.strain(at_mired[:, row] - aim.mired, at_duv[:, row] - aim.duv)
                of_aim.append(stacks[strain <= 1.0])
    return [[np.concatenate(each) for each in of_light] for of_light in found]


def _stacks(filters: int, layers: int) -> Iterator[Ints]:
    """Every multiset of up to that many, in parts; `filters` stands for no sheet."""
    every = combinations_with_replacement(range(filters + 1), layers)
    while part := list(islice(every, _AT_A_TIME)):
        yield np.array(part, dtype=np.intp)


def _plainest(
    stacks: Ints, filters: int, judged: Callable[[Ints], Evaluated], most_loss_stops: float
) -> Evaluated:
    """Of these stacks those that reach, without those that hold another one: few sheets first."""
    copies = copies_of(stacks, filters)
    layers = copies.sum(axis=1)
    likely = [judged(stacks[:0])]
    inside = [likely[0]]
    for sheets in range(stacks.shape[1] + 1):
        free = (layers == sheets) & ~_holds_any(copies, likely, filters)
        found = judged(stacks[free])
        bright = found.loss_stops <= most_loss_stops
        sure = found.share_within >= LIKELY
        likely.append(_some(found, bright & sure))
        free_of_inside = ~_holds_any(copies_of(found.members, filters), inside, filters)
        inside.append(_some(found, bright & found.within & free_of_inside))
    return _joined(likely) if any(len(each.members) for each in likely) else _joined(inside)


def _holds_any(copies: Ints, others: Sequence[Evaluated], filters: int) -> Bools:
    """Whether a stack holds all the sheets of any other. [(n,)]"""
    holds = np.zeros(len(copies), dtype=np.bool_)
    for other in np.concatenate([copies_of(each.members, filters) for each in others]):
        holds |= (copies >= other).all(axis=1)
    return holds


def _some(found: Evaluated, rows: Bools) -> Evaluated:
    return Evaluated(*(getattr(found, each.name)[rows] for each in fields(found)))


def _joined(parts: Sequence[Evaluated]) -> Evaluated:
    return Evaluated(
        *(
            np.concatenate([getattr(part, each.name) for part in parts])
            for each in fields(Evaluated)
        )
    )
