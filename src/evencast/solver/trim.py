"""One sheet more, less or other: the best single change of a stack that already hangs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.tolerance import Allowed
from evencast.solver.aim import Aim
from evencast.solver.doubt import judge
from evencast.solver.stacks import LIKELY, PRICE_OF_THE_EDGE_UV, Evaluated, evaluate

Kind = Literal["leave", "take out", "add", "exchange"]

PRICE_OF_AN_EXCHANGE_UV = 0.0006
"""What the second sheet in hand is worth, in u, v: a sheet more in its place is then preferred
to an exchange where both do, and an exchange to a sheet that works against one that hangs. A
price of our own, beside those of sheets and stops."""


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """One change of a stack.

    out, into : the sheet that goes and the sheet that comes; None where none does
    """

    kind: Kind
    out: Filter | None = None
    into: Filter | None = None

    def of(self, stack: Sequence[Filter]) -> list[Filter]:
        """The stack after it; a sheet that comes for another takes its place."""
        names = [each.name for each in stack]
        if self.out is None:
            return [*stack, *([] if self.into is None else [self.into])]
        place = names.index(self.out.name)
        into = [] if self.into is None else [self.into]
        return [*stack[:place], *into, *stack[place + 1 :]]


@dataclass(frozen=True, slots=True, eq=False)
class Changed:
    """Changes and what each leads to; row 0 is the stack as it hangs."""

    changes: Sequence[Change]
    found: Evaluated

    def best(self) -> int:
        """The row to take: leaving it if that is likely inside, else by what it costs.

        The order is that of every search here: stacks likely inside by price and edge, the
        rest by price and miss; an exchange costs a little more.
        """
        outside = self.found.share_within < LIKELY
        work = np.array([each.kind == "exchange" for each in self.changes])
        cost = self.found.price_uv + PRICE_OF_AN_EXCHANGE_UV * work
        cost = cost + np.where(outside, self.found.miss_uv, PRICE_OF_THE_EDGE_UV * self.found.edge)
        leave = np.zeros(len(work), dtype=bool)
        leave[0] = not outside[0]
        return int(np.lexsort((cost, outside, ~leave))[0])


def one_sheet_changes(
    hangs: Sequence[Filter],
    at_hand: Sequence[Filter],
    *,
    movable: Sequence[Filter],
    layers: int,
) -> list[Change]:
    """Leaving it, and every stack one sheet away.

    hangs   : what stands in front of the light, from the lamp outwards
    at_hand : what may be hung
    movable : those of `hangs` that may be taken out
    layers  : sheets that may hang in all
    """
    changes = [Change("leave")]
    for out in dict.fromkeys(movable):
        changes.append(Change("take out", out=out))
        changes += [
            Change("exchange", out=out, into=into) for into in at_hand if into.name != out.name
        ]
    if len(hangs) < layers:
        changes += [Change("add", into=into) for into in at_hand]
    return changes


def judged(
    light: Light, hangs: Sequence[Filter], changes: Sequence[Change], aim: Aim, allowed: Allowed
) -> Changed:
    """What every change leads to, over all that light and sheets may be.

    light : bare, its spectra paired with those of the sheets
    """
    filters = list(_each_once([*hangs, *(each.into for each in changes if each.into)]))
    place = {each.name: index for index, each in enumerate(filters)}
    clear, width = len(filters), len(hangs) + 1
    members = np.full((len(changes), width), clear, dtype=np.intp)
    for row, change in enumerate(changes):
        stack = sorted(place[each.name] for each in change.of(hangs))
        members[row, : len(stack)] = stack
    sheets = np.array([each.transmittance for each in filters]).reshape(-1, light.power.size)
    found = evaluate(light.power, sheets, members, aim, allowed)
    return Changed(
        changes,
        judge(found, light.members, [each.members for each in filters], aim, allowed),
    )


def _each_once(filters: Sequence[Filter]) -> Iterator[Filter]:
    names = set[str]()
    for each in filters:
        if each.name not in names:
            names.add(each.name)
            yield each
