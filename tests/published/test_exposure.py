"""Exposure: the incident equation of ISO 2720, shutters, densities, distance, T-stops, ratios."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from evencast.camera import exposure
from evencast.camera.ratio import Ratio
from evencast.lights.level import Level, moving_stops, of_candela, total
from evencast.quantities import stops_of_density, stops_of_ratio
from tests.published import rows

ROWS = rows.read("exposure")
NOT_COMPUTED = {
    "iso-K-lo": "10.6: reflected readings are not computed",
    "iso-K-hi": "13.4: reflected readings are not computed",
    "iso-R": "0.157, pi K / C: reflected readings are not computed",
    "meter-tol": "1/3 stop: says what a meter may err by, nothing to compute",
}
RULE = "rule-100fc"
CONSTANTS = {
    "iso-C-flat-lo": exposure.DISC_CONSTANTS[0],
    "iso-C-flat-hi": exposure.DISC_CONSTANTS[1],
    "iso-C-flat-common": exposure.DISC_CONSTANT,
    "iso-C-hemi-lo": exposure.DOME_CONSTANTS[0],
    "iso-C-hemi-hi": exposure.DOME_CONSTANTS[1],
}
FILM_S = 1 / 48
"""24 frames a second, 180 degrees."""


def inputs(row: rows.Row) -> dict[str, float]:
    """The named numbers of "N = 4.0000, S = 800, t = 1/48 s, C = 250"."""
    found = {}
    for part in row.input.split(","):
        name, *_, value = (each.strip() for each in part.split("="))
        first, _, last = value.split()[0].partition("/")
        found[name] = float(first) / float(last or 1)
    return found


def footcandles(row: rows.Row) -> float:
    return exposure.lux(row.numbers()[0])


def stop_row(row: rows.Row) -> float:
    given = inputs(row)
    return exposure.f_number(
        exposure.lux(100.0), index=given["S"], exposure_s=given["t"], constant=given["C"]
    )


def needed_row(row: rows.Row) -> float:
    given = inputs(row)
    return exposure.illuminance_lux(
        given["N"], index=given["S"], exposure_s=given["t"], constant=given["C"]
    )


def working_formula(row: rows.Row) -> float:
    """Foot-candles of 25 T^2 / (ISO t), which is the equation with C = 25 fc."""
    stop, index = {"rule-25": (4.0, 800.0), "rule-25-b": (2.8284, 100.0)}[row.id]
    needed = exposure.illuminance_lux(
        stop, index=index, exposure_s=FILM_S, constant=exposure.lux(25.0)
    )
    return needed / exposure.LUX_PER_FOOTCANDLE


def rule_constant(row: rows.Row) -> float:
    return exposure.meter_constant(
        exposure.lux(100.0), f_number=row.numbers()[-1], index=100.0, exposure_s=FILM_S
    )


def shutter_row(row: rows.Row) -> float:
    angle, frames = row.numbers()
    return exposure.exposure_s(shutter_deg=angle, frames_per_s=frames)


def transmittance_row(row: rows.Row) -> float:
    """What a loss leaves of a level of 1."""
    whole, _, part = row.input.removesuffix(" stop").rpartition(" ")
    top, _, bottom = part.partition("/")
    stops = float(whole or 0) + float(top) / float(bottom or 1)
    return Level(1.0, 1.0, "lux", 1.0).losing(stops, stops).low


def moved_row(row: rows.Row) -> float:
    """By moving a level, and by the rule for moving."""
    from_m, to_m = row.numbers()
    level = Level(100.0, 100.0, "lux", from_m)
    changed = -stops_of_ratio(level.moved(to_m).low / level.low)
    assert changed == pytest.approx(moving_stops(from_m=from_m, to_m=to_m), abs=1e-12)
    return changed


def candela_row(row: rows.Row) -> float:
    distance_m = {"invsq-cd-fc": 10 * 0.3048, "invsq-cd-lux": 3.048}[row.id]
    lux = of_candela(10_000.0, 10_000.0, distance_m=distance_m).low
    return lux / exposure.LUX_PER_FOOTCANDLE if row.unit == "fc" else lux


def sum_row(row: rows.Row) -> float:
    count = {"sum-sources": 2, "sum-sources-3": 3}[row.id]
    one = Level(5.0, 5.0, "lux", 2.0)
    assert one.times(count).low == total([one] * count).low
    return -stops_of_ratio(total([one] * count).low / one.low)


def t_stop_row(row: rows.Row) -> float:
    """Marked f/2.8; f/2.8 is 2.8 here, as marked, not 2.8284."""
    _, stop, transmittance = row.id.split("-")
    return exposure.t_number(float(stop), transmittance=float(transmittance))


def full_stop_row(row: rows.Row) -> float:
    """So many stops closed from f/1."""
    stop = float(row.id.removeprefix("fstop-"))
    closed = math.sqrt(2.0) ** stop
    assert exposure.stops_between(1.0, closed) == pytest.approx(stop, abs=1e-12)
    level = exposure.meter_level(1.0, index=100.0, exposure_s=1.0) * 2.0**stop
    return exposure.f_number(level, index=100.0, exposure_s=1.0)


def ratio_row(row: rows.Row) -> float:
    key, fill = row.numbers()
    return Ratio(key, fill).sum_to_fill


def ev_row(row: rows.Row) -> float:
    return row.numbers()[0] * exposure.meter_level_of_ev(0.0)


COMPARED: dict[str, Callable[[rows.Row], float]] = {
    "fc-lux": footcandles,
    "iso-C": lambda row: CONSTANTS[row.id],
    "iso-N": stop_row,
    "iso-E": needed_row,
    "rule-100fc-C": rule_constant,
    "rule-25": working_formula,
    "shutter": shutter_row,
    "density": lambda row: stops_of_density(row.numbers()[0]),
    "factor": lambda row: stops_of_ratio(1.0 / row.numbers()[0]),
    "stops-to-T": transmittance_row,
    "invsq-cd": candela_row,
    "invsq": moved_row,
    "sum-sources": sum_row,
    "tstop": t_stop_row,
    "fstop": full_stop_row,
    "ratio": ratio_row,
    "ev-lux": ev_row,
}
"""By how an id begins; the first that fits counts."""

OWN = {name: row for name, row in ROWS.items() if name not in NOT_COMPUTED and name != RULE}


@pytest.mark.parametrize("row", OWN.values(), ids=OWN)
def test_row(row: rows.Row) -> None:
    begins = next(each for each in COMPARED if row.id.startswith(each))
    row.holds(COMPARED[begins](row))


def test_the_rule_of_thumb_lies_between_disc_and_dome() -> None:
    """100 fc, ISO 100, f/2.8 at 1/48 s: a disc says f/3.0, a dome f/2.6, their middle f/2.79."""
    disc, dome = (
        exposure.f_number(exposure.lux(100.0), index=100.0, exposure_s=FILM_S, constant=each)
        for each in (exposure.DISC_CONSTANT, exposure.DOME_CONSTANT)
    )
    assert (disc, dome) == pytest.approx((2.995, 2.607), abs=1e-3)
    assert exposure.stops_between(dome, disc) == pytest.approx(0.40, abs=0.005)
    ROWS[RULE].holds(math.sqrt(disc * dome))


def test_every_row_is_accounted_for() -> None:
    """86 rows are evencast's own, one is a rule of thumb, 4 are not computed."""
    assert sorted([*OWN, RULE, *NOT_COMPUTED]) == sorted(ROWS)
    assert (len(OWN), len(NOT_COMPUTED)) == (86, 4)
