"""A whole scene within its stock, and the bound that proves it.

Run:   python -m benchmarks.scene [large]
Bars:  30 lights, 60 filters, up to 3 sheets, 38 balances, 240 members, stock binding, proven
       with a gap of 0: 3 s. `large`: 100 lights, 200 filters: 60 s, with its gap.

Printed beside the seconds is their ratio to the least that any method must do in the same run:
to multiply every stack with every light once, by one plain matrix product.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Hashable

import numpy as np

from benchmarks.search import kit
from evencast.colour import cie_1931_2deg, white_uv
from evencast.lights import builtin_names, of_kelvin
from evencast.lights.catalogue import builtin
from evencast.plan.tolerance import DEFAULT_ALLOWED, LightRole
from evencast.quantities import Floats
from evencast.solver import aim_at_uv, count_stacks
from evencast.solver.enumerate import Kit
from evencast.solver.scene import Scene, Solver
from evencast.solver.scene_light import SceneLight, Way
from evencast.spectra import GRID_NM, MEMBERS, normal

BAR_S, BAR_LARGE_S = 3.0, 60.0
BALANCES_K = np.round(np.linspace(2700, 6400, 38) / 50) * 50
LAYERS = 3
SHEETS_EACH = 1
PIECES_A_SHEET = 6
ROLES: tuple[LightRole, ...] = ("fill", "background", "practical", "other")


class Shelf:
    """So many pieces of every filter, all of one size."""

    def fits(self, filter_index: int, pieces: tuple[Hashable, ...], more: int) -> bool:
        """Whether there are that many."""
        return len(pieces) <= PIECES_A_SHEET * (SHEETS_EACH + more)

    def area_m2(self, piece: Hashable) -> float:
        """Area of a piece."""
        return 0.09

    def room_m2(self, filter_index: int, more: int) -> float:
        """Area of a sheet that holds that many."""
        return 0.09 * PIECES_A_SHEET * (SHEETS_EACH + more)


def members_of(sheet: Floats, key: str) -> Floats:
    """What a sheet may be: it, with smooth errors of some percent. [(MEMBERS, 81)]"""
    waves = np.cos(np.arange(4)[:, None] * np.linspace(0, np.pi, len(GRID_NM)))
    wobble = np.exp(0.02 * normal(key, 4) @ waves)
    return np.minimum(sheet * wobble, 0.94)


def scene(lights: int, filters: int) -> Scene:
    """Lamps of every kind with two to four openings, and three pieces to each sheet at hand."""
    sheets = kit(filters)
    names = [name for name in builtin_names() if "sodium" not in name and "RGB" not in name]
    aims = [aim_at_uv(f"{k:.0f}K", white_uv(float(k))) for k in BALANCES_K]

    made = []
    for number in range(lights):
        lamp = (
            of_kelvin(2700 + 130.0 * number % 3900)
            if number % 3
            else builtin(names[number % len(names)])
        )
        openings = 1 + number % 3
        way = Way("leave", lamp.power, lamp.power[None], LAYERS)
        made.append(
            SceneLight(
                name=f"light {number}",
                allowed=DEFAULT_ALLOWED["key" if number == 0 else ROLES[number % 4]],
                aims=aims,
                ways=[way],
                ways_at=[[0]] * len(aims),
                pieces=((300, 300),) * openings,
                openings=openings,
                area_m2=0.09 * openings,
                minutes_per_sheet=4.0 * openings,
                most_loss_stops=4.0,
            )
        )
    return Scene(
        kit=Kit(sheets, layers=LAYERS),
        sheets=[members_of(sheet, f"sheet {n}") for n, sheet in enumerate(sheets)],
        lights=made,
        balances=[0.0] * len(aims),
        stock=Shelf(),
        key=0,
    )


def least_seconds(of: Scene) -> float:
    """One matrix product of every stack with every light's three sums, and nothing else. [s]"""
    stacks = count_stacks(len(of.kit.sheets), LAYERS)
    rows = np.ones((min(stacks, 50_000), 81), dtype=np.float32)
    cmf = cie_1931_2deg().cmf_grid
    sums = np.hstack([light.ways[0].power[:, None] * cmf for light in of.lights]).astype(np.float32)
    start = time.perf_counter()
    rows @ sums
    return (time.perf_counter() - start) * stacks / len(rows)


def main() -> int:
    """Print what was measured; 1 where a bar is missed."""
    large = sys.argv[1:] == ["large"]
    lights, filters, bar = (100, 200, BAR_LARGE_S) if large else (30, 60, BAR_S)
    of = scene(lights, filters)
    least = least_seconds(of)
    start = time.perf_counter()
    solver = Solver(of)
    ready = time.perf_counter() - start
    solved = solver.solve()
    seconds = time.perf_counter() - start
    stacks = count_stacks(filters, LAYERS)
    print(f"{lights} lights, {filters} filters, {len(of.balances)} balances, {MEMBERS} members")
    print(f"  {stacks * lights:,} stacks before lights; options ready after {ready:.2f} s")
    print(f"  {seconds:.2f} s in all, {seconds / least:.0f} times one bare matrix product")
    print(f"  cost {solved.best.cost:.4f}, bound {solved.bound:.4f}, gap {solved.gap:.2%}")
    print(f"  {solved.looked_at} balances looked at; short of {len(solved.best.short)} filters")
    return int(seconds > bar or (not large and solved.gap > 0))


if __name__ == "__main__":
    sys.exit(main())
