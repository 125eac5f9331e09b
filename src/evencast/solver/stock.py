"""What there is of every filter, as far as a scene's programme needs to know.

How pieces lie on sheets is asked through `fits` and never answered here. What follows from its
answers is: how many pieces of one size there can be at all, and which choices are too many.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from evencast.solver.best import Ints
from evencast.solver.scene_light import SceneLight


class Stockroom(Protocol):
    """The sheets at hand, with `more` sheets than there are where that is asked."""

    def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
        """Whether all these pieces can be cut; fewer of them must fit where more do."""

    def area_m2(self, piece: Hashable) -> float:
        """Area of a piece."""

    def room_m2(self, filter_index: int, more: int) -> float:
        """Area of all sheets of a filter; infinite where nobody counts them."""


@dataclass(frozen=True, slots=True)
class Group:
    """So many of these lights, each with that count of sheets before it or more."""

    lights: tuple[int, ...]
    count: int
    least: int


@dataclass(frozen=True, slots=True)
class Cut:
    """Not all of these groups together, of the sheets of one filter."""

    filter: int
    groups: tuple[Group, ...]

    def lacking(self, members: Sequence[Ints]) -> int:
        """How many lights more it takes until these stacks are too many; 0 where they are."""
        counts = [int((stack == self.filter).sum()) for stack in members]
        return sum(
            max(0, each.least - sum(counts[light] >= each.count for light in each.lights))
            for each in self.groups
        )


@dataclass(frozen=True, slots=True)
class Limit:
    """A weight for one sheet of a filter before each light, and the most they may add up to."""

    filter: int
    weights: tuple[float, ...]
    most: float


class Stock:
    """The stockroom as one scene meets it."""

    def __init__(
        self,
        lights: Sequence[SceneLight],
        filters: int,
        layers: int,
        room: Stockroom,
        more: Mapping[int, int] | None = None,
    ) -> None:
        self._lights = lights
        self._filters = filters
        self._layers = layers
        self._room = room
        self._more = more or {}
        self.limits = [limit for index in range(filters) for limit in self._limits(index)]

    def with_more(self, more: Mapping[int, int]) -> Stock:
        """The same with some sheets more."""
        return Stock(self._lights, self._filters, self._layers, self._room, more)

    def holds(self, filter_index: int, uses: Sequence[tuple[int, int]]) -> bool:
        """Whether so many sheets of a filter can be cut for each of these lights."""
        pieces = tuple(
            piece for light, count in uses for piece in self._lights[light].pieces * count
        )
        return not pieces or self._fits(filter_index, pieces)

    def cuts(self, members: Sequence[Ints]) -> list[Cut]:
        """A cut for every filter of which there is too little for these stacks."""
        found = []
        for index in np.unique(np.concatenate([np.zeros(0, dtype=int), *members])):
            if index >= self._filters:
                continue
            counts = [int((stack == index).sum()) for stack in members]
            uses = [(light, count) for light, count in enumerate(counts) if count]
            if not self.holds(int(index), uses):
                found.append(self._cut(int(index), uses))
        return found

    def as_many(self, filter_index: int, members: Sequence[Ints]) -> list[int]:
        """By light how many of its sheets of a filter there are pieces for, those that need the
        smallest first."""
        counts = [int((stack == filter_index).sum()) for stack in members]
        found, uses = [0] * len(counts), list[tuple[int, int]]()
        for light in sorted(range(len(counts)), key=self._area_m2):
            if counts[light] and self.holds(filter_index, [*uses, (light, counts[light])]):
                uses.append((light, counts[light]))
                found[light] = counts[light]
        return found

    def is_full(self, limit: Limit, members: Sequence[Ints]) -> bool:
        """Whether not one sheet more would go under a limit, for the light that needs least."""
        used = sum(
            weight * int((stack == limit.filter).sum())
            for weight, stack in zip(limit.weights, members, strict=True)
        )
        least = min(weight for weight in limit.weights if weight > 0)
        return used > limit.most - least + 1e-9

    def _area_m2(self, light: int) -> float:
        """Area of all pieces of a light."""
        return sum(map(self._room.area_m2, self._lights[light].pieces))

    def _fits(self, filter_index: int, pieces: tuple[Hashable, ...]) -> bool:
        return self._room.fits(filter_index, pieces, self._more.get(filter_index, 0))

    def _cut(self, index: int, uses: list[tuple[int, int]]) -> Cut:
        """As few of the uses as are too many, and whichever lights are as hungry in their place:
        else, of many lights alike, one set after the other would have to be ruled out."""
        needed = list(uses)
        for each in sorted(uses, key=lambda use: len(self._lights[use[0]].pieces)):
            rest = [use for use in needed if use != each]
            if not self.holds(index, rest):
                needed = rest
        counts: dict[tuple[Hashable, ...], list[int]] = {}
        for light, count in needed:
            counts.setdefault(self._lights[light].pieces, []).append(count)
        groups = []
        for pieces, wanted in counts.items():
            alike = tuple(at for at, each in enumerate(self._lights) if each.pieces == pieces)
            groups += [
                Group(alike, count, sum(each >= count for each in wanted))
                for count in sorted(set(wanted))
            ]
        return Cut(index, tuple(groups))

    def _limits(self, index: int) -> list[Limit]:
        """By the area of the pieces, and for each size by their number."""
        lights = self._lights
        found = []
        room_m2 = self._room.room_m2(index, self._more.get(index, 0))
        areas = tuple(self._area_m2(light) for light in range(len(lights)))
        if sum(areas) * self._layers > room_m2:
            found.append(Limit(index, areas, room_m2))
        for piece in dict.fromkeys(piece for each in lights for piece in each.pieces):
            counts = tuple(float(each.pieces.count(piece)) for each in lights)
            wanted = int(sum(counts)) * self._layers
            most = self._most(index, piece, wanted)
            if most < wanted:
                found.append(Limit(index, counts, float(most)))
        return found

    def _most(self, index: int, piece: Hashable, wanted: int) -> int:
        """How many pieces of one size there can be, up to what can be wanted."""
        if self._fits(index, (piece,) * wanted):
            return wanted
        low, high = 0, wanted
        while high - low > 1:
            middle = (low + high) // 2
            if self._fits(index, (piece,) * middle):
                low = middle
            else:
                high = middle
        return low
