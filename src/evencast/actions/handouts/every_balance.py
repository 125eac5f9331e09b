"""The best stacks for every light of a plan at many balances: help for when nothing can be asked.

Each light is taken by itself, as the plan sets its lamp: its colour alone is judged, and the
sheets are those of the kit, however many of them there are.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from evencast.actions.aims import aim_of, look_in
from evencast.actions.cautions import cautions
from evencast.actions.handouts.job import Part
from evencast.actions.hanging import entry_named
from evencast.actions.hung import sheets_of
from evencast.actions.kit import LoadedKit
from evencast.actions.reading import rounded
from evencast.actions.ways import Moves
from evencast.colour import uv, uv_of_mired_duv, white_uv
from evencast.errors import EvencastError
from evencast.filters import Filter, stack
from evencast.lights import Light
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded, quoted
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver import Aim, Evaluated, aim_at_uv
from evencast.solver.many_aims import best_at_each
from evencast.solver.scene_light import Way

BALANCES_K = tuple(range(2800, 6501, 50))
MOST = 3
"""Stacks told at each balance."""

KEPT = ("swap", "dim")
"""Moves of the plan that stay as they are when the balance changes."""


@dataclass(frozen=True, slots=True)
class Stack:
    """One stack in front of one light, in the numbers of `match`.

    residual_mired : left against the aim, + warmer; None without a CCT
    residual_duv   : + greener
    within         : whether that is inside the tolerance
    """

    filters: list[str]
    residual_mired: float | None
    residual_duv: float
    loss_stops: float
    within: bool


@dataclass(frozen=True, slots=True)
class AtBalance:
    """A light at one balance.

    dial_k : what it is dialled to first; None where it is not
    stacks : best first; none where the light would have to be no white that light can have
    """

    balance_k: int
    dial_k: float | None
    stacks: list[Stack]


@dataclass(frozen=True, slots=True)
class EveryBalance:
    """A light at every balance.

    layers   : most sheets in a stack; 0 where its moves allow none
    allowed  : its tolerance
    cautions : what to mind with any of the stacks
    """

    layers: int
    allowed: Allowed
    rows: list[AtBalance]
    cautions: list[str]


@dataclass(frozen=True, slots=True, eq=False)
class _Best:
    """The best stacks for a light at one balance."""

    aim: Aim
    way: Way
    lamp: Light
    found: Evaluated


class Searches:
    """Searches of one kit: what is asked for twice, as by two set-ups, is searched for once."""

    def __init__(self, kit: LoadedKit, *, most_loss_stops: float | None) -> None:
        self.filters = kit.searched()
        self._sheets = np.array([each.transmittance for each in self.filters]).reshape(-1, 81)
        self._most_loss_stops = math.inf if most_loss_stops is None else most_loss_stops
        self._found: dict[tuple[object, ...], list[Evaluated]] = {}

    def best(self, way: Way, aims: Sequence[Aim], allowed: Allowed) -> list[Evaluated]:
        """The best stacks for a light treated so, at each aim."""
        places = tuple((*map(float, each.uv), each.mired, each.duv) for each in aims)
        key = (way.power.tobytes(), way.members.tobytes(), way.layers, places, allowed)
        if key not in self._found:
            self._found[key] = best_at_each(
                aims,
                allowed,
                light=way.power,
                light_members=way.members,
                sheets=self._sheets if way.layers else self._sheets[:0],
                sheet_members=[each.members for each in self.filters if way.layers],
                layers=max(way.layers, 1),
                most=MOST,
                most_loss_stops=self._most_loss_stops,
            )
        return self._found[key]


class Lights:
    """The lights of a plan in one set-up, each at every balance."""

    def __init__(self, part: Part, searches: Searches, folder: Path) -> None:
        """The folder is the plan's."""
        self._loaded, self._searches = part.loaded, searches
        self._planned = {folded(each.name): each for each in part.answer.lights}
        self._moves = Moves(part.loaded, folder)
        self._best: dict[str, list[_Best | None]] = {}

    def at_every_balance(self, entry: LightEntry) -> EveryBalance:
        """One light, which is no view through a window of the plan."""
        best = self._best_of(entry)
        minded = [caution for each in best if each for caution in self._cautions(each)]
        return EveryBalance(
            layers=max((each.way.layers for each in best if each), default=0),
            allowed=self._loaded.plan.allowed(entry.role),
            rows=[self._row(at, each) for at, each in zip(BALANCES_K, best, strict=True)],
            cautions=list(dict.fromkeys(minded)),
        )

    def _cautions(self, best: _Best) -> Iterator[str]:
        for row, loss_stops in enumerate(best.found.loss_stops):
            yield from cautions(best.lamp, self._sheets(best.found, row), float(loss_stops))

    def _row(self, balance_k: int, best: _Best | None) -> AtBalance:
        if best is None:
            return AtBalance(balance_k, None, [])
        found, way = best.found, best.way
        stacks = [
            Stack(
                filters=[each.name for each in self._sheets(found, row)],
                residual_mired=rounded(float(found.residual_mired[row]), 3),
                residual_duv=round(float(found.residual_duv[row]), 6),
                loss_stops=round(float(found.loss_stops[row]), 4) + 0.0,
                within=bool(found.within[row]),
            )
            for row in range(len(found.layers))
        ]
        dial_k = way.setting if way.move == "dial" and isinstance(way.setting, float) else None
        return AtBalance(balance_k, dial_k, stacks)

    def _sheets(self, found: Evaluated, row: int) -> Sequence[Filter]:
        """What hangs in a stack; a light that takes no sheets was searched without any."""
        return sheets_of(self._searches.filters, found.members[row]) if found.layers[row] else []

    def _best_of(self, entry: LightEntry) -> list[_Best | None]:
        """By balance; None where there is no such white."""
        name = folded(entry.name)
        if name not in self._best:
            self._best[name] = self._searched(entry)
        return self._best[name]

    def _searched(self, entry: LightEntry) -> list[_Best | None]:
        result: list[_Best | None] = [None] * len(BALANCES_K)
        aims = [self._aim(entry, place) for place in range(len(BALANCES_K))]
        at = [place for place, aim in enumerate(aims) if aim]
        there = [aim for aim in aims if aim]
        allowed = self._loaded.plan.allowed(entry.role)
        for way, lamp, rows in self._ways(entry, there):
            best = self._searches.best(way, [there[row] for row in rows], allowed)
            for row, found in zip(rows, best, strict=True):
                result[at[row]] = _Best(there[row], way, lamp, found)
        return result

    def _ways(self, entry: LightEntry, aims: Sequence[Aim]) -> list[tuple[Way, Light, list[int]]]:
        """How the lamp is set, with the aims it is set so for: dialled to each where it can be,
        else swapped and dimmed as the plan has it."""
        planned = self._planned[folded(entry.name)]
        wanted = planned.swapped_for or planned.dim_stops or None
        ways, ways_at = self._moves.ways(
            entry, self._loaded.lights[entry.name], aims, by_level=planned.dim_stops > 0
        )
        set_so: dict[int, list[int]] = {}
        for row, there in enumerate(ways_at):
            kept = [n for n in there if ways[n][0].move in KEPT and ways[n][0].setting == wanted]
            dialled = [n for n in there if ways[n][0].move == "dial"]
            set_so.setdefault([*kept, *dialled, 0][0], []).append(row)
        return [(*ways[number], rows) for number, rows in set_so.items()]

    def _aim(self, entry: LightEntry, place: int) -> Aim | None:
        """What it shall look like at one of the balances; None where that is no white."""
        balance_k = float(BALANCES_K[place])
        balance = aim_at_uv(f"{balance_k:g}K", white_uv(balance_k))
        plan = self._loaded.plan
        try:
            return aim_of(
                entry,
                balance,
                lambda name: self._looks(name, place),
                lambda name: look_in(plan, name),
            )
        except EvencastError:
            return None

    def _looks(self, name: str, place: int) -> Floats:
        """What a light looks like with its own best stack; a view, behind that of its window."""
        entry = entry_named(self._loaded, name)
        window = self._loaded.plan.light_named(entry.behind or "")
        best = self._best_of(window or entry)[place]
        if best is None:
            raise EvencastError(
                f"{entry.name} can look like no white there",
                where=f"light {quoted(entry.name)}",
                remedy="Take another balance.",
            )
        at_mired = best.aim.mired + best.found.residual_mired[0]
        if window is None and math.isfinite(at_mired):
            return uv_of_mired_duv(at_mired, best.aim.duv + best.found.residual_duv[0])
        power = best.way.power if window is None else self._loaded.lights[entry.name].power
        return np.asarray(uv(power * stack(self._sheets(best.found, 0))))
