"""Every stack of up to four filters in front of one light, by matrix product.

A stack is a multiset of filters. It is split in a left and a right half, each at most a
pair; with the halves' spectra as matrices one product gives three numbers per stack that
are linear in its spectrum: the distance from the aim in u and in v, both times the
weight X + 15 Y + 3 Z, and that weight. A clear sheet fills the places of shorter stacks.
Single precision finds the candidates (u, v within 3e-7); double precision judges them.
"""

from __future__ import annotations

import math
import os
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evencast.colour import cie_1931_2deg, mired_duv, uv_of_mired_duv, uv_of_xyz
from evencast.cores import one_core_products
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim, strain_of
from evencast.solver.best import Best, Ints, Members

Float32s = NDArray[np.float32]

PRICE_PER_LAYER_UV = 0.0004
PRICE_PER_STOP_UV = 0.0005
"""What a sheet and a stop are worth, in u, v: near 3200 K a sheet weighs 1.2 mired of
miss, a stop 1.5. Prices of our own; they make a plain stack win over a dense clever one."""

PRICE_OF_THE_EDGE_UV = 0.0003
"""Inside the tolerance good enough is good enough: sheets and stops decide, and lying at
the very edge weighs less than a sheet."""

LIKELY = 0.5
"""A stack counts as inside when at least this share of what it may be is inside."""

MANY = 2_000_000
"""Stacks from which on a search takes every core."""

POOL = 300
_BLOCK_ROWS = 512
_BLOCK_COLUMNS = 768
_FLOAT32_SLACK_UV = 1e-6
_STRAIN_SLACK = 1e-3  # single precision must not lose a stack at the very edge


@dataclass(frozen=True, slots=True, eq=False)
class Evaluated:
    """Stacks with what they do, all (n,) unless said.

    members        : (n, layers) indices of filters, ascending; the filter count means none
    layers         : sheets in the stack
    miss_uv        : distance from the aim in CIE 1960 u, v; over an ensemble its mean
    residual_mired : filtered minus aim, nan where either has no CCT; the median of an ensemble
    residual_duv   : filtered minus aim; the median of an ensemble
    loss_stops     : light lost against the bare light; the median of an ensemble
    within         : inside the tolerance, judged by those residuals
    edge           : square of the residual's share of the tolerance, 1 at its edge; over an
                     ensemble its mean
    share_within   : share of the ensemble inside the tolerance
    price_uv       : sheets and stops at their prices
    """

    members: Ints
    layers: Ints
    miss_uv: Floats
    residual_mired: Floats
    residual_duv: Floats
    loss_stops: Floats
    within: NDArray[np.bool_]
    edge: Floats
    share_within: Floats
    price_uv: Floats

    def rows(self, rows: Ints) -> Evaluated:
        """Some of the stacks."""
        return Evaluated(**{name: getattr(self, name)[rows] for name in self.__slots__})

    def order(self) -> Ints:
        """Best first: the bare light if it is likely inside the tolerance, other stacks likely
        inside by price and how near the edge they lie, then the rest by price and miss."""
        outside = self.share_within < LIKELY
        cost = self.price_uv + np.where(outside, self.miss_uv, PRICE_OF_THE_EDGE_UV * self.edge)
        leave = (self.layers == 0) & ~outside
        return np.lexsort((self.layers, cost, outside, ~leave))


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """What a search found.

    best      : the pool of best stacks, double precision, in no order
    searched  : stacks looked at, the bare light among them
    objective : least of miss + price over every stack, in u, v
    """

    best: Evaluated
    searched: int
    objective: float


def count_stacks(filters: int, layers: int) -> int:
    """Number of stacks of up to that many layers, none included."""
    return math.comb(filters + layers, layers)


def search(
    light: Floats,
    sheets: Floats,
    aim: Aim,
    tolerance: Allowed,
    *,
    layers: int,
    most_loss_stops: float = math.inf,
) -> Search:
    """Look at every stack of up to `layers` sheets and keep the best.

    light  : (81,) relative power
    sheets : (n, 81) transmittances
    layers : 1 to 4
    most_loss_stops : stacks that lose more are struck out
    Kept are the best 300 by miss and price, and the best 300 of those inside the tolerance,
    so "no stack reaches it" is exact and not a matter of luck.
    """
    clear = len(sheets)
    pools = _Pools(light, aim, tolerance, most_loss_stops)
    if count_stacks(clear, layers) < MANY:
        for left, right in halves(sheets, layers):
            pools.look_at(left, right)
    else:
        _look_in_parallel(pools, halves(sheets, layers))
    members = pools.members(clear=clear, layers=layers)
    best = evaluate(light, sheets, members, aim, tolerance)
    return Search(
        best=best,
        searched=count_stacks(clear, layers),
        objective=float((best.miss_uv + best.price_uv).min()),
    )


