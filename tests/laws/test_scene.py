"""The best of a scene is the best of all: compared with every combination of small scenes."""

from __future__ import annotations

import itertools
import math
from collections.abc import Hashable
from dataclasses import dataclass

import numpy as np
import pytest

from evencast.colour import mired_duv, uv, white_uv, xyz
from evencast.filters import generic, generic_names
from evencast.lights import builtin
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed
from evencast.quantities import Floats
from evencast.solver import aim_at_uv
from evencast.solver.best import Ints
from evencast.solver.enumerate import Kit
from evencast.solver.prices import Weights
from evencast.solver.scene import Assignment, Scene, Solved, Solver
from evencast.solver.scene_light import LevelAim, SceneLight, Seen, Trim, Way

LAMPS = (
    "tungsten 3200 K",
    "daylight D65",
    "daylight D55",
    "cool white tube FL2",
    "daylight tube FL5",
    "LED phosphor 2700 K B1",
    "LED phosphor 5100 K B4",
    "three-band tube FL11",
    "tungsten 2856 K",
)
ROLES = ("key", "fill", "background", "practical", "other")
BALANCES_K = (2900.0, 3200.0, 3700.0, 4300.0, 4800.0, 5600.0, 6500.0)
CAPACITY = 6.0
"""What one sheet of the tests' own stock holds, in the units of its pieces."""


class Shelf:
    """A stock of sheets that each hold CAPACITY, a piece on one of them alone."""

    def __init__(self, sheets: Ints) -> None:
        self._sheets = sheets

    def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
        """Whether they can be shared out, all ways tried."""
        left = [CAPACITY] * (int(self._sheets[filter_index]) + more)
        return self._placed(sorted((float(str(each)) for each in pieces), reverse=True), left)

    def _placed(self, pieces: list[float], left: list[float]) -> bool:
        if not pieces:
            return True
        first, *rest = pieces
        return any(
            self._placed(rest, [*left[:place], room - first, *left[place + 1 :]])
            for place, room in enumerate(left)
            if first <= room and room not in left[:place]
        )

    def area_m2(self, piece: Hashable) -> float:
        """Size of a piece."""
        return float(str(piece))

    def room_m2(self, filter_index: int, more: int) -> float:
        """What all sheets hold."""
        return CAPACITY * (int(self._sheets[filter_index]) + more)


def random_scene(seed: int, *, lights: int, filters: int, layers: int, balances: int) -> Scene:
    """A scene of known spectra whose stock binds: one sheet of most filters, some of two."""
    draw = np.random.default_rng(seed)
    names = draw.choice([n for n in generic_names() if "frost" not in n], filters, replace=False)
    sheets = np.array([generic(str(name)).transmittance for name in names])
    sheet_count = draw.integers(0, 3, filters)
    at_k = draw.choice(BALANCES_K, balances, replace=False)
    chosen = [builtin(str(name)) for name in draw.choice(LAMPS, lights)]

    made = []
    for number, lamp in enumerate(chosen):
        role = ROLES[int(draw.integers(len(ROLES)))] if number else "key"
        openings = int(draw.integers(1, 4))
        level = None
        if draw.random() < 0.6:
            level = LevelAim(
                over_stops=float(draw.uniform(-1, 3)),
                wanted_stops=float(draw.uniform(-2, 1)),
                allowed_stops=float(draw.choice([0.25, 0.5])),
                against_key=number > 0,
                only_under=number == 0,
            )
        trims = (Trim(), Trim("scrim", 0.5, 1.0), Trim("scrim", 1.0, 1.0))
        ways = [Way("leave", lamp.power, lamp.power[None], layers)]
        if draw.random() < 0.4:
            other = builtin(str(draw.choice(LAMPS)))
            ways.append(
                Way("swap", other.power, other.power[None], layers, "bulb", -0.3, 9.0, ("bulb", 2))
            )
        views = []
        if number and draw.random() < 0.4:
            seen = builtin("daylight D65")
            views.append(
                Seen(
                    name=f"view {number}",
                    power=seen.power,
                    members=seen.power[None],
                    allowed=DEFAULT_ALLOWED["view"],
                    aims=[aim_at_uv(f"{k:.0f}K", white_uv(float(k))) for k in at_k],
                    level=LevelAim(float(draw.uniform(1, 4)), 2.0, 0.5, against_key=False),
                )
            )
        if number and draw.random() < 0.3:
            ways.append(Way("switch off", lamp.power, lamp.power[None], 0, minutes=1.0))
        made.append(
            SceneLight(
                name=f"light {number}",
                allowed=DEFAULT_ALLOWED[role],  # type: ignore[index]
                aims=[aim_at_uv(f"{k:.0f}K", white_uv(float(k))) for k in at_k],
                ways=ways,
                ways_at=[range(len(ways))] * balances,
                pieces=(float(draw.choice([1.0, 2.0, 4.0])),) * openings,
                openings=openings,
                area_m2=float(draw.uniform(0.02, 2.0)),
                minutes_per_sheet=float(draw.uniform(1, 20)),
                most_loss_stops=3.0,
                level=level,
                trims=trims if draw.random() < 0.5 else (Trim(),),
                views=views,
                is_key=number == 0,
                weight=1.0 if number else 2.0,
            )
        )
    return Scene(
        kit=Kit(sheets, layers=layers),
        sheets=[each[None] for each in sheets],
        lights=made,
        balances=[0.0] * balances,
        stock=Shelf(sheet_count),
        at_hand={"bulb": 3},
        key=0,
    )


