"""`shopping`: what to pack from the kit, what is short, what to take besides."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import TypeVar

from evencast.actions.handouts.cuts import Owned, cuts, owned
from evencast.actions.handouts.job import Job, Made
from evencast.actions.handouts.stock_taken import FilterTaken, filter_taken
from evencast.cutting.pieces import pieces_of
from evencast.handouts.shopping import (
    ALWAYS,
    COLUMNS,
    FOR_FRAMES,
    FOR_TUBES,
    FOR_WINDOWS,
    LAYOUT,
    OVERHEAD,
    SPARES,
    STORAGE,
    AtOnce,
    Shopping,
    ShoppingRow,
)
from evencast.handouts.spreadsheet import Cell, csv_bytes
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.quantities import listed, many

MOST_COLUMNS = 6
T = TypeVar("T")


def made(job: Job) -> list[Made]:
    """shopping.pdf and shopping.csv."""
    content = _content(job)
    title = f"Packing and shopping: {job.name}"
    rows = [*content.pack, *content.buy, *content.spares, *content.swaps, *content.scrims]
    rows += [ShoppingRow("expendable", each, None) for each in content.expendables]
    return [
        job.typeset("shopping.pdf", LAYOUT, title, content),
        Made("shopping.csv", csv_bytes(COLUMNS, [_cells(each) for each in rows]), []),
    ]


def _content(job: Job) -> Shopping:
    found = owned(job)
    by_filter: dict[str, list[Owned]] = {}
    for each in found:
        by_filter.setdefault(each.cut.filter, []).append(each)
    taken = [filter_taken(job, name, by_filter[name]) for name in _in_order(job, by_filter)]
    buy = [row for each in taken for row in each.buy]
    return Shopping(
        plan=job.name,
        setups=[each.name for each in job.parts if each.name],
        told=_told(found, taken, buy),
        kit=job.parts[0].answer.kit,
        pack=[row for each in taken for row in each.pack],
        buy=buy,
        spares=[row for each in taken for row in each.spares],
        swaps=list(_swaps(job)),
        scrims=list(_scrims(job)),
        spares_told=SPARES,
        worth=_worth(job),
        at_once=_at_once(job, by_filter) if len(job.parts) > 1 else [],
        at_once_in=[each.name for each in _shown(job.parts)],
        expendables=_expendables(job, found),
    )


def _in_order(job: Job, names: dict[str, list[Owned]]) -> list[str]:
    """As the kit has them, then what it has not."""
    kit = [each.name for each in job.parts[0].loaded.kit.filters]
    return sorted(names, key=lambda name: kit.index(name) if name in kit else len(kit))


def _told(found: Sequence[Owned], taken: Sequence[FilterTaken], buy: Sequence[ShoppingRow]) -> str:
    pieces = sum(each.count for each in found)
    if not pieces:
        told = "No sheet is to be cut in this plan."
    else:
        told = f"{many(pieces, 'piece')} of {many(len(taken), 'filter')}."
    if buy:
        return f"{told} {many(len(buy), 'item')} to buy."
    return f"{told} Nothing is short." if pieces else told


def _cells(row: ShoppingRow) -> dict[str, Cell]:
    return {name: getattr(row, name) for name in COLUMNS}


def _lights(job: Job) -> Iterator[tuple[str, Light, list[str], str | None]]:
    """Set-up, light, its scrims, and what it is swapped for."""
    for part in job.parts:
        for planned in part.answer.lights:
            entry = part.loaded.plan.light_named(planned.name)
            if entry is not None:
                yield part.name, entry, planned.scrims, planned.swapped_for


def _swaps(job: Job) -> Iterator[ShoppingRow]:
    """Bulbs and tubes: as many as are in at one time."""
    needed: dict[str, Counter[str]] = {}
    at_hand: dict[str, int] = {}
    used_for: dict[str, dict[str, None]] = {}
    for setup, entry, _, swapped_for in _lights(job):
        swap = next((e for e in entry.swap if folded(e.name) == folded(swapped_for or "")), None)
        if swap is None:
            continue
        bare = job.parts[0].loaded.lights[entry.name]
        lamps = max(entry.count, len(pieces_of(entry, bare.fitting)))
        needed.setdefault(swap.name, Counter())[setup] += lamps
        used_for.setdefault(swap.name, {})[entry.name] = None
        if swap.at_hand is not None:
            at_hand[swap.name] = min(at_hand.get(swap.name, swap.at_hand), swap.at_hand)
    for name, of_setup in needed.items():
        most = max(of_setup.values())
        have = at_hand.get(name)
        note = "1 spare (common practice); cap, watts and type by the label of the fitting"
        if have is not None:
            note = f"{have} at hand; {note}"
        lights = listed(list(used_for[name]))
        unit = "lamp" if most == 1 else "lamps"
        yield ShoppingRow("swap", name, most, unit, used_for=lights, note=note)


def _scrims(job: Job) -> Iterator[ShoppingRow]:
    """As many of each as are in at one time; a scrim fits one size of lamp."""
    most: dict[tuple[str, str], int] = {}
    for _, entry, scrims, _ in _lights(job):
        for name, count in Counter(scrims).items():
            key = (name, entry.name)
            most[key] = max(most.get(key, 0), count * entry.count)
    for (name, light), count in most.items():
        unit = "scrim" if count == 1 else "scrims"
        yield ShoppingRow("scrim", f"{name} scrim", count, unit, used_for=light)


def _worth(job: Job) -> list[str]:
    """What one sheet more would buy, and ND that a view wants and the kit has not."""
    found = []
    for part in job.parts:
        at = f"{part.name}: " if part.name else ""
        found += [f"{at}{each.text}" for each in part.answer.wanting]
        for view in part.answer.views:
            lacking = [each for each in view.nd if not each.at_hand and not view.within_tolerance]
            found += [f"{at}{view.name}, with ND not in the kit: {each.text}." for each in lacking]
    return list(dict.fromkeys(found))


def _at_once(job: Job, by_filter: dict[str, list[Owned]]) -> list[AtOnce]:
    of_setups = cuts(job)
    found = []
    for name in _in_order(job, by_filter):
        setups = [sum(each.count for each in mine if each.filter == name) for mine in of_setups]
        in_all = sum(each.count for each in by_filter[name])
        found.append(AtOnce(name, _shown(setups), max(setups), in_all))
    return found


def _shown(setups: list[T]) -> list[T]:
    """Set-ups that have a column of their own; none where there are more than fit."""
    return setups if len(setups) <= MOST_COLUMNS else []


def _expendables(job: Job, found: Sequence[Owned]) -> list[str]:
    """By what is covered; common practice."""
    openings = {each.cut.opening for each in found}
    lines = [*ALWAYS]
    lines += FOR_FRAMES if "frame" in openings else ()
    lines += FOR_WINDOWS if "pane" in openings else ()
    lines += FOR_TUBES if "sleeve" in openings else ()
    if any(part.answer.lights for part in job.parts):
        lines += OVERHEAD
    return [*lines, *(STORAGE if found else ())]
