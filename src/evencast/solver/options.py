"""What may be done with one light of a scene, at each of many balances, and what it costs.

A light may be treated in ways of its own (as it is, dialled, dimmed, its lamp swapped, switched
off); in front of each hang stacks of sheets. The search goes by nominal spectra; the cheapest of
every number of sheets are judged by all that light and sheets may be, and become its options.
What is left out is never cheaper, by its nominal spectrum, than `cut`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from evencast.colour import uv_of_mired_duv
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim, strain_of
from evencast.solver.best import Ints
from evencast.solver.doubt import Ensemble, judged
from evencast.solver.enumerate import Kit, Near, Region
from evencast.solver.left import NOTHING_LEFT, Left
from evencast.solver.prices import (
    HARMLESS,
    OFF_COLOUR,
    SWITCHED_OFF,
    Weights,
    colour_cost,
    off_cost,
)
from evencast.solver.scene_light import SceneLight, Way
from evencast.solver.stacks import (
    PRICE_OF_THE_EDGE_UV,
    PRICE_PER_LAYER_UV,
    Evaluated,
)

NEAR_MISS = 3.0
"""A stack that ends within three tolerances is still hung and its miss told; one that ends
further off is not worth the sheets."""

MOST_BEYOND_MIRED = 30.0
"""Of a wide tolerance three times is too far: no further beyond it than this."""

LEVEL_STEP_STOPS = 0.5
"""Where a light's level is judged, the cheapest stacks of every such step of loss are kept."""

_STEPS = 64

POOL = 10
"""Stacks kept of every number of sheets."""

_FARTHEST_MIRED = 3000.0


@dataclass(frozen=True, slots=True, eq=False)
class Options:
    """What may be done with one light at one balance, each (n,) unless said.

    way         : index of the way
    found       : the stacks, judged; the filter count in `members` means none
    colour      : what the colour costs, the views' colours in it
    off         : the part of it for being outside, the rest is for lying near the edge
    inside      : whether the light is inside its tolerance, or may be left though it is not
    cost        : colour with sheets, stops, area and minutes at their prices
    level_stops : what way and stack do to the level; negative is darker
    view_loss_stops : (views, n) what the stack takes from each view
    left        : what stacks that were left out cost more than the cheapest, by nominal spectra
    """

    way: Ints
    found: Evaluated
    colour: Floats
    off: Floats
    inside: NDArray[np.bool_]
    cost: Floats
    level_stops: Floats
    view_loss_stops: Floats
    left: Left

    def rows(self, rows: Ints) -> Options:
        """Some of the options."""
        return replace(
            self,
            way=self.way[rows],
            found=self.found.rows(rows),
            colour=self.colour[rows],
            off=self.off[rows],
            inside=self.inside[rows],
            cost=self.cost[rows],
            level_stops=self.level_stops[rows],
            view_loss_stops=self.view_loss_stops[:, rows],
        )

    def repriced(self, light: SceneLight, weights: Weights) -> Options:
        """The same options at other prices, where inside is inside."""
        work = work_cost(light, self.way, self.found, weights)
        return replace(self, cost=self.off + work)


def options(
    kit: Kit,
    sheets: Sequence[Floats],
    light: SceneLight,
    weights: Weights,
    *,
    pool: int = POOL,
    at: Sequence[int] | None = None,
) -> dict[int, Options]:
    """The options of one light, by balance.

    sheets : each (MEMBERS or 1, 81), what the kit's sheets may be
    pool   : how many stacks of every number of sheets are kept
    at     : the balances wanted, by index; None for all
    """
    wanted = range(len(light.aims)) if at is None else at
    by_way: dict[int, list[int]] = {}
    for balance in wanted:
        for way in light.ways_at[balance]:
            by_way.setdefault(way, []).append(balance)
    parts: dict[int, list[_Part]] = {balance: [] for balance in wanted}
    for way, balances in by_way.items():
        for balance, part in _of_way(kit, sheets, light, way, balances, weights, pool).items():
            parts[balance].append(part)
    return {balance: _together(light, each, weights) for balance, each in parts.items()}


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """The options of one way at one balance."""

    way: int
    found: Evaluated
    colour: Floats
    off: Floats
    inside: NDArray[np.bool_]
    view_loss_stops: Floats
    costs: _Costs


@dataclass(frozen=True, slots=True, eq=False)
class _Costs:
    """By nominal spectra the least cost of what is kept, and of each group of what is left out
    with the loss that it has."""

    kept: float = math.inf
    left: Left = NOTHING_LEFT  # its `spare` still the whole cost


@dataclass(slots=True, eq=False)
class _Picked:
    """Stacks kept of one way: by balance the rows of one common list."""

    rows: dict[int, Ints] = field(default_factory=dict)
    costs: dict[int, _Costs] = field(default_factory=dict)


