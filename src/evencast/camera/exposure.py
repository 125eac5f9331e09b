"""Exposure by an incident reading, and the numbers a lens and a shutter are marked with.

Source  N^2 / t = E S / C, the incident equation of ISO 2720:1974, with the ranges of its
        constant C as they are publicly quoted: 240 to 400 for a flat receptor (disc), 320 to
        540 for a dome. Most meters use 250 and 330 or so: common practice.
"""

from __future__ import annotations

import math

LUX_PER_FOOTCANDLE = 1.0 / 0.3048**2
"""One lumen per square foot, the foot of 0.3048 m."""

DISC_CONSTANT, DOME_CONSTANT = 250.0, 330.0
"""C in common use, lx s: a flat disc and a dome. They differ by 0.40 stop."""

DISC_CONSTANTS, DOME_CONSTANTS = (240.0, 400.0), (320.0, 540.0)
"""What ISO 2720 allows C to be."""

EV_INDEX = 100.0
"""Exposure values are told for this index."""


def lux(footcandles: float) -> float:
    """Illuminance of so many foot-candles. [lx]"""
    return footcandles * LUX_PER_FOOTCANDLE


def exposure_s(*, shutter_deg: float, frames_per_s: float) -> float:
    """Exposure time of one frame: the open part of the turn. [s]

    shutter_deg : above 0 to 360
    """
    return shutter_deg / 360.0 / frames_per_s


def f_number(
    illuminance_lux: float, *, index: float, exposure_s: float, constant: float = 1.0
) -> float:
    """The stop that a meter of that constant asks for.

    illuminance_lux : in lux; or, with a constant of 1, what `meter_level` gives
    index           : exposure index, as ISO speed
    """
    return math.sqrt(illuminance_lux * index * exposure_s / constant)


def illuminance_lux(f_number: float, *, index: float, exposure_s: float, constant: float) -> float:
    """The light needed for a stop, by a meter of that constant. [lx]"""
    return constant * meter_level(f_number, index=index, exposure_s=exposure_s)


def meter_level(f_number: float, *, index: float, exposure_s: float) -> float:
    """A stop read on a meter, freed of index and shutter: N^2 / (S t) = E / C. [1/s]

    Two readings of one meter compare by it, whatever its constant is.
    """
    return f_number**2 / (index * exposure_s)


def meter_level_of_ev(ev: float) -> float:
    """The same of an exposure value for ISO 100: 2^EV / 100. [1/s]"""
    return math.exp2(ev) / EV_INDEX


def meter_constant(
    illuminance_lux: float, *, f_number: float, index: float, exposure_s: float
) -> float:
    """The constant of a meter that reads this stop in that light. [lx s]"""
    return illuminance_lux / meter_level(f_number, index=index, exposure_s=exposure_s)


def stops_between(f_number: float, other: float) -> float:
    """How many stops further closed the other is. [stop; negative is further open]"""
    return 2.0 * math.log2(other / f_number)


def t_number(f_number: float, *, transmittance: float) -> float:
    """The T-stop of a lens: its f-stop, less what the glass keeps.

    transmittance : above 0 to 1
    """
    return f_number / math.sqrt(transmittance)


def marked_stop(f_number: float) -> str:
    """An f-number as the nearest third on an iris: "f/2.8", "f/3.5".

    Source  full stops are powers of the square root of 2; the marks between are those that
            irises and meters carry, common practice
    """
    thirds = round(6.0 * math.log2(f_number)) + THIRDS_BELOW_1
    if 0 <= thirds < len(MARKS):
        return f"f/{MARKS[thirds]}"
    return f"f/{f_number:.2g}" if f_number < 1 else f"f/{f_number:.0f}"


_FRACTIONS = ("0.5", "0.56", "0.63", "0.7", "0.8", "0.9", "1", "1.1", "1.2", "1.4", "1.6", "1.8")
_SMALL = ("2", "2.2", "2.5", "2.8", "3.2", "3.5", "4", "4.5", "5", "5.6", "6.3", "7.1", "8", "9")
_LARGE = ("10", "11", "13", "14", "16", "18", "20", "22", "25", "28", "32", "36", "40", "45", "50")
MARKS = (*_FRACTIONS, *_SMALL, *_LARGE, "57", "64")
"""Numbers on an iris, a third of a stop apart."""
THIRDS_BELOW_1 = 6
"""So many of them stand before f/1."""
