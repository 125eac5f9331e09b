"""The whole scene: one balance, and for every light a way and a stack, within the stock.

At a fixed balance the lights are tied by the sheets they share, by what is at hand to swap,
and by levels that hold a ratio. Choosing one option for every light is an integer programme,
solved to proven optimality by HiGHS; how pieces lie on sheets stays a question to `fits`, and
each "no" comes back as a cut. The cheapest options of all lights together bound a balance from
below, so balances are taken in the order of their bounds until none can be better.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from evencast.cores import one_core_products
from evencast.quantities import Floats
from evencast.solver.assign import Choice, NothingFitsError, Program, Relaxed
from evencast.solver.best import Ints
from evencast.solver.enumerate import Kit
from evencast.solver.options import POOL, Options, options
from evencast.solver.patience import Patience
from evencast.solver.prices import OFF_LEVEL_PER_STOP, Weights
from evencast.solver.scene_light import SceneLight
from evencast.solver.stock import Cut, Stock, Stockroom

WIDER = 4
"""How much wider a pool becomes where it cannot be shown to hold the best."""

WIDEST = 16 * POOL
VIEW_STOPS = 0.2
"""A stack takes a little more or less from a view than from the window's light."""

MOST_WIDENED = 200
"""So many pools are widened for one scene; what is then still open is told as a gap."""
_TIE = 1e-9