def _of_way(
    kit: Kit,
    sheets: Sequence[Floats],
    light: SceneLight,
    number: int,
    balances: Sequence[int],
    weights: Weights,
    pool: int,
) -> dict[int, _Part]:
    way = light.ways[number]
    clear = len(kit.sheets)
    bare = np.full((1, kit.layers), clear)
    if way.is_off or way.layers == 0 or clear == 0:
        members, picked = bare, _Picked({b: np.zeros(1, int) for b in balances}, {})
    else:
        members, picked = _searched(kit, light, way, balances, weights, pool)
    layers = (members != clear).sum(axis=1)
    ensemble = Ensemble.of(way.members, sheets, members)
    views = [(seen, Ensemble.of(seen.members, sheets, members)) for seen in light.views]
    result = {}
    for balance in balances:
        rows = picked.rows[balance]
        found = judged(
            ensemble.rows(rows), members[rows], layers[rows], light.aims[balance], light.allowed
        )
        colour, off = _colour(found, way, light.weight)
        losses = np.zeros((len(views), len(rows)))
        for place, (seen, of_view) in enumerate(views):
            through = judged(
                of_view.rows(rows), members[rows], layers[rows], seen.aims[balance], seen.allowed
            )
            more, more_off = _colour(through, way, 1.0)
            colour, off = colour + more, off + more_off
            losses[place] = through.loss_stops
        costs = picked.costs.get(balance, _Costs())
        inside = np.asarray(found.within | way.is_off)
        if number == 0 and light.harmless and light.harmless[balance]:
            colour[0], off[0], inside[0] = HARMLESS, 0.0, True  # the bare light stands first
        result[balance] = _Part(number, found, colour, off, inside, losses, costs)
    return result


def _colour(found: Evaluated, way: Way, weight: float) -> tuple[Floats, Floats]:
    """What the colour costs, and the part of it for being outside."""
    if way.is_off:
        lost = np.full(len(found.layers), SWITCHED_OFF)
        return lost, lost
    colour = colour_cost(found, weight)
    return colour, np.where(found.within, 0.0, colour)


def work_cost(light: SceneLight, way: Ints, found: Evaluated, weights: Weights) -> Floats:
    """Sheets, stops, area and minutes at their prices. [(n,)]"""
    minutes = np.array([each.minutes for each in light.ways])[way]
    result: Floats = (
        light.per_sheet(weights) * found.layers
        + weights.stops * found.loss_stops
        + weights.minutes * minutes
    )
    return result


def _together(light: SceneLight, parts: Sequence[_Part], weights: Weights) -> Options:
    found = joined([each.found for each in parts])
    way = np.concatenate([np.full(len(each.found.layers), each.way) for each in parts])
    colour = np.concatenate([each.colour for each in parts])
    off = np.concatenate([each.off for each in parts])
    levels = np.array([each.level_stops for each in light.ways])[way]
    kept = min(each.costs.kept for each in parts)
    left = NOTHING_LEFT.and_more(*(each.costs.left for each in parts))
    return Options(
        way=way,
        found=found,
        colour=colour,
        off=off,
        inside=np.concatenate([each.inside for each in parts]),
        cost=colour + work_cost(light, way, found, weights),
        level_stops=levels - found.loss_stops,
        view_loss_stops=np.concatenate([each.view_loss_stops for each in parts], axis=1),
        left=replace(left, spare=left.spare - (kept if math.isfinite(kept) else 0.0)),
    )


def joined(parts: Sequence[Evaluated]) -> Evaluated:
    """Several lists of stacks as one."""
    names = Evaluated.__dataclass_fields__
    return Evaluated(
        **{name: np.concatenate([getattr(each, name) for each in parts]) for name in names}
    )


def _searched(
    kit: Kit,
    light: SceneLight,
    way: Way,
    balances: Sequence[int],
    weights: Weights,
    pool: int,
) -> tuple[Ints, _Picked]:
    """The stacks worth judging, the bare way first, and which of them belong to which balance."""
    clear = len(kit.sheets)
    region = _region([light.aims[each] for each in balances], light.allowed)
    near = kit.near(way.power, region)
    if way.layers < kit.layers:
        near = _only(near, near.layers <= way.layers)
    bright = near.luminous >= 2.0 ** -min(light.most_loss_stops, 30.0) * (1 - 1e-6)
    near = _only(near, bright)
    picked, chosen = _Picked(), {}
    for balance in balances:
        chosen[balance], picked.costs[balance] = _pick(
            near, light, light.aims[balance], weights, pool
        )
    used = np.unique(np.concatenate(list(chosen.values()))) if chosen else np.zeros(0, int)
    members = np.vstack([np.full((1, kit.layers), clear), near.members[used]])
    for balance, rows in chosen.items():
        picked.rows[balance] = np.concatenate([[0], 1 + np.searchsorted(used, rows)]).astype(int)
    return members, picked


