"""Every stack in front of a light, against a plain loop over all of them."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pytest

from evencast.colour import mired_duv, uv, uv_of_mired_duv, xyz
from evencast.filters import generic
from evencast.lights import builtin
from evencast.quantities import Floats
from evencast.solver.best import Ints
from evencast.solver.enumerate import Kit, Region

SHEETS = np.array(
    [
        generic(name).transmittance
        for name in (
            *("full CTB", "half CTB", "full CTO", "quarter CTO", "half plus green"),
            *("half minus green", "ND 0.3", "deep red"),
        )
    ]
)
MARGIN_UV, MARGIN_DUV = 1e-5, 1e-5


@dataclass(frozen=True)
class One:
    """One stack in double precision."""

    members: tuple[int, ...]
    uv: Floats
    mired: float
    duv: float
    luminous: float


def every_stack(light: Floats, sheets: Floats, layers: int) -> Iterator[One]:
    """One at a time, each once, the bare light left out."""
    bare = float(xyz(light)[1])
    for size in range(1, layers + 1):
        for stack in itertools.combinations_with_replacement(range(len(sheets)), size):
            power = light * np.prod(sheets[list(stack)], axis=0)
            at_mired, at_duv = mired_duv(uv(power))
            bare_share = float(xyz(power)[1]) / bare
            yield One(stack, uv(power), float(at_mired), float(at_duv), bare_share)


def region(*, low: float, high: float, duv_low: float, duv_high: float) -> tuple[Region, Floats]:
    """All colours from one mired to another within a range of Duv, and the box's corners."""
    mireds, duvs = np.linspace(low, high, 9), np.array([duv_low, duv_high])
    points = uv_of_mired_duv(mireds[:, None], duvs[None, :]).reshape(-1, 2)
    return Region(points, duv_low=duv_low, duv_high=duv_high), points


def inside(one: One, points: Floats, duv_low: float, duv_high: float, margin: float) -> bool:
    """Whether a stack lies in the region, at least so far from its edge; less than 0 is beyond."""
    low, high = points.min(axis=0), points.max(axis=0)
    in_box = (one.uv >= low + margin).all() and (one.uv <= high - margin).all()
    return bool(in_box and duv_low + margin <= one.duv <= duv_high - margin)


def named(members: Ints, clear: int) -> list[tuple[int, ...]]:
    return [tuple(int(each) for each in row if each < clear) for row in members]


@pytest.mark.parametrize("layers", [1, 2, 3, 4])
@pytest.mark.parametrize("light", ["tungsten 3200 K", "cool white tube FL2", "daylight D65"])
@pytest.mark.parametrize(
    ("low", "high", "duv_low", "duv_high"),
    [(150, 330, -0.006, 0.009), (200, 210, -0.001, 0.001), (50, 900, -0.04, 0.04)],
)
def test_every_stack_that_ends_in_a_region_is_found_once(
    layers: int, light: str, low: float, high: float, duv_low: float, duv_high: float
) -> None:
    """Whatever lies clearly inside is found, nothing that lies clearly outside is, each once."""
    sheets = SHEETS[: 8 if layers < 4 else 5]
    power = builtin(light).power
    made, points = region(low=low, high=high, duv_low=duv_low, duv_high=duv_high)
    found = Kit(sheets, layers=layers).near(power, made)
    names = named(found.members, len(sheets))
    every = {one.members: one for one in every_stack(power, sheets, layers)}
    assert len(set(names)) == len(names)
    assert set(names) <= set(every)
    assert [len(each) for each in names] == found.layers.tolist()
    for members, one in every.items():
        if inside(one, points, duv_low, duv_high, MARGIN_UV):
            assert members in names, members
    for place, members in enumerate(names):
        one = every[members]
        assert duv_low - MARGIN_DUV <= one.duv <= duv_high + MARGIN_DUV
        np.testing.assert_allclose(found.uv[place], one.uv, atol=2e-6)
        assert found.luminous[place] == pytest.approx(one.luminous, rel=1e-5)
        assert found.mired[place] == pytest.approx(one.mired, abs=0.05, nan_ok=True)


def test_they_are_in_order_of_mired() -> None:
    """So that what lies near an aim is one stretch of them."""
    made, _ = region(low=100, high=500, duv_low=-0.02, duv_high=0.02)
    found = Kit(SHEETS, layers=3).near(builtin("tungsten 3200 K").power, made)
    assert len(found.mired) > 50
    assert (np.diff(found.mired) >= 0).all()
    window = found.between(200.0, 300.0)
    assert (found.mired[window] >= 200).all()
    assert (found.mired[window] < 300).all()
    assert window.stop - window.start == ((found.mired >= 200) & (found.mired < 300)).sum()


@pytest.mark.parametrize("light", ["tungsten 3200 K", "three-band tube FL11", "daylight D55"])
@pytest.mark.parametrize("at", [(178.0, 0.003), (312.5, 0.0), (250.0, 0.02), (60.0, -0.01)])
def test_the_nearest_of_all_is_found(light: str, at: tuple[float, float]) -> None:
    """As near to a colour as any stack of at least one sheet; equally near is as good."""
    power, kit = builtin(light).power, Kit(SHEETS, layers=2)
    wanted = uv_of_mired_duv(np.asarray(at[0]), np.asarray(at[1]))
    (members,) = named(kit.nearest(power, wanted)[None], len(SHEETS))
    every = {one.members: one for one in every_stack(power, SHEETS, 2)}
    least = min(float(np.hypot(*(one.uv - wanted))) for one in every.values())
    assert members in every
    assert float(np.hypot(*(every[members].uv - wanted))) == pytest.approx(least, abs=1e-6)


def test_a_kit_of_one_sheet_has_its_own_stacks_alone() -> None:
    """Once and twice, and never none."""
    made, _ = region(low=20, high=900, duv_low=-0.049, duv_high=0.049)
    found = Kit(SHEETS[:1], layers=2).near(builtin("tungsten 3200 K").power, made)
    assert sorted(named(found.members, 1)) == [(0,), (0, 0)]
