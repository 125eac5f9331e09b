"""Looking for strips that hold all pieces: depth first, the tightest place first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from evencast.cutting.ways import Items, Lay, Strip, Ways, lays

NEVER = 1 << 62
"""A height that no item has."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be cut from what, the hardest size first.

    able   : what each size can do, and how many pieces of it are wanted
    counts : how many items there are of each size of item
    later  : least area of the sizes from each place on; a last 0
    low    : lowest strip of the sizes from each place on, for every lay
    """

    able: tuple[tuple[Ways, int], ...]
    lays: tuple[Lay, ...]
    counts: tuple[int, ...]
    area: int
    later: tuple[int, ...]
    low: tuple[tuple[int, ...], ...]

    @classmethod
    def of(
        cls, able: Sequence[tuple[Ways, int]], items: Items, counts: tuple[int, ...]
    ) -> Question:
        """Sizes that few items hold come first, then those that take the most area."""
        ordered = sorted(able, key=lambda each: (each[0].items, -each[0].area_each))
        laid = lays(items)
        later, low = [0], [(NEVER,) * len(laid)]
        for way, count in reversed(ordered):
            later.append(later[-1] + way.least_area(count))
            lowest = list(low[-1])
            for at, height in way.low:
                lowest[at] = min(lowest[at], height)
            low.append(tuple(lowest))
        area = sum(n * short * long for (short, long), n in zip(items, counts, strict=True))
        return cls(tuple(ordered), laid, counts, area, tuple(reversed(later)), tuple(reversed(low)))


class State(NamedTuple):
    """Where a search stands.

    size, make : which size is being placed, and by which of its makes
    left       : pieces of that size that are left to its later makes
    need       : parts of this make that still want a place
    begun      : lay and rest of the length of every item begun, in order; those that nothing
                 else goes into are left out
    fresh      : items not begun, of each size
    area       : that can still be used
    """

    size: int
    make: int
    left: int
    need: int
    begun: tuple[tuple[int, int], ...]
    fresh: tuple[int, ...]
    area: int


Step = tuple[State, Strip | None, int | None]
"""From a state: a strip cut from an item begun with that rest, or from a fresh one (None); or no
strip where the state itself is the step."""


class Trail(NamedTuple):
    """Strips cut one after another, the last one first.

    state : before the strip was cut
    rest  : length that was left of the item begun that it was cut from; None from a fresh one
    """

    before: Trail | None
    state: State
    strip: Strip
    rest: int | None


def search(question: Question, *, most_states: int) -> bool | None:
    """Whether all pieces find a place; None where so many states do not tell."""
    return find(question, most_states=most_states)[0]


def find(question: Question, *, most_states: int) -> tuple[bool | None, Trail | None]:
    """Whether all pieces find a place, as `search`; and where they do, the strips that hold them,
    None where there is nothing to cut."""
    seen: set[State] = set()
    steps: list[tuple[Step, Trail | None]] = [
        ((step, None, None), None) for step in _starts(question, _first(question))
    ]
    while steps:
        (state, strip, rest), trail = steps.pop()
        if strip is not None:
            trail = Trail(trail, state, strip, rest)
            state = _cut(question, state, strip, rest)
            if state.need <= 0:
                if state.left == 0 and state.size + 1 == len(question.able):
                    return True, trail
                steps += [((step, None, None), trail) for step in _starts(question, state)]
                continue
        if state in seen or _too_much(question, state):
            continue
        seen.add(state)
        if len(seen) > most_states:
            return None, None
        steps += [(step, trail) for step in _places(question, state)]
    return not question.able, None


def _first(question: Question) -> State:
    return State(-1, 0, 0, 0, (), question.counts, question.area)


def _starts(question: Question, state: State) -> Iterator[State]:
    """The next size, or the next make for what is left of this one; the last is tried first."""
    size, make, left = state.size, state.make + 1, state.left
    if left == 0:
        size, make = size + 1, 0
        if size == len(question.able):
            return
        left = question.able[size][1]
    way = question.able[size][0]
    begun, area = state.begun, state.area
    if make == 0:
        begun, area = _useful(question, size, begun, area)
    parts = way.makes[make].parts
    last = make + 1 == len(way.makes)
    for count in range(left if last else 0, left + 1):
        start = State(size, make, left - count, count * parts, begun, state.fresh, area)
        if count:
            yield start
        else:
            yield from _starts(question, start)


def _useful(
    question: Question, size: int, begun: tuple[tuple[int, int], ...], area: int
) -> tuple[tuple[tuple[int, int], ...], int]:
    """Items begun that sizes from this one on still go into, and the area that is left."""
    low = question.low[size]
    lost = sum(rest * question.lays[lay].across for lay, rest in begun if rest < low[lay])
    if not lost:
        return begun, area
    return tuple(each for each in begun if each[1] >= low[each[0]]), area - lost


def _too_much(question: Question, state: State) -> bool:
    """Whether what is left to place needs more area than there is."""
    way = question.able[state.size][0]
    need = way.least[state.make][state.need] + state.left * way.area_each
    return need + question.later[state.size + 1] > state.area


def _places(question: Question, state: State) -> list[Step]:
    """Every strip that may be cut next, the one that wastes least last."""
    make = question.able[state.size][0].makes[state.make]
    begun = set(state.begun)
    found: list[tuple[float, int, int, Strip, int | None]] = []
    for strip in make.strips:
        lay, height, holds, area = strip
        item, across, along = question.lays[lay]
        cost = area / min(holds, state.need)
        found += [
            (cost, 0, (rest - height) * across, strip, rest)
            for at, rest in begun
            if at == lay and rest >= height
        ]
        if state.fresh[item]:
            found.append((cost, 1, (along - height) * across, strip, None))
    found.sort(key=lambda place: place[:3], reverse=True)
    return [(state, strip, rest) for _, _, _, strip, rest in found]


def _cut(question: Question, state: State, strip: Strip, rest: int | None) -> State:
    """The state after that strip is cut."""
    size, make, left, need, begun, fresh, area = state
    at, height, holds, strip_area = strip
    item, across, along = question.lays[at]
    items = list(begun)
    if rest is None:
        fresh = (*fresh[:item], fresh[item] - 1, *fresh[item + 1 :])
        rest = along
    else:
        items.remove((at, rest))
    area -= strip_area
    if rest - height >= question.low[size][at]:
        items.append((at, rest - height))
        items.sort()
    else:
        area -= (rest - height) * across
    return State(size, make, left, max(0, need - holds), tuple(items), fresh, area)
