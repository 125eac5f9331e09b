"""The variables and rows of a scene's programme at one balance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.options import Options
from evencast.solver.prices import OFF_LEVEL_PER_STOP, TRIM, Weights
from evencast.solver.scene_light import LevelAim, SceneLight
from evencast.solver.stock import Cut, Group, Limit


@dataclass(frozen=True, slots=True, eq=False)
class Ends:
    """Rows that may not exceed their ends: matrix (rows, variables), most (rows,)."""

    matrix: Any
    most: Floats


class Table:
    """Columns: the useful options of every light, its trims, then what levels are off.

    useful : by light which options there are; None for all
    """

    def __init__(
        self,
        lights: Sequence[SceneLight],
        options: Sequence[Options],
        weights: Weights,
        useful: Sequence[NDArray[np.bool_]] | None,
    ) -> None:
        self._lights = lights
        self._options = options
        self.cost: list[float] = []
        self.whole: list[bool] = []
        self._rows: list[Ints] = []
        self._columns: list[Ints] = []
        self._trims: list[Ints] = []
        self._entries: list[tuple[Ints, Floats]] = []
        self._most: list[float] = []
        self._stops: list[dict[int, float]] = []
        for number, each in enumerate(options):
            rows = np.arange(len(each.cost)) if useful is None else np.flatnonzero(useful[number])
            self._rows.append(rows)
            self._columns.append(self._variables(each.cost[rows].tolist()))
        for light in lights:
            prices = [
                weights.minutes * each.minutes + TRIM * bool(each.what) for each in light.trims
            ]
            self._trims.append(self._variables(prices if len(prices) > 1 else []))

    def _variables(self, costs: list[float], *, whole: bool = True) -> Ints:
        first = len(self.cost)
        self.cost += costs
        self.whole += [whole] * len(costs)
        return np.arange(first, len(self.cost))

    @property
    def one_each(self) -> Any:
        """Rows that add up to one: each light's options, then its trims."""
        return _sparse([*self._columns, *filter(len, self._trims)], None, len(self.cost))

    def ends(self) -> Ends:
        """The other rows."""
        columns, values = [each[0] for each in self._entries], [each[1] for each in self._entries]
        return Ends(_sparse(columns, values, len(self.cost)), np.array(self._most))

    def upper(self) -> Floats:
        """The greatest value of each variable."""
        return np.where(self.whole, 1.0, np.inf)

    def by_light(self, values: Floats) -> list[Floats]:
        """What belongs to the options of each light."""
        return [values[columns] for columns in self._columns]

    def per_stop(self, marginals: Floats) -> Floats:
        """By how much more a light's option costs, relaxed, for each stop that its sheets take.
        [(lights,)]

        marginals : of the rows of `ends`, 0 or less
        """
        result = np.zeros(len(self._lights))
        for marginal, stops in zip(marginals, self._stops, strict=True):
            for number, sign in stops.items():
                result[number] -= marginal * sign
        return result

    def add_levels(self, key: int | None) -> None:
        """What every judged level, of lights and of views, is too dark and too bright."""
        for number, light in enumerate(self._lights):
            if light.level is not None:
                self._add_level(light.level, number, None, key)
            for place, view in enumerate(light.views):
                if view.level is not None:
                    self._add_level(view.level, number, place, key)

    def add_limits(self, limits: Sequence[Limit]) -> None:
        """No more of a filter than there is."""
        by_filter: dict[int, list[int]] = {}
        for number, limit in enumerate(limits):
            by_filter.setdefault(limit.filter, []).append(number)
        columns: list[list[Ints]] = [[] for _ in limits]
        values: list[list[Floats]] = [[] for _ in limits]
        for light, own in enumerate(self._columns):
            for filter_index, places, counts in self._uses(light):
                for number in by_filter.get(filter_index, ()):
                    weight = limits[number].weights[light]
                    if weight > 0:
                        columns[number].append(own[places])
                        values[number].append(np.asarray(weight * counts, dtype=float))
        for number, limit in enumerate(limits):
            if columns[number]:
                self._add(
                    np.concatenate(columns[number]), np.concatenate(values[number]), limit.most
                )

    def _uses(self, light: int) -> Iterator[tuple[int, Ints, Ints]]:
        """Every filter that a light's options use: which of them, and how many sheets each."""
        members = self._options[light].found.members[self._rows[light]]
        place = np.repeat(np.arange(len(members)), members.shape[1])
        keys, counts = np.unique(members.ravel() * len(members) + place, return_counts=True)
        filters, places = np.divmod(keys, max(len(members), 1))
        present, starts = np.unique(filters, return_index=True)
        for filter_index, part in zip(
            present, np.split(np.arange(len(keys)), starts[1:]), strict=True
        ):
            yield int(filter_index), places[part], counts[part]

    def add_cuts(self, cuts: Sequence[Cut]) -> None:
        """Not all groups of a cut together: where they are whole, or one alone, their sum is below
        what is too much; else one of them at least stays below its own."""
        for cut in cuts:
            able = [self._able(cut.filter, each) for each in cut.groups]
            pairs = list(zip(cut.groups, able, strict=True))
            if any(len(each) < group.least for group, each in pairs):
                continue
            if len(pairs) == 1 or all(len(each) == group.least for group, each in pairs):
                columns = np.concatenate([column for each in able for column in each])
                most = sum(group.least for group in cut.groups) - 1
                self._add(columns, np.ones(len(columns)), float(most))
                continue
            below = self._variables([0.0] * len(pairs))
            self._add(below, -np.ones(len(pairs)), -1.0)
            for (group, each), stays in zip(pairs, below, strict=True):
                columns = np.concatenate([*each, [stays]])
                drop = float(len(each) - group.least + 1)
                values = np.concatenate([np.ones(len(columns) - 1), [drop]])
                self._add(columns, values, float(len(each)))

    def _able(self, filter_index: int, group: Group) -> list[Ints]:
        """By light of a group that has any, the options with so many sheets of a filter."""
        found = [
            self._columns[number][self._counts(number, filter_index) >= group.count]
            for number in group.lights
        ]
        return [each for each in found if len(each)]

    def add_at_hand(self, at_hand: Mapping[str, int]) -> None:
        """What is swapped in is at hand."""
        for name, count in at_hand.items():
            columns, values = [], []
            for number, light in enumerate(self._lights):
                taken = [
                    each.uses[1] if each.uses and each.uses[0] == name else 0 for each in light.ways
                ]
                used = np.array(taken, dtype=float)[self._options[number].way[self._rows[number]]]
                columns.append(self._columns[number][used > 0])
                values.append(used[used > 0])
            self._add(np.concatenate(columns), np.concatenate(values), float(count))

    def read(self, values: Floats) -> tuple[Ints, Ints]:
        """By light the option and the trim that were chosen."""
        rows = [
            int(rows[np.argmax(values[columns])])
            for rows, columns in zip(self._rows, self._columns, strict=True)
        ]
        trims = [int(np.argmax(values[each])) if len(each) else 0 for each in self._trims]
        return np.array(rows, dtype=int), np.array(trims, dtype=int)

    def cost_of(self, rows: Ints, trims: Ints, values: Floats) -> float:
        """What a choice costs; values : of all variables, for what levels are off."""
        pairs = zip(self._options, rows, strict=True)
        cost = sum(float(each.cost[row]) for each, row in pairs)
        pairs_of_trims = zip(self._trims, trims, strict=True)
        cost += sum(self.cost[each[trim]] for each, trim in pairs_of_trims if len(each))
        off = np.where(self.whole, 0.0, self.cost)
        return float(cost + off @ values)

    def _counts(self, number: int, filter_index: int) -> Ints:
        members = self._options[number].found.members[self._rows[number]]
        counts: Ints = (members == filter_index).sum(axis=1)
        return counts

    def _add(
        self, columns: Ints, values: Floats, most: float, stops: dict[int, float] | None = None
    ) -> None:
        """One row; stops : by light, what a stop that its sheets take adds to it."""
        if len(columns):
            self._entries.append((columns, values))
            self._most.append(most)
            self._stops.append(stops or {})

    def _change(self, number: int, view: int | None) -> tuple[Ints, Floats]:
        """What a light's options and trims do to its level, or to a view's. [stop]"""
        options, rows = self._options[number], self._rows[number]
        if view is not None:
            return self._columns[number], -options.view_loss_stops[view][rows]
        trims = self._trims[number]
        taken = np.array([-each.stops for each in self._lights[number].trims[: len(trims)]])
        return (
            np.concatenate([self._columns[number], trims]),
            np.concatenate([options.level_stops[rows], taken]),
        )

    def _add_level(self, aim: LevelAim, number: int, view: int | None, key: int | None) -> None:
        columns, values = self._change(number, view)
        if aim.against_key and key is not None and key != number:
            of_key, by_key = self._change(key, None)
            columns, values = np.concatenate([columns, of_key]), np.concatenate([values, -by_key])
        is_off = np.array([each.is_off for each in self._lights[number].ways])
        off = self._columns[number][is_off[self._options[number].way[self._rows[number]]]]
        columns = np.concatenate([columns, off])
        stops = {number: 1.0}
        if aim.against_key and key is not None and key != number:
            stops[key] = -1.0
        under = self._variables([OFF_LEVEL_PER_STOP], whole=False)
        least = aim.wanted_stops - aim.allowed_stops - aim.over_stops
        # one option and one trim, its own and the key's: a light that is off is off no level
        largest = abs(least) + 2.0 * aim.allowed_stops + 4.0 * np.abs(values).max(initial=0.0)
        free = np.full(len(off), largest)
        self._add(np.concatenate([columns, under]), -np.concatenate([values, free, [1.0]]), -least)
        if aim.only_under:
            return
        over = self._variables([OFF_LEVEL_PER_STOP], whole=False)
        most = aim.wanted_stops + aim.allowed_stops - aim.over_stops
        opposite = {light: -sign for light, sign in stops.items()}
        values = np.concatenate([values, -free, [-1.0]])
        self._add(np.concatenate([columns, over]), values, most, opposite)


def _sparse(columns: Sequence[Ints], values: Sequence[Floats] | None, width: int) -> Any:
    """Rows of a sparse matrix; entries of one column in a row add up."""
    from scipy.sparse import coo_array

    rows = np.repeat(np.arange(len(columns)), [len(each) for each in columns])
    flat = np.concatenate(columns) if columns else np.zeros(0, int)
    entries = np.ones(len(flat)) if values is None else np.concatenate([*values, np.zeros(0)])
    return coo_array((entries, (rows, flat)), shape=(len(columns), width)).tocsr()