def _only(near: Near, keep: NDArray[np.bool_]) -> Near:
    return Near(*(getattr(near, name)[keep] for name in Near.__dataclass_fields__))


def _reach_mired(allowed: Allowed) -> tuple[float, float]:
    """How far from its aim a light may end and still be worth the sheets, cool and warm."""
    eased = allowed.eased()
    low, high = -eased.mired_low, eased.mired_high
    beyond = NEAR_MISS - 1.0
    return -low - min(beyond * low, MOST_BEYOND_MIRED), high + min(beyond * high, MOST_BEYOND_MIRED)


def _region(aims: Sequence[Aim], allowed: Allowed) -> Region:
    """What holds every colour within reach of any of the aims."""
    low, high = _reach_mired(allowed)
    reach = NEAR_MISS * max(allowed.duv, 1e-6)
    corners, duvs = [], []
    for aim in aims:
        if not math.isfinite(aim.mired):
            corners += [aim.uv[None] - reach, aim.uv[None] + reach]
            duvs += [-1.0, 1.0]
            continue
        mireds = np.clip(aim.mired + np.linspace(low, high, 9), 10, 1000)
        sides = aim.duv + reach * np.array([-1.0, 0.0, 1.0])
        corners.append(uv_of_mired_duv(mireds[:, None], sides[None, :]).reshape(-1, 2))
        duvs += [aim.duv - reach, aim.duv + reach]
    return Region(np.concatenate(corners), duv_low=min(duvs), duv_high=max(duvs))


def _pick(
    near: Near, light: SceneLight, aim: Aim, weights: Weights, pool: int
) -> tuple[Ints, _Costs]:
    """The cheapest stacks of every number of sheets, and what they and the others cost.

    Of a number of sheets that has enough inside the tolerance, those outside are dearer by
    what it costs to be outside.
    """
    window, layers = _window(near, light.allowed, aim), near.layers
    miss = np.hypot(*(near.uv[window] - aim.uv).T)
    strain = strain_of(aim, light.allowed, near.mired[window], near.duv[window], lambda: miss)
    useful = np.arange(len(window))
    if not light.ties_levels:
        inside = strain <= 1.0
        counts = np.bincount(layers[window[inside]], minlength=layers.max(initial=0) + 1)
        useful = np.flatnonzero(inside | (counts < pool)[layers[window]])
    rows, miss, strain = window[useful], miss[useful], strain[useful]
    loss = -np.log2(near.luminous[rows])
    edge = PRICE_OF_THE_EDGE_UV / PRICE_PER_LAYER_UV * strain**2
    off = off_cost(miss, light.weight)
    cost = np.where(strain <= 1.0, edge, off) + weights.stops * loss
    cost += light.per_sheet(weights) * layers[rows]
    steps = np.minimum(loss / LEVEL_STEP_STOPS, _STEPS - 1).astype(int)
    group = layers[rows] * _STEPS + (steps if light.ties_levels else 0)
    kept, costs = _cheapest(rows, cost, group, pool)
    if len(useful) < len(window):
        none = np.zeros(1)
        outside = Left(np.full(1, OFF_COLOUR * light.weight), none, none)
        costs = replace(costs, left=costs.left.and_more(outside))
    return kept, costs


def _window(near: Near, allowed: Allowed, aim: Aim) -> Ints:
    """The stacks that end within reach of an aim."""
    reach = NEAR_MISS * max(allowed.duv, 1e-6)
    if not math.isfinite(aim.mired):
        return np.flatnonzero(np.hypot(*(near.uv - aim.uv).T) <= reach)
    low, high = _reach_mired(allowed)
    span = near.between(aim.mired + low, aim.mired + high)
    return np.asarray(np.flatnonzero(np.abs(near.duv[span] - aim.duv) <= reach) + span.start)


def _cheapest(rows: Ints, cost: Floats, group: Ints, pool: int) -> tuple[Ints, _Costs]:
    """The `pool` cheapest of each group.

    group : number of sheets and step of loss
    """
    if not len(rows):
        return rows, _Costs()
    kept = np.zeros(len(rows), dtype=bool)
    spare, steps = [], []
    for each in np.unique(group):
        same = np.flatnonzero(group == each)
        if len(same) > pool:
            order = np.argpartition(cost[same], pool)
            spare.append(float(cost[same[order[pool]]]))
            steps.append(each % _STEPS)
            same = same[order[:pool]]
        kept[same] = True
    low = np.array(steps, dtype=float) * LEVEL_STEP_STOPS
    left = Left(np.array(spare), low, low + LEVEL_STEP_STOPS)
    return rows[kept], _Costs(float(cost[kept].min()), left)
