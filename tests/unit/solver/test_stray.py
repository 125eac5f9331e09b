from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import mired_duv, uv, white, white_uv
from evencast.lights import builtin
from evencast.lights.mixing import mix
from evencast.plan.tolerance import DEFAULT_ALLOWED, Allowed
from evencast.quantities import Floats
from evencast.solver.stray import least_stops, stray_within
from evencast.spectra import GRID_NM

KEY, FILL = DEFAULT_ALLOWED["key"], DEFAULT_ALLOWED["fill"]


def within(ratios: list[list[float]], allowed: list[Allowed], *spectra: Floats) -> list[bool]:
    result = stray_within(
        np.array(spectra), np.array(ratios), balance_uv=white_uv(5500.0), allowed=allowed
    )
    return [bool(each) for each in result]


def test_each_spot_is_judged_by_its_own_tolerance() -> None:
    """A 2700 K practical 4 stops under pulls 9 mired: inside the fill's 12, outside the key's 5."""
    lamp, ratio = white(2700.0), 2.0**-4
    assert within([[ratio]], [FILL], lamp) == [True]
    assert within([[ratio]], [KEY], lamp) == [False]
    assert within([[ratio / 4], [ratio]], [KEY, FILL], lamp) == [True]
    assert within([[ratio], [ratio / 4]], [KEY, FILL], lamp) == [False]


def test_a_green_pull_counts_as_well() -> None:
    """A green tube of the same mired moves Duv alone."""
    tube = builtin("daylight tube FL5").power
    wide = Allowed(-1000.0, 1000.0, 0.0015, 0.25)
    assert within([[1.0]], [wide], tube) == [False]
    assert within([[1.0]], [Allowed(-1000.0, 1000.0, 0.02, 0.25)], tube) == [True]


def test_many_spectra_are_judged_as_each_alone() -> None:
    """And by the mix of spectra, not only by a colour."""
    spectra = [builtin(name).power for name in ("tungsten 3200 K", "daylight D65", "xenon")]
    ratios = [0.02, 0.3, 1.0]
    rest = white(5500.0)
    expected = []
    for power, ratio in zip(spectra, ratios, strict=True):
        mixed = mix([rest[None], power[None]], [1.0, ratio])[0]
        from_rest = np.array(_mired_duv(mixed)) - np.array(_mired_duv(rest))
        expected.append(abs(from_rest[0]) <= 12.0 and abs(from_rest[1]) <= 0.003)
    assert within([ratios], [FILL], *spectra) == expected
    assert expected == [True, True, False]


def _mired_duv(power: Floats) -> tuple[float, float]:
    at_mired, at_duv = mired_duv(uv(power))
    return float(at_mired), float(at_duv)


def test_no_colour_temperature_is_outside_and_no_reach_is_inside() -> None:
    """A green line that swamps the spot; and one that does not get there."""
    line = np.where(GRID_NM == 530.0, 1.0, 0.0)
    wide = Allowed(-1000.0, 1000.0, 1.0, 0.25)
    assert within([[8.0]], [wide], line) == [False]
    assert within([[0.0]], [KEY], line) == [True]


def test_no_spot_and_no_spectrum() -> None:
    """Nothing to harm, nothing to judge."""
    assert within([], [], white(2700.0)) == [True]
    none = stray_within(
        np.zeros((0, 81)), np.zeros((1, 0)), balance_uv=white_uv(5500.0), allowed=[KEY]
    )
    assert none.shape == (0,)


def test_least_stops_of_a_known_line() -> None:
    """A strain of 8 halves with each stop: three are needed."""
    found = least_stops(lambda stops: 8.0 * 2.0**-stops)
    assert found == pytest.approx(3.0, abs=1e-6)
    assert found is not None
    assert 8.0 * 2.0**-found <= 1.0


def test_least_stops_where_none_are_needed_or_none_do() -> None:
    """Inside as it is; never inside; never known."""
    assert least_stops(lambda stops: 0.5 * 2.0**-stops) == 0.0
    assert least_stops(lambda stops: np.full_like(stops, 1.5)) is None
    assert least_stops(lambda stops: np.full_like(stops, np.nan)) is None


def test_least_stops_counts_the_last_crossing() -> None:
    """A strain that dips inside, comes out again and goes in for good at 6."""

    def strain(stops: Floats) -> Floats:
        return np.where((stops > 2.0) & (stops < 4.0) | (stops >= 6.0), 0.5, 2.0)

    assert least_stops(strain) == pytest.approx(6.0, abs=1e-6)


def test_the_stops_bring_the_light_inside() -> None:
    """What is found for a practical is inside, and a hundredth of a stop less is not."""
    face, lamp = white(5500.0), white(2700.0)

    def strain(stops: Floats) -> Floats:
        mixed = [mix([face[None], lamp[None]], [1.0, 0.25 * 2.0**-each])[0] for each in stops]
        moved = np.array([_mired_duv(each) for each in mixed]) - np.array(_mired_duv(face))
        return FILL.strain(moved[:, 0], moved[:, 1])

    found = least_stops(strain)
    assert found is not None
    ratio = 0.25 * 2.0**-found
    assert within([[ratio]], [FILL], lamp) == [True]
    assert within([[ratio * 2**0.01]], [FILL], lamp) == [False]