def _look_in_parallel(pools: _Pools, pairs: Iterator[tuple[Half, Half]]) -> None:
    """Every pair of halves, each by one thread with a matrix product of its own: what is done
    beside the product is then shared out as well."""
    from concurrent.futures import ThreadPoolExecutor  # slow to import, only for large searches

    with one_core_products(), ThreadPoolExecutor(os.cpu_count()) as threads:
        for each in [threads.submit(pools.look_at, left, right) for left, right in pairs]:
            each.result()


def evaluate(
    light: Floats, sheets: Floats, members: Ints, aim: Aim, tolerance: Allowed
) -> Evaluated:
    """What given stacks do, in double precision.

    members : (n, layers) filter indices; len(sheets) stands for no sheet
    """
    clear = len(sheets)
    with_clear = np.vstack([sheets, np.ones_like(light)])
    through = np.prod(with_clear[members], axis=1)
    tristimulus = (light * through) @ cie_1931_2deg().cmf_grid
    bare_y = float(light @ cie_1931_2deg().cmf_grid[:, 1])
    at_uv = uv_of_xyz(tristimulus)
    at_mired, at_duv = mired_duv(at_uv)
    layers = (members != clear).sum(axis=1)
    with np.errstate(divide="ignore"):
        loss_stops = -np.log2(tristimulus[:, 1] / bare_y)
    miss_uv = np.hypot(*(at_uv - aim.uv).T)
    strain = strain_of(aim, tolerance, at_mired, at_duv, lambda: miss_uv)
    return Evaluated(
        members=members,
        layers=layers,
        miss_uv=miss_uv,
        residual_mired=at_mired - aim.mired,
        residual_duv=at_duv - aim.duv,
        loss_stops=loss_stops,
        within=strain <= 1.0,
        edge=strain**2,
        share_within=(strain <= 1.0).astype(float),
        price_uv=PRICE_PER_LAYER_UV * layers + PRICE_PER_STOP_UV * loss_stops,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Half:
    """Partial stacks: their members, spectra, sheet counts, and the end that joins."""

    members: Ints
    through: Float32s
    layers: Float32s
    joint: Ints

    def part(self, start: int, stop: int) -> Half:
        """A slice of it."""
        rows = slice(start, stop)
        return Half(self.members[rows], self.through[rows], self.layers[rows], self.joint[rows])


def functionals(light: Floats, at_uv: Floats) -> Float32s:
    """What sums a stack's transmittance to its distance from a colour, in u and in v, both times
    the weight X + 15 Y + 3 Z, and to that weight; the bare light has a Y of 1. [(3, 81)]"""
    cmf = cie_1931_2deg().cmf_grid
    power = light[:, None] * cmf / float(light @ cmf[:, 1])
    weight = power @ np.array([1.0, 15.0, 3.0])
    distances = [4 * power[:, 0] - at_uv[0] * weight, 6 * power[:, 1] - at_uv[1] * weight]
    return np.stack([*distances, weight]).astype(np.float32)


def halves(sheets: Floats, layers: int) -> Iterator[tuple[Half, Half]]:
    """Pairs of left and right halves that together hold every multiset.

    Left halves come in blocks sorted by their last member, right halves sorted by their
    first, so those that continue a block are one slice. Where a block spans several last
    members, the few pairs out of order are the caller's to strike out.
    """
    single = np.vstack([sheets, np.ones((1, sheets.shape[1]))]).astype(np.float32)
    clear = len(sheets)
    left_members = _multisets(clear + 1, layers - layers // 2)
    left_members = left_members[np.argsort(left_members[:, -1], kind="stable")]
    left = _half(single, left_members, joint=left_members[:, -1])
    right_members = _multisets(clear + 1, layers // 2)
    first = right_members[:, 0] if layers > 1 else np.full(1, clear)
    right = _half(single, right_members, joint=first)
    for start in range(0, len(left_members), _BLOCK_ROWS):
        block = left.part(start, start + _BLOCK_ROWS)
        yield block, right.part(int(np.searchsorted(first, block.joint[0])), len(right_members))


def _half(single: Float32s, members: Ints, *, joint: Ints) -> Half:
    through = np.ones((len(members), single.shape[1]), dtype=np.float32)
    for place in members.T:
        through *= single[place]
    layers = (members != len(single) - 1).sum(axis=1).astype(np.float32)
    return Half(members, through, layers, joint)


def _multisets(count: int, size: int) -> Ints:
    """All ascending index tuples of that size, sorted by the first. [(n, size)]"""
    if size == 0:
        return np.empty((1, 0), dtype=np.intp)
    if size == 1:
        return np.arange(count, dtype=np.intp)[:, None]
    return np.stack(np.triu_indices(count), axis=1).astype(np.intp)


class _Pools:
    """The best stacks so far: by miss and price, and by price inside the tolerance."""

    def __init__(self, light: Floats, aim: Aim, tolerance: Allowed, most_loss_stops: float) -> None:
        self._functionals = functionals(light, aim.uv)
        self._aim = aim
        self._tolerance = tolerance
        self._reach_uv = _reach_uv(aim, tolerance)
        self._least_light = max(2.0**-most_loss_stops * (1 - 1e-6), 1e-30)
        self._all = Best(POOL)
        self._inside = Best(POOL)

    def members(self, *, clear: int, layers: int) -> Ints:
        """Stacks of both pools, each once; the bare light always among them. [(n, layers)]"""
        held = [*self._all.members(), *self._inside.members()]
        bare = np.full((1, layers), clear, dtype=np.intp)
        return np.unique(np.vstack([*held, bare]), axis=0)

    def look_at(self, left: Half, right: Half) -> None:
        """Go through every stack of a left and a right half, block by block."""
        rows = len(left.members)
        weighted = (self._functionals[:, None, :] * left.through).reshape(3 * rows, -1)
        space = np.empty(5 * rows * _BLOCK_COLUMNS, dtype=np.float32)  # fresh pages cost as much
        for start in range(0, len(right.members), _BLOCK_COLUMNS):
            part = right.part(start, start + _BLOCK_COLUMNS)
            shape = (rows, len(part.members))
            du, dv, weight, squared, limit = space[: 5 * rows * shape[1]].reshape(5, *shape)
            product = space[: 3 * rows * shape[1]].reshape(3 * rows, -1)
            np.matmul(weighted, part.through.T, out=product)
            self._keep(left, part, du, dv, weight, squared, limit)

    def _keep(
        self,
        left: Half,
        right: Half,
        du: Float32s,
        dv: Float32s,
        weight: Float32s,
        squared: Float32s,
        limit: Float32s,
    ) -> None:
        """Put what may belong to the best into the pools; the last two are room to work in."""
        fewest = float(left.layers.min() + right.layers.min())
        room = self._room(fewest) + _FLOAT32_SLACK_UV
        np.multiply(du, du, out=squared)
        squared += np.multiply(dv, dv, out=limit)
        if right.joint[0] < left.joint[-1]:  # these pairs are other stacks written twice
            twice = int(np.searchsorted(right.joint, left.joint[-1]))
            squared[:, :twice][right.joint[:twice] < left.joint[:, None]] = np.inf
        np.multiply(weight, np.float32(room), out=limit)
        limit *= limit
        row, column = np.divmod(np.flatnonzero(squared < limit), du.shape[1])
        if not len(row):
            return
        weight_f = weight[row, column].astype(float)
        at_u, at_v = (each[row, column] / weight_f for each in (du, dv))
        miss = np.hypot(at_u, at_v)
        luminous = weight_f * (at_v + self._aim.uv[1]) / 6.0
        bright = luminous >= self._least_light
        row, column, miss, luminous = row[bright], column[bright], miss[bright], luminous[bright]
        at_u, at_v = at_u[bright], at_v[bright]
        price = PRICE_PER_LAYER_UV * (left.layers[row] + right.layers[column])
        price = price - PRICE_PER_STOP_UV * np.log2(luminous)
        members = (left.members, row, right.members, column)
        self._all.offer(price + miss, members)
        self._offer_inside(price, miss, at_u, at_v, members)

    def _room(self, fewest_layers: float) -> float:
        """Greatest miss with which a stack of that many sheets can still enter a pool."""
        price = PRICE_PER_LAYER_UV * fewest_layers
        in_all = self._all.worst - price
        in_inside = self._reach_uv if price < self._inside.worst else 0.0
        return float(min(max(in_all, in_inside, 0.0), 10.0))

    def _offer_inside(
        self, price: Floats, miss: Floats, at_u: Floats, at_v: Floats, members: Members
    ) -> None:
        least = (0.9 * miss / self._reach_uv) ** 2  # the edge lies nowhere beyond the reach
        cheap = price + PRICE_OF_THE_EDGE_UV * least < self._inside.worst
        near = np.flatnonzero(cheap & (miss <= self._reach_uv))
        if not len(near):
            return
        place = np.stack([at_u[near], at_v[near]], axis=-1) + self._aim.uv
        strain = strain_of(self._aim, self._tolerance, *mired_duv(place), lambda: miss[near])
        holds = strain <= 1.0 + _STRAIN_SLACK
        near, strain = near[holds], strain[holds]
        left, row, right, column = members
        cost = price[near] + PRICE_OF_THE_EDGE_UV * strain**2
        self._inside.offer(cost, (left, row[near], right, column[near]))


def _reach_uv(aim: Aim, tolerance: Allowed) -> float:
    """Radius around the aim that holds the whole tolerance region. [uv]"""
    if not math.isfinite(aim.mired):
        return tolerance.duv
    mireds = np.clip(
        aim.mired + np.linspace(tolerance.mired_low, tolerance.mired_high, 9), 10, 1000
    )
    duvs = aim.duv + np.array([-tolerance.duv, 0.0, tolerance.duv])
    corners = uv_of_mired_duv(mireds[:, None], duvs[None, :])
    return float(1.02 * np.hypot(*(corners - aim.uv).reshape(-1, 2).T).max())