@dataclass(frozen=True)
class Candidate:
    """One thing to do with a light, worked out anew, one at a time."""

    cost: float
    stack: tuple[int, ...]
    level: float
    off: bool
    bulbs: int


def candidates(scene: Scene, light: SceneLight, balance: int) -> list[Candidate]:
    """Every way, stack and trim of a light that may be hung."""
    aim_mired, aim_duv = mired_duv(light.aims[balance].uv)
    sheets, found = scene.kit.sheets, []
    weights = Weights()
    for way, size in itertools.product(light.ways, range(scene.kit.layers + 1)):
        if size > way.layers:
            continue
        for stack in itertools.combinations_with_replacement(range(len(sheets)), size):
            power = way.power * np.prod(sheets[list(stack)], axis=0)
            loss = -math.log2(xyz(power)[1] / xyz(way.power)[1])
            at_mired, at_duv = mired_duv(uv(power))
            off = float(at_mired - aim_mired), float(at_duv - aim_duv)
            strain = _strain(light.allowed, *off)
            if size and (loss > light.most_loss_stops or not _worth_hanging(light.allowed, *off)):
                continue
            miss = float(np.hypot(*(uv(power) - light.aims[balance].uv)))
            off_colour = light.weight * (40.0 + min(miss, 0.05) / 0.0004)
            colour = 0.75 * strain**2 if strain <= 1 else off_colour
            if way.move == "switch off":
                colour = 12.0 * (1 + len(light.views))
            else:
                colour += sum(_view(view, balance, sheets[list(stack)]) for view in light.views)
            work = weights.minutes * way.minutes + weights.stops * loss
            work += size * (
                light.openings + light.area_m2 + weights.minutes * light.minutes_per_sheet
            )
            for trim in light.trims:
                price = weights.minutes * trim.minutes + 0.05 if trim.what else 0.0
                found.append(
                    Candidate(
                        colour + work + price,
                        stack,
                        way.level_stops - loss - trim.stops,
                        way.move == "switch off",
                        2 if way.move == "swap" else 0,
                    )
                )
    return found


def _view(view: Seen, balance: int, sheets: Floats) -> float:
    """What a view's colour and level cost through the sheets of its window."""
    through, aim = view.power * np.prod(sheets, axis=0), view.aims[balance]
    at_mired, at_duv = mired_duv(uv(through))
    aim_mired, aim_duv = mired_duv(aim.uv)
    strain = _strain(view.allowed, float(at_mired - aim_mired), float(at_duv - aim_duv))
    colour = min(0.75 * strain**2, 20.0)
    if strain > 1:
        colour = 40.0 + min(float(np.hypot(*(uv(through) - aim.uv))), 0.05) / 0.0004
    if view.level is None:
        return colour
    over = view.level.over_stops + math.log2(xyz(through)[1] / xyz(view.power)[1])
    off = abs(over - view.level.wanted_stops) - view.level.allowed_stops
    return colour + 20.0 * max(off, 0.0)


def _worth_hanging(allowed: Allowed, mired: float, duv: float) -> bool:
    """Within three tolerances, of mired no more than 30 beyond and of no side less than 5."""
    cool, warm = max(-allowed.mired_low, 5.0), max(allowed.mired_high, 5.0)
    low, high = -cool - min(2 * cool, 30.0), warm + min(2 * warm, 30.0)
    return low <= mired <= high and abs(duv) <= 3 * allowed.duv


def _strain(allowed: Allowed, mired: float, duv: float) -> float:
    if not math.isfinite(mired):
        return math.inf
    side = -allowed.mired_low if mired < 0 else allowed.mired_high
    return max(abs(mired) / max(side, 1e-2), abs(duv) / allowed.duv)


def least_cost(scene: Scene) -> float:
    """The least cost over every balance and every combination, by looking at all of them."""
    return min(_least_at(scene, balance) for balance in range(len(scene.balances)))


def _least_at(scene: Scene, balance: int) -> float:
    lists = [_undominated(candidates(scene, light, balance)) for light in scene.lights]
    shape = tuple(len(each) for each in lists)
    cost: Floats = np.zeros(shape)
    for number, each in enumerate(lists):
        cost = cost + _along(number, shape, [c.cost for c in each])
        cost = cost + _level_cost(scene, number, lists, shape)
    for place in np.argsort(cost, axis=None):
        at = np.unravel_index(place, shape)
        chosen = [lists[number][index] for number, index in enumerate(at)]
        if _possible(scene, chosen):
            return float(cost[at])
    raise AssertionError("the bare lights are always possible")


