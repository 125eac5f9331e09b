"""The published reference of a kit of 100 filters.

Run:   python -m benchmarks.reference [filters]
Bar:   3 s in all, from reading the kit to the file on disk, once the program is loaded

Printed beside the seconds is their ratio to what the same rows cost one by one in the same run:
`through` for every filter, and the picture of `look light` at two balances.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from evencast.actions.card.card import Wanted, card
from evencast.actions.handouts.job import Wishes
from evencast.actions.picture import picture
from evencast.actions.resolve import light
from evencast.actions.through import through
from evencast.cores import one_core_products
from evencast.filters import generic_names
from evencast.filters.families import generic

BAR_S, BAR_FILTERS = 3.0, 100
RUNS = 3


def kit_text(count: int) -> str:
    """So many filters of every generic series."""
    names = generic_names()
    rows = [
        f'[[filter]]\nname = "{names[number % len(names)]} {number}"\nrole = '
        f'"{generic(names[number % len(names)]).role}"\ngeneric = "{names[number % len(names)]}"\n'
        for number in range(count)
    ]
    return 'format = 1\nname = "large"\n\n' + "\n".join(rows)


def seconds(act: Callable[[], object]) -> float:
    """How long it takes."""
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def written(kit: Path, folder: Path) -> None:
    """The reference of a kit, in a folder."""
    generic.cache_clear()
    wishes = Wishes(date="2031-05-04", author="Ada Moss")
    card(kit, wanted=Wanted(kinds=["reference"]), wishes=wishes, to=folder, replace=True)


def one_by_one(count: int) -> None:
    """The same rows by what `through` and `look light` do for one filter."""
    lamp, names = light("tungsten"), generic_names()
    for number in range(count):
        name = names[number % len(names)]
        through("tungsten", [name], kit=None, kind=None)
        for balance_k in (3200.0, 5600.0):
            picture(lamp, [generic(name)], balance_k=balance_k)


def main() -> int:
    """Print what was measured; 1 where the bar is missed."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else BAR_FILTERS
    with TemporaryDirectory() as folder:
        kit = Path(folder) / "kit.toml"
        kit.write_text(kit_text(count), "utf-8")
        written(kit, Path(folder))  # loads what is loaded once
        took = min(seconds(lambda: written(kit, Path(folder))) for _ in range(RUNS))
        with one_core_products():
            alone = seconds(lambda: one_by_one(count))
        pages = (Path(folder) / "reference.pdf").stat().st_size
    print(f"{count} filters: {took:.2f} s, {pages / 1000:.0f} kB of PDF")
    print(f"  {took / alone:.2f} of what the numbers and pictures alone cost one by one")
    return int(count == BAR_FILTERS and took > BAR_S)


if __name__ == "__main__":
    sys.exit(main())
