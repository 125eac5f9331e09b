"""CCT and Duv per million points, against Ohno 2013 of colour-science.

Run:   python -m benchmarks.cct
Bar:   1000 times faster than colour-science called once with the whole array, and its error
       at most 1e-5 mired over 1000-30 000 K and 0.045 Duv, against places worked out here from
       Planck's law itself, without evencast's tabulated locus.

colour-science is timed on a part of the points and scaled up, both as one array and point by
point. Warm process: tables of both sides are built before the clock starts.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np
from colour.temperature import uv_to_CCT_Ohno2013

from evencast.colour import cie_1931_2deg, mired_duv
from evencast.quantities import Floats
from evencast.spectra import C2_M_K

BAR_RATIO = 1000.0
BAR_MIRED = 1e-5
POINTS = 1_000_000
PART_AS_ARRAY = 2_000
PART_ONE_BY_ONE = 100
SEED = 1


def seconds(work: Callable[[], object], *, times: int) -> float:
    """Median duration. [s]"""
    durations = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        durations.append(time.perf_counter() - start)
    return float(np.median(durations))


def points() -> tuple[Floats, Floats, Floats]:
    """Mired, Duv and u, v of random places from 1000 to 30 000 K."""
    rng = np.random.default_rng(SEED)
    mired = rng.uniform(1e6 / 30_000, 1000.0, POINTS)
    duv = rng.uniform(-0.045, 0.045, POINTS)
    parts = np.array_split(np.arange(POINTS), 200)
    return mired, duv, np.vstack([places(mired[part], duv[part]) for part in parts])


def places(mired: Floats, duv: Floats) -> Floats:
    """u, v by Planck's law at 1 nm and the exact normal of the locus. [(n, 2)]"""
    observer = cie_1931_2deg()
    rate = C2_M_K * 1e3 / observer.wavelengths_nm
    bose = 1.0 / np.expm1(mired[:, None] * rate)
    cmf = observer.cmf / observer.wavelengths_nm[:, None] ** 5
    value, slope = bose @ cmf, (-bose * (1.0 + bose) * rate) @ cmf
    weight, weight_slope = value @ [1.0, 15.0, 3.0], slope @ [1.0, 15.0, 3.0]
    above, above_slope = value[:, :2] * [4.0, 6.0], slope[:, :2] * [4.0, 6.0]
    on_locus = above / weight[:, None]
    tangent = (above_slope - on_locus * weight_slope[:, None]) / weight[:, None]
    tangent /= np.hypot(tangent[:, 0], tangent[:, 1])[:, None]
    normal = np.stack([-tangent[:, 1], tangent[:, 0]], axis=1)
    result: Floats = on_locus + duv[:, None] * normal
    return result


def main() -> int:
    """Measure, print, and say whether both bars are met."""
    mired, duv, at = points()
    mired_duv(at[:10])
    uv_to_CCT_Ohno2013(at[:10])
    ours_s = seconds(lambda: mired_duv(at), times=5)
    found_mired, found_duv = mired_duv(at)
    error_mired = float(np.abs(found_mired - mired).max())
    error_duv = float(np.abs(found_duv - duv).max())
    near = at[np.abs(duv) < 0.02]  # where colour-science's method is meant to hold
    array_s = seconds(lambda: uv_to_CCT_Ohno2013(near[:PART_AS_ARRAY]), times=3)
    array_s *= POINTS / PART_AS_ARRAY
    singly_s = seconds(
        lambda: [uv_to_CCT_Ohno2013(each) for each in near[:PART_ONE_BY_ONE]], times=3
    )
    singly_s *= POINTS / PART_ONE_BY_ONE
    met = array_s / ours_s >= BAR_RATIO and error_mired <= BAR_MIRED
    print(f"evencast                      {ours_s:12.3f} s per million points")
    print(f"colour-science, one array     {array_s:12.1f} s   {array_s / ours_s:12,.0f} x")
    print(f"colour-science, one by one    {singly_s:12.1f} s   {singly_s / ours_s:12,.0f} x")
    print(f"greatest error                {error_mired:12.1e} mired, {error_duv:.1e} Duv")
    print(f"bar: {BAR_RATIO:,.0f} x and {BAR_MIRED:g} mired: {'met' if met else 'MISSED'}")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