BEST_S, BESIDE_S = 30.0, 20.0
"""How long the best of a scene is looked for, and all that is told beside it together."""

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All that a plan asks.

    sheets   : each (MEMBERS or 1, 81), what the kit's sheets may be
    balances : what each balance costs by itself, such as for a tint; infinite where it is only
               to be compared
    stock    : what there is of every filter
    at_hand  : how many there are of what ways use
    key      : index of the light that levels are set against
    """

    kit: Kit
    sheets: Sequence[Floats]
    lights: Sequence[SceneLight]
    balances: Sequence[float]
    stock: Stockroom
    at_hand: Mapping[str, int] = field(default_factory=dict)
    weights: Weights = field(default_factory=Weights)
    key: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Assignment:
    """One option and one trim for every light, at one balance.

    options : by light, those that were to choose from
    rows, trims : by light, the option and the trim that were chosen
    cost, bound : what it costs, and what nothing at this balance can cost less than
    short   : filters of which there was too little for a cheaper choice
    """

    balance: int
    options: Sequence[Options]
    rows: Ints
    trims: Ints
    cost: float
    bound: float
    short: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """The best of a scene, and what it was measured against.

    best     : the cheapest assignment
    bound    : no assignment at any balance costs less
    options  : by balance, then light
    looked_at : balances whose bound did not rule them out
    """

    best: Assignment
    bound: float
    options: Mapping[int, Sequence[Options]]
    looked_at: int

    @property
    def gap(self) -> float:
        """What may at most be gained, as a share of the cost; 0 is proven best."""
        difference = self.best.cost - self.bound
        return 0.0 if difference <= 1e-6 * max(1.0, self.best.cost) else difference / self.best.cost


@dataclass(frozen=True, slots=True, eq=False)
class _Look:
    """What was found at one balance.

    found  : an assignment cheaper than the best so far, if there is one
    bound  : nothing there costs less
    narrow : lights whose pools may still hide something cheaper, and can be widened
    """

    found: Assignment | None
    bound: float
    narrow: tuple[int, ...]


def _at_least(raised: Sequence[float]) -> float:
    """What the relaxed bound changes by at least where any of the lights takes a stack left out,
    and every other light takes one too if that helps."""
    lowered = sum(min(each, 0.0) for each in raised)
    return lowered if lowered < 0 else min(raised, default=math.inf)


class Solver:
    """A scene being solved: its options and the cuts found so far serve every question."""

    def __init__(self, scene: Scene, *, progress: Progress | None = None) -> None:
        self.scene = scene
        self._progress = progress or (lambda what, done, of: None)
        self._cuts: list[Cut] = []
        self._patience = Patience(BEST_S)
        filters, layers = len(scene.kit.sheets), scene.kit.layers
        self._stock = Stock(scene.lights, filters, layers, scene.stock)
        self._pools: dict[tuple[int, int], int] = {}
        self.options = self._all_options()

    def solve(self) -> Solved:
        """The cheapest assignment over all balances that are to choose from.

        Every balance that its bound does not rule out is looked at once; then the pools of those
        that may still hide something cheaper are widened, as long as there is room and time for
        that.
        """
        eligible = [b for b, price in enumerate(self.scene.balances) if math.isfinite(price)]
        bounds = {balance: self.least(balance) for balance in eligible}
        best: Assignment | None = None
        looked = dict[int, _Look]()
        for balance in sorted(eligible, key=bounds.__getitem__):
            if best is not None and (bounds[balance] >= best.cost - _TIE or self._patience.is_over):
                break
            self._progress("balances", len(looked) + 1, len(eligible))
            looked[balance] = self._look_at(balance, best)
            best = looked[balance].found or best
        assert best is not None  # the bare lights are always an answer
        room = MOST_WIDENED
        while True:
            hiding = {
                balance: each
                for balance, each in looked.items()
                if each.bound < best.cost - _TIE and 0 < len(each.narrow) <= room
            }
            if not hiding or self._patience.is_over:
                break
            balance = min(hiding, key=lambda each: hiding[each].bound)
            narrow = hiding[balance].narrow
            room -= len(narrow)
            with one_core_products():
                for number in narrow:
                    self._widen(number, balance)
            looked[balance] = self._look_at(balance, best)
            best = looked[balance].found or best
        bounds |= {b: each.bound for b, each in looked.items()}
        self._patience = Patience(BESIDE_S)
        return Solved(best, min(best.cost, *bounds.values()), self.options, len(looked))

    def cheapest_by(self, weights: Weights) -> Assignment:
        """The cheapest assignment at other prices, of the options that there are."""
        programs = {
            balance: self._program(balance, weights)
            for balance, price in enumerate(self.scene.balances)
            if math.isfinite(price)
        }
        best: Assignment | None = None
        for balance in sorted(programs, key=lambda each: programs[each].least):
            if best is not None and (
                programs[balance].least >= best.cost - _TIE or self._patience.is_over
            ):
                break
            below = math.inf if best is None else best.cost - self._price(balance)
            program = programs[balance]
            found = self._choice(balance, program, self._stock, self._cuts, below=below)
            if found is not None and (best is None or found.cost < best.cost - _TIE):
                best = found
        assert best is not None
        return best

    def least(self, balance: int) -> float:
        """What every light's cheapest option costs there, together: a first bound."""
        least = sum(float(each.cost.min()) for each in self.options[balance])
        return least + self._price(balance)

    def at(self, balance: int) -> Assignment:
        """The cheapest assignment at one balance."""
        found = self._choice(balance, self._program(balance, None), self._stock, self._cuts)
        assert found is not None  # the bare lights are always a choice
        return found

    def with_one_more(self, index: int, balance: int, *, below: float) -> Assignment | None:
        """The cheapest assignment at one balance with a sheet more of a filter than there is; None
        where it is not cheaper than `below`."""
        program, price = self._program(balance, None), self._price(balance)
        if program.least + price >= below:
            return None
        stock = self._stock.with_more({index: 1})
        found = self._choice(balance, program, stock, [], below=below - price)
        return found if found is not None and found.cost < below else None

    def inside_together(self, balance: int, lights: Sequence[int]) -> bool:
        """Whether all these lights can be inside their tolerance at a balance, with the stock
        that there is; the others are left bare."""
        scene = self.scene
        given = []
        for number, each in enumerate(self.options[balance]):
            inside, bare = each.inside, each.found.layers == 0
            wanted = inside if number in lights else bare
            if not wanted.any():
                return False
            given.append(each.rows(np.flatnonzero(wanted)))
        unlit = [replace(light, level=None, views=()) for light in scene.lights]
        program = Program(unlit, given, scene.at_hand, None, scene.weights, self._patience)
        if program.cheapest_of_each(self._stock) is not None:
            return True
        try:
            relaxed = program.relaxed(self._stock, self._cuts)
        except NothingFitsError:
            return False
        return program.best(self._stock, self._cuts, relaxed, below=math.inf) is not None

    def _choice(
        self,
        balance: int,
        program: Program,
        stock: Stock,
        cuts: list[Cut],
        *,
        below: float = math.inf,
    ) -> Assignment | None:
        """The cheapest assignment at a balance; None where it is not cheaper than `below`, which
        leaves the balance's own price out."""
        choice = program.cheapest_of_each(stock)
        if choice is None:
            choice = program.best(stock, cuts, program.relaxed(stock, cuts), below=below)
        return None if choice is None else self._assignment(balance, program, choice)

    def _look_at(self, balance: int, best: Assignment | None) -> _Look:
        """The cheapest at a balance if it is cheaper than the best so far, and what that proves."""
        price = self._price(balance)
        below = (math.inf if best is None else best.cost) - price
        program = self._program(balance, None)
        choice = program.cheapest_of_each(self._stock)
        if choice is not None:
            at_once = self._assignment(balance, program, choice)
            return _Look(at_once if choice.cost < below - _TIE else None, at_once.bound, ())
        relaxed = program.relaxed(self._stock, self._cuts)
        if relaxed.bound < below - _TIE:
            choice = program.best(self._stock, self._cuts, relaxed, below=below)
        cost = below if choice is None else min(below, choice.cost)
        narrow = self._too_narrow(balance, relaxed, cost)
        proven = cost if choice is None else choice.bound
        least = min(proven, relaxed.bound + _at_least(list(narrow.values())))
        found = None
        if choice is not None and choice.cost < below - _TIE:
            found = self._assignment(balance, program, choice)
        able = tuple(each for each in narrow if self._pool(each, balance) < WIDEST)
        return _Look(found, least + price, able)

    def _too_narrow(self, balance: int, relaxed: Relaxed, cost: float) -> dict[int, float]:
        """Lights for which a stack left out might still make a cheaper choice, and by how much
        such a stack would raise the relaxed bound at least; negative where it may lower it."""
        narrow = {}
        for number, each in enumerate(self.options[balance]):
            raised = each.left.raises(float(relaxed.per_stop[number])) - VIEW_STOPS * sum(
                OFF_LEVEL_PER_STOP for view in self.scene.lights[number].views if view.level
            )
            raised += float(each.cost.min() - relaxed.worth[number])
            if raised < cost - relaxed.bound - 1e-7:
                narrow[number] = raised
        return narrow

    def _program(self, balance: int, weights: Weights | None) -> Program:
        scene, given = self.scene, list(self.options[balance])
        if weights is not None:
            pairs = zip(given, scene.lights, strict=True)
            given = [each.repriced(light, weights) for each, light in pairs]
        prices = weights or scene.weights
        return Program(scene.lights, given, scene.at_hand, scene.key, prices, self._patience)

    def _assignment(self, balance: int, program: Program, choice: Choice) -> Assignment:
        price = self._price(balance)
        return Assignment(
            balance,
            program.options,
            choice.rows,
            choice.trims,
            choice.cost + price,
            choice.bound + price,
            choice.short,
        )

    def _price(self, balance: int) -> float:
        """What a balance costs by itself; nothing where it is only to be compared."""
        price = self.scene.balances[balance]
        return price if math.isfinite(price) else 0.0

    def _pool(self, number: int, balance: int) -> int:
        return self._pools.get((number, balance), POOL)

    def _widen(self, number: int, balance: int) -> None:
        pool = self._pools[number, balance] = self._pool(number, balance) * WIDER
        scene, light = self.scene, self.scene.lights[number]
        wider = options(scene.kit, scene.sheets, light, scene.weights, pool=pool, at=[balance])
        self.options[balance][number] = wider[balance]

    def _all_options(self) -> dict[int, list[Options]]:
        scene, lights = self.scene, self.scene.lights
        by_light: list[dict[int, Options]] = []
        with one_core_products():
            for number, light in enumerate(lights, 1):
                by_light.append(options(scene.kit, scene.sheets, light, scene.weights, pool=POOL))
                self._progress("lights", number, len(lights))
        return {b: [each[b] for each in by_light] for b in range(len(scene.balances))}
