"""A light that reads otherwise through its sheets: what it must have become."""

from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import low_middle_high, mired_duv, uv, uv_of_mired_duv
from evencast.errors import EvencastError
from evencast.filters import generic, stack, stack_members
from evencast.lights import Light, builtin, dim_tungsten, of_kelvin, of_reading
from evencast.lights.explained import ReadColour, changed, explained, straying
from evencast.quantities import mired
from evencast.spectra import MEMBERS, planckian


def through(light: Light, *names: str, read: ReadColour) -> Light:
    sheets = [generic(name) for name in names]
    return explained(light, stack(sheets), stack_members(sheets), read)


@pytest.mark.parametrize("names", [(), ("half CTO",), ("full CTB", "quarter minus green")])
@pytest.mark.parametrize("light", [builtin("daylight D65"), builtin("cool white tube FL2")])
def test_it_reads_as_it_was_read(light: Light, names: tuple[str, ...]) -> None:
    """Through the same sheets the explained light has just that Kelvin and Duv."""
    found = through(light, *names, read=ReadColour(5000.0, 0.004))
    at = uv(found.power * stack([generic(name) for name in names]))
    assert at == pytest.approx(uv_of_mired_duv(np.array(200.0), np.array(0.004)), abs=1e-8)


def test_nothing_changes_where_it_reads_as_expected() -> None:
    """A light that reads what was computed is the light that it was."""
    lamp = builtin("tungsten 3200 K")
    sheet = generic("half CTB")
    at_mired, duv = (float(each) for each in mired_duv(uv(lamp.power * sheet.transmittance)))
    found = through(lamp, "half CTB", read=ReadColour(1e6 / at_mired, duv))
    assert found.power == pytest.approx(lamp.power, rel=1e-6)


def test_a_dimmed_filament_is_found_behind_its_sheet() -> None:
    """Planckian light of 2900 K through a half CTB, read: the light behind has 2900 K, though it
    was taken for 3200 K. Both are Planckian, so the change is smooth, and found to 2 mired."""
    sheet = generic("half CTB")
    at_mired, duv = mired_duv(uv(planckian(2900.0) * sheet.transmittance))
    found = through(
        of_kelvin(3200.0), "half CTB", read=ReadColour(1e6 / float(at_mired), float(duv))
    )
    bare_mired, bare_duv = mired_duv(uv(found.power))
    assert bare_mired == pytest.approx(mired(2900.0), abs=2.0)
    assert bare_duv == pytest.approx(0.0, abs=0.0005)


def test_kelvin_alone_leaves_the_duv_as_it_was() -> None:
    """An instrument without Duv tells nothing of green."""
    lamp, sheet = builtin("LED phosphor 2700 K B1"), generic("half CTB")
    _, duv = mired_duv(uv(lamp.power * sheet.transmittance))
    found = through(lamp, "half CTB", read=ReadColour(3000.0, None))
    at_mired, at_duv = mired_duv(uv(found.power * sheet.transmittance))
    assert at_mired == pytest.approx(mired(3000.0), abs=1e-4)
    assert at_duv == pytest.approx(float(duv), abs=1e-7)


def test_what_it_may_be_is_paired_with_the_sheets() -> None:
    """Member by member, light times sheet lies within the meter's doubt of the reading: its
    5 and 95 percent are 1.645 times 1 percent of the Kelvin and 0.001 Duv from it."""
    lamp, sheet = of_reading(5400.0, 0.0, kind="HMI"), generic("half CTO")
    found = through(lamp, "half CTO", read=ReadColour(4000.0, 0.001))
    assert found.members.shape == (MEMBERS, 81)
    at_mired, duv = mired_duv(uv(found.members * sheet.members))
    for values, middle, spread in ((at_mired, 250.0, 2.5), (duv, 0.001, 0.001)):
        low, mid, high = low_middle_high(values)
        assert mid == pytest.approx(middle, abs=0.25 * spread)
        assert low == pytest.approx(middle - 1.645 * spread, abs=0.4 * spread)
        assert high == pytest.approx(middle + 1.645 * spread, abs=0.4 * spread)


def test_a_sensor_of_its_own_is_wider_than_a_meter() -> None:
    """15 mired and 0.006 Duv in place of 1 percent and 0.001; tint steps of unknown size add."""
    meter = ReadColour(5000.0, 0.004).doubt("x")
    sensor = ReadColour(5000.0, 0.004, sensor=True).doubt("x")
    tinted = ReadColour(5000.0, 0.004, tint_duv=0.004).doubt("x")
    assert meter.std(axis=0) == pytest.approx([2.0, 0.001], rel=0.1)
    assert sensor.std(axis=0) == pytest.approx([15.0, 0.006], rel=0.1)
    assert tinted[:, 0] == pytest.approx(meter[:, 0])
    assert tinted[:, 1].std() > 2 * meter[:, 1].std()


def test_a_reading_that_no_change_explains_is_refused() -> None:
    """A lamp of one line cannot become a blue sky."""
    with pytest.raises(EvencastError) as caught:
        through(builtin("low-pressure sodium"), "half CTO", read=ReadColour(7000.0, 0.0))
    assert caught.value.what == (
        "low-pressure sodium cannot have become one that reads 7000 K with a Duv of +0 "
        "through what hangs there"
    )


def test_a_turned_dial_leaves_green_in_doubt_by_how_far_it_was_turned() -> None:
    """0.003 Duv in one standard deviation over 100 mired and more, half of it over 50, nothing
    over none; the Kelvin of every member is kept."""
    lamp = through(builtin("LED phosphor 3000 K B2"), read=ReadColour(4000.0, 0.0))
    was_mired, was_duv = mired_duv(uv(lamp.members))
    for turned, spread in ((0.0, 0.0), (50.0, 0.0015), (-100.0, 0.003), (300.0, 0.003)):
        found = straying(lamp, mired_turned=turned, key="x")
        at_mired, duv = mired_duv(uv(found.members))
        assert at_mired == pytest.approx(was_mired, abs=1e-3)
        assert (duv - was_duv).std() == pytest.approx(spread, rel=0.1, abs=1e-6)
        assert low_middle_high(duv - was_duv)[1] == pytest.approx(0.0, abs=1e-6)


def test_what_is_set_otherwise_does_to_it_what_it_does_to_the_lamp() -> None:
    """A lamp that reads warmer than it was taken for, dimmed a stop: its spectrum and all it may
    be times the ratio of the dimmed lamp to the full one."""
    lamp = of_kelvin(3200.0)
    now = through(lamp, read=ReadColour(3000.0, 0.0))
    dimmed = dim_tungsten(lamp, 1.0)
    found = changed(now, before=lamp, after=dimmed)
    ratio = dimmed.power / lamp.power
    assert found.power == pytest.approx(now.power * ratio)
    assert found.members == pytest.approx(now.members * ratio)