def _undominated(every: list[Candidate]) -> list[Candidate]:
    """Of candidates alike in stack, level and bulbs the cheapest."""
    best: dict[tuple[object, ...], Candidate] = {}
    for each in every:
        kind = (each.stack, round(each.level, 9), each.off, each.bulbs)
        if kind not in best or each.cost < best[kind].cost:
            best[kind] = each
    return list(best.values())


def _along(number: int, shape: tuple[int, ...], values: list[float]) -> Floats:
    return np.array(values).reshape([-1 if n == number else 1 for n in range(len(shape))])


def _level_cost(
    scene: Scene, number: int, lists: list[list[Candidate]], shape: tuple[int, ...]
) -> Floats:
    aim = scene.lights[number].level
    if aim is None:
        return np.zeros(())
    level = _along(number, shape, [each.level for each in lists[number]])
    if aim.against_key:
        level = level - _along(0, shape, [each.level for each in lists[0]])
    miss = aim.over_stops + level - aim.wanted_stops
    under = np.maximum(-miss - aim.allowed_stops, 0)
    over = np.zeros_like(miss) if aim.only_under else np.maximum(miss - aim.allowed_stops, 0)
    lit = _along(number, shape, [0.0 if each.off else 1.0 for each in lists[number]])
    result: Floats = 20.0 * (under + over) * lit
    return result


def _possible(scene: Scene, chosen: list[Candidate]) -> bool:
    if sum(each.bulbs for each in chosen) > scene.at_hand["bulb"]:
        return False
    for index in range(len(scene.kit.sheets)):
        pieces: tuple[Hashable, ...] = ()
        for light, each in zip(scene.lights, chosen, strict=True):
            pieces += light.pieces * each.stack.count(index)
        if not scene.stock.fits(index, pieces, 0):
            return False
    return True


def is_like_brute_force(scene: Scene) -> Solved:
    solved = Solver(scene).solve()
    assert solved.gap == 0.0
    assert solved.best.cost == pytest.approx(least_cost(scene), abs=2e-3)
    assert solved.best.cost == pytest.approx(cost_of(scene, solved.best), abs=2e-3)
    return solved


def cost_of(scene: Scene, best: Assignment) -> float:
    """What the assignment costs that is handed out, worked out anew from its stacks."""
    chosen = []
    for light, options, row, trim in zip(
        scene.lights, best.options, best.rows, best.trims, strict=True
    ):
        way = light.ways[int(options.way[row])]
        stack = tuple(int(each) for each in options.found.members[row] if each < len(scene.sheets))
        taken = way.level_stops - light.trims[trim].stops
        chosen.append(
            min(
                (
                    each
                    for each in candidates(scene, light, best.balance)
                    if each.stack == stack
                    and each.off == way.is_off
                    and bool(each.bulbs) == (way.move == "swap")
                    and each.level
                    == pytest.approx(taken - float(options.found.loss_stops[row]), abs=1e-4)
                ),
                key=lambda each: each.cost,
            )
        )
    assert _possible(scene, chosen)
    lists = [[each] for each in chosen]
    levels = [_level_cost(scene, n, lists, (1,) * len(lists)) for n in range(len(lists))]
    return sum(each.cost for each in chosen) + float(sum(np.sum(each) for each in levels))


SHORT, LONG = 40, 400


@pytest.mark.parametrize("seed", range(SHORT))
def test_the_best_of_a_small_scene_is_the_best_of_all(seed: int) -> None:
    """Three lights, seven filters, two layers, three balances; stock, bulbs and levels bind."""
    is_like_brute_force(random_scene(seed, lights=3, filters=7, layers=2, balances=3))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(SHORT, LONG))
def test_many_more_small_scenes(seed: int) -> None:
    is_like_brute_force(random_scene(seed, lights=3, filters=7, layers=2, balances=3))


@pytest.mark.parametrize("seed", range(1000, 1004))
def test_four_lights_and_eight_filters(seed: int) -> None:
    is_like_brute_force(random_scene(seed, lights=4, filters=8, layers=2, balances=4))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(1004, 1060))
def test_many_more_of_four_lights_and_eight_filters(seed: int) -> None:
    is_like_brute_force(random_scene(seed, lights=4, filters=8, layers=2, balances=4))


@pytest.mark.parametrize("seed", range(2000, 2012))
def test_pools_that_are_too_narrow_are_widened(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """With one stack of every number of sheets to begin with, the best is found all the same."""
    monkeypatch.setattr("evencast.solver.scene.POOL", 1)
    monkeypatch.setattr("evencast.solver.scene.WIDEST", 64)
    is_like_brute_force(random_scene(seed, lights=3, filters=7, layers=2, balances=3))


def test_the_scenes_are_hard_enough() -> None:
    """In most of them something runs out, or the cheapest balance by itself is not the best."""
    short = plain = 0
    for seed in range(20):
        solver = Solver(random_scene(seed, lights=3, filters=7, layers=2, balances=3))
        solved = solver.solve()
        short += bool(solved.best.short)
        least = min(range(3), key=solver.least)
        plain += solved.best.balance == least and solved.best.cost < solver.least(least) + 1e-6
    assert short >= 10
    assert plain <= 10
