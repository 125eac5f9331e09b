"""One sheet more, less or other: the best single change of a stack that already hangs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from evencast.filters import Filter
from evencast.lights import Light
from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
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
    """Changes and what each leads to.

    outside : less than half of what it may be is inside the tolerance
    cost_uv : as in every search here: of stacks that are likely inside price and edge, of the
              rest price and miss; an exchange costs a little more
    """

    changes: Sequence[Change]
    found: Evaluated
    outside: NDArray[np.bool_]
    cost_uv: Floats

    def order(self) -> list[int]:
        """Rows, best first."""
        return [int(row) for row in np.lexsort((self.cost_uv, self.outside))]


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


def judge_changes(
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
    nominal = evaluate(light.power, sheets, members, aim, allowed)
    found = judge(nominal, light.members, [each.members for each in filters], aim, allowed)
    outside = found.share_within < LIKELY
    work = np.array([each.kind == "exchange" for each in changes])
    miss = np.where(outside, found.miss_uv, PRICE_OF_THE_EDGE_UV * found.edge)
    return Changed(changes, found, outside, found.price_uv + miss + PRICE_OF_AN_EXCHANGE_UV * work)


def _each_once(filters: Sequence[Filter]) -> Iterator[Filter]:
    names = set[str]()
    for each in filters:
        if each.name not in names:
            names.add(each.name)
            yield each
