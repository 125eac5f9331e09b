"""The worked case of a meter that may be off and a sheet that may be faded: the loss part.

No command takes a reading through a sheet and says what it loses; `expose` says the stop to
expect behind a sound one. So losses are worked out with the functions that readings go through.
They are made up for teaching, as is the surface loss of 0.16 stop. Accepted: 0.05 stop, 0.5
mired of arithmetic.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from evencast.camera.exposure import (
    DISC_CONSTANT,
    DOME_CONSTANT,
    f_number,
    illuminance_lux,
    meter_level_of_ev,
    stops_between,
)
from evencast.colour import xyz
from evencast.filters import generic
from evencast.filters.dyes import dye_set, shift_mired
from evencast.quantities import stops_of_ratio
from evencast.spectra import planckian
from tests.unit.cli.calling import run

BARE_EV, NEW_EV, OLD_EV = 9.0, 7.3, 7.7
SURFACE_STOPS = 0.16
FULL_MIRED = 134.0


def loss_stops(bare_ev: float, through_ev: float) -> float:
    return stops_of_ratio(meter_level_of_ev(through_ev) / meter_level_of_ev(bare_ev))


def test_losses_of_the_new_and_of_the_old_sheet() -> None:
    assert loss_stops(BARE_EV, NEW_EV) == pytest.approx(1.7, abs=1e-12)
    assert loss_stops(BARE_EV, OLD_EV) == pytest.approx(1.3, abs=1e-12)


@pytest.mark.parametrize("off_stops", [-0.75, -0.33, 0.0, 0.4])
@pytest.mark.parametrize("constant", [DISC_CONSTANT, DOME_CONSTANT])
def test_what_a_meter_is_off_by_cancels(off_stops: float, constant: float) -> None:
    """The same lamp at the same place: every reading is off by as much, in EV, in stops and in
    lux of whatever constant."""
    bare, new = BARE_EV + off_stops, NEW_EV + off_stops
    assert loss_stops(bare, new) == pytest.approx(1.7, abs=1e-12)
    level_lux = [constant * meter_level_of_ev(each) for each in (bare, new)]
    assert stops_of_ratio(level_lux[1] / level_lux[0]) == pytest.approx(1.7, abs=1e-12)
    shown = [f_number(each, index=800, exposure_s=1 / 48, constant=constant) for each in level_lux]
    assert stops_between(shown[1], shown[0]) == pytest.approx(1.7, abs=1e-12)


def test_the_old_sheet_passes_more_and_so_is_faded() -> None:
    """2^0.4 = 1.32 times the light, 0.4 stop: more than the 0.15 stop that a meter in thirds can
    miss."""
    faded = loss_stops(BARE_EV, NEW_EV) - loss_stops(BARE_EV, OLD_EV)
    assert faded == pytest.approx(0.4, abs=1e-12)
    more = meter_level_of_ev(OLD_EV) / meter_level_of_ev(NEW_EV)
    assert more == pytest.approx(1.32, abs=0.005)
    assert faded > 0.15


def test_what_dye_is_left_and_what_it_still_shifts() -> None:
    """The surfaces do not fade: 74 % of the density is left, and with it 99 of 134 mired."""
    dye_left = (1.3 - SURFACE_STOPS) / (1.7 - SURFACE_STOPS)
    assert dye_left == pytest.approx(0.74, abs=0.005)
    assert dye_left * FULL_MIRED == pytest.approx(99.0, abs=0.5)
    assert FULL_MIRED * (1 - dye_left) == pytest.approx(35.0, abs=0.5)


def test_a_sheet_with_so_much_of_its_dye_does_so_by_its_spectrum() -> None:
    """A full blue thinned to 74 % of its dye, its clear base kept: between tungsten and what
    comes through lie 99 mired as taught, within 3, and the losses have the taught proportion."""
    tungsten, sheet, base = planckian(3200.0), generic("full CTB"), dye_set("CTB").base

    def lost(through: np.ndarray) -> float:
        return stops_of_ratio(float(xyz(tungsten * through)[1] / xyz(tungsten)[1]))

    faded = base * (sheet.transmittance / base) ** 0.74
    assert float(shift_mired(tungsten, sheet.transmittance)) == pytest.approx(-134, abs=0.5)
    assert float(shift_mired(tungsten, faded)) == pytest.approx(-99, abs=3.0)
    surface = stops_of_ratio(base)
    assert surface == pytest.approx(SURFACE_STOPS, abs=0.05)
    kept = (lost(faded) - surface) / (lost(sheet.transmittance) - surface)
    assert kept == pytest.approx(0.74, abs=0.01)


def test_the_meter_itself_is_within_what_its_standard_leaves_open() -> None:
    """High clear sun, ISO 100, 1/100 s: f/16 is expected, f/14.25 read, 0.33 stop low. The two
    constants in use lie 0.40 stop apart: an offset to note, not a fault of the sheet."""
    low = stops_between(14.25, 16.0)
    assert low == pytest.approx(0.33, abs=0.005)
    apart = math.log2(DOME_CONSTANT / DISC_CONSTANT)
    assert apart == pytest.approx(0.40, abs=0.005)
    assert low < apart
    sun_lux = [
        illuminance_lux(16.0, index=100, exposure_s=1 / 100, constant=constant)
        for constant in (DISC_CONSTANT, DOME_CONSTANT)
    ]
    shown = [
        f_number(sun_lux[0], index=100, exposure_s=1 / 100, constant=constant)
        for constant in (DISC_CONSTANT, DOME_CONSTANT)
    ]
    assert shown[1] < 14.25 < shown[0] == pytest.approx(16.0)


def test_a_sound_sheet_is_told_before_it_is_read() -> None:
    """Bare f/8 behind the taught full blue of 2 stops: the range holds f/4, and ends below what a
    sheet faded by 0.4 stop lets through."""
    kit = str(Path(__file__).with_name("taught_table.toml"))
    asked = ("expose", "tungsten", "--stop", "f/8", "--at", "3m", "--through", "full CTB")
    told = run(*asked, "--kit", kit, "--json").answer
    low, high = told["f_number"]
    sound, faded = 8.0 * 2 ** (-2.0 / 2), 8.0 * 2 ** (-1.6 / 2)
    assert low < sound < high < faded
