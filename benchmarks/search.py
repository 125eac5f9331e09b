"""All stacks of 3 from 60 filters and of 4 from 300, against a loop with colour-science.

Run:   python -m benchmarks.search
Bars:  3 from 60:   10 000 times faster than the loop.
       4 from 300: 100 000 times faster, at least 45 % of the best GEMM rate that this run
       measures, and a peak memory of at most 1.5 GB for the whole process.

The loop takes one stack at a time: product of SpectralDistribution objects, tristimulus
values, u and v, CCT by Ohno 2013. It is timed on some stacks and scaled up. Work of the search
is counted as 3 functionals x 81 wavelengths x 2 per stack of the full multiset; all that it
spends beside the matrix product counts against it.
"""

from __future__ import annotations

import itertools
import resource
import sys
import time

import colour
import numpy as np

from evencast.colour import white_uv
from evencast.filters import generic, generic_names
from evencast.lights import builtin
from evencast.plan.tolerance import DEFAULT_ALLOWED
from evencast.quantities import Floats
from evencast.solver import aim_at_uv, count_stacks, search
from evencast.spectra import GRID_NM

BAR_THREE_OF_60 = 10_000.0
BAR_FOUR_OF_300 = 100_000.0
BAR_GEMM_SHARE = 0.45
BAR_PEAK_GB = 1.5
FLOP_PER_STACK = 3 * 81 * 2
LOOP_STACKS = 40
GEMM_SIZES = (1024, 2048, 4096)
SEED = 1


def kit(count: int) -> Floats:
    """Sheets: the generic ones, then dyes at random. [(count, 81)]"""
    rng = np.random.default_rng(SEED)
    sheets = [generic(name).transmittance for name in generic_names()][:count]
    while len(sheets) < count:
        centres, widths = rng.uniform(380, 760, 3), rng.uniform(30, 120, 3)
        bands = np.exp(-(((GRID_NM - centres[:, None]) / widths[:, None]) ** 2))
        sheets.append(0.92 * 10.0 ** -(rng.uniform(0, 0.5, 3) @ bands))
    return np.array(sheets)


def search_seconds(light: Floats, sheets: Floats, *, layers: int, times: int) -> float:
    """Best duration of a whole search. [s]"""
    aim = aim_at_uv("4300K", white_uv(4300))
    durations = []
    for _ in range(times):
        start = time.perf_counter()
        found = search(light, sheets, aim, DEFAULT_ALLOWED["key"], layers=layers)
        durations.append(time.perf_counter() - start)
        assert found.searched == count_stacks(len(sheets), layers)
    return min(durations)


def loop_seconds_per_stack(light: Floats, sheets: Floats, *, layers: int) -> float:
    """One stack at a time with colour-science. [s per stack]"""
    cmfs = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
    cmfs = cmfs.align(colour.SpectralShape(380, 780, 5))
    as_lamp = colour.SpectralDistribution(light, GRID_NM)
    as_sheets = [colour.SpectralDistribution(each, GRID_NM) for each in sheets]
    stacks = list(
        itertools.islice(
            itertools.combinations_with_replacement(range(len(sheets)), layers), LOOP_STACKS + 2
        )
    )

    def one(members: tuple[int, ...]) -> None:
        through = as_lamp
        for member in members:
            through = through * as_sheets[member]
        place = colour.UCS_to_uv(colour.XYZ_to_UCS(colour.sd_to_XYZ(through, cmfs)))
        colour.temperature.uv_to_CCT_Ohno2013(place)

    for members in stacks[:2]:
        one(members)
    start = time.perf_counter()
    for members in stacks[2:]:
        one(members)
    return (time.perf_counter() - start) / LOOP_STACKS


def best_gemm_gflops() -> float:
    """Best rate of a square float32 matrix product here and now. [1e9 per s]"""
    rates = []
    rng = np.random.default_rng(SEED)
    for size in GEMM_SIZES:
        a, b = rng.random((2, size, size), dtype=np.float32)
        out = a @ b
        for _ in range(3):
            start = time.perf_counter()
            np.matmul(a, b, out=out)
            rates.append(2.0 * size**3 / (time.perf_counter() - start) / 1e9)
    return max(rates)


def main() -> int:
    """Measure, print, and say whether every bar is met."""
    light = builtin("FL2").power
    met = []
    search_seconds(light, kit(20), layers=3, times=1)
    for count, layers, bar, times in ((60, 3, BAR_THREE_OF_60, 5), (300, 4, BAR_FOUR_OF_300, 1)):
        sheets = kit(count)
        stacks = count_stacks(count, layers)
        loop_s = loop_seconds_per_stack(light, sheets, layers=layers) * stacks
        ours_s = search_seconds(light, sheets, layers=layers, times=times)
        met.append(loop_s / ours_s >= bar)
        print(f"{layers} of {count}: {stacks:,} stacks in {ours_s:.4f} s; the loop {loop_s:,.0f} s")
        print(f"    {loop_s / ours_s:,.0f} x, bar {bar:,.0f} x: {'met' if met[-1] else 'MISSED'}")
    peak_gb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e9
    rate = stacks * FLOP_PER_STACK / ours_s / 1e9
    best = best_gemm_gflops()
    met += [rate / best >= BAR_GEMM_SHARE, peak_gb <= BAR_PEAK_GB]
    print(
        f"    {rate:.1f} of {best:.1f} GFLOP/s: {rate / best:.0%}, bar {BAR_GEMM_SHARE:.0%}: ",
        end="",
    )
    print("met" if met[-2] else "MISSED")
    print(f"    peak {peak_gb:.2f} GB, bar {BAR_PEAK_GB} GB: {'met' if met[-1] else 'MISSED'}")
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
