"""The small sums of the pocket page: their fields, what they go by, and how to do them by hand.

The sums themselves are functions of `data/pages/sums.js`, since the page has to do them without
this program; tests hold every one of them against the functions here and below.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from evencast.camera.exposure import MARKS, THIRDS_BELOW_1
from evencast.camera.ratio import Ratio
from evencast.colour.whites import COOLEST_WHITE_K, WARMEST_WHITE_K
from evencast.lights.level import NEAR_SIZES, SCRIM_STOPS, moving_stops
from evencast.quantities import THIRDS, mired, mired_shift, say_stops, say_turn, stops_of_density
from evencast.tables import page_text


@dataclass(frozen=True, slots=True)
class Field:
    """A number to be typed.

    key    : what the sum calls it
    value  : to begin with
    least, most : what is taken
    less, more  : what its minus and plus do: "+5" adds, "*2" doubles, "mark+1" goes by an iris
    before : what stands before the number: "f/"
    whole  : whether it is a count
    """

    key: str
    name: str
    value: str
    least: float
    most: float
    less: str
    more: str
    unit: str = ""
    before: str = ""
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Sum:
    """One sum of the page.

    key     : its function in the script
    units   : what its readings may be in, by what the function takes; none mostly
    note    : what it leaves out
    """

    key: str
    title: str
    fields: tuple[Field, ...]
    note: str = ""
    units: tuple[tuple[str, str], ...] = ()


def _kelvin(key: str, name: str, value: str) -> Field:
    return Field(key, name, value, WARMEST_WHITE_K, COOLEST_WHITE_K, "-50", "+50", unit="K")


def _metres(key: str, name: str, value: str) -> Field:
    return Field(key, name, value, 0.1, 1000, "-0.5", "+0.5", unit="m")


def _reading(key: str, name: str, value: str) -> Field:
    return Field(key, name, value, 0.001, 1e6, "*0.5", "*2")


def _taken(key: str, when: str) -> tuple[Field, ...]:
    """How a frame is taken."""
    return (
        Field(f"index{key}", f"Index {when}", "800", 1, 1e6, "*0.5", "*2"),
        Field(f"parts{key}", f"Time {when}", "50", 0.01, 1e5, "*0.5", "*2", "s", "1/"),
        Field(f"stop{key}", f"Stop {when}", "4", 0.5, 64, "mark-1", "mark+1", before="f/"),
    )


def _scrims() -> tuple[Field, ...]:
    return tuple(
        Field(
            name, name.capitalize(), "1" if name == "single" else "0", 0, 6, "-1", "+1", whole=True
        )
        for name in SCRIM_STOPS
    )


SUMS = (
    Sum(
        "stops",
        "Stops and ratio",
        (
            Field("ratio", "Ratio, to 1", "4", 1e-4, 1e6, "*0.5", "*2"),
            Field("stops", "Stops", "1.5", 0, 20, "-0.5", "+0.5"),
        ),
    ),
    Sum(
        "distance",
        "Distance",
        (
            _metres("from", "From", "3"),
            _metres("to", "To", "4"),
            Field("change", "Wanted in stops, + brighter", "1", -10, 10, "-0.5", "+0.5"),
        ),
        f"By inverse square, which holds from about {NEAR_SIZES:g} times the light's size on "
        "(common practice, no source). Nearer, moving does less: meter it.",
    ),
    Sum("scrims", "Scrims", _scrims()),
    Sum(
        "density",
        "ND",
        (
            Field("density", "Density", "0.6", 0, 6, "-0.3", "+0.3"),
            Field("stops", "Stops", "2", 0, 20, "-0.5", "+0.5"),
        ),
    ),
    Sum(
        "ratio",
        "Key and fill",
        (
            _reading("key", "Key alone", "400"),
            _reading("fill", "Fill alone", "100"),
            Field("wanted", "Wanted ratio, to 1", "4", 1.01, 1e4, "-0.5", "+0.5"),
        ),
        "Each light read alone: disc towards the lamp, the other shaded. Say which of the two "
        "ratios is meant.",
        (("lx", "lux or foot-candles"), ("f", "f-stops")),
    ),
    Sum(
        "mired",
        "Kelvin and mired",
        (
            _kelvin("from", "From", "3200"),
            _kelvin("to", "To", "5600"),
            Field("shift", "Shift in mired, + warmer", "-134", -1000, 1000, "-5", "+5"),
        ),
        "Arithmetic on Kelvin alone. A sheet turns every lamp otherwise: for real sheets go by the "
        "stacks and the kit above.",
    ),
    Sum(
        "shutter",
        "Shutter",
        (
            Field("angle", "Angle in degrees", "180", 1, 360, "-5", "+5"),
            Field("frames", "Frames per second", "25", 0.01, 1e4, "-1", "+1"),
        ),
    ),
    Sum("exposure", "Exposure", (*_taken("", "before"), *_taken("2", "now"))),
)


def by_hand() -> list[str]:
    """The same for a head, or for a page whose script does not run."""
    densities = (0.3, 0.6, 0.9, 1.2)
    four = Ratio(key=4.0, fill=1.0)
    shift = mired_shift(from_k=3200, to_k=5600)
    return [
        "A stop doubles or halves the light: 2 stops are 4:1, 3 stops 8:1.",
        f"Half the distance is {say_stops(moving_stops(from_m=2, to_m=1))} brighter, twice the "
        f"distance {say_stops(moving_stops(from_m=1, to_m=2))} darker; 1.4 times the distance "
        f"{say_stops(moving_stops(from_m=1, to_m=1.4))} darker.",
        f"A single scrim takes {SCRIM_STOPS['single'][1]:g} stop, a double "
        f"{SCRIM_STOPS['double'][1]:g}; a half scrim takes it in half of the beam.",
        f"ND {', '.join(f'{each:g}' for each in densities)} take "
        f"{', '.join(f'{stops_of_density(each):.0f}' for each in densities)} stops: filter factors "
        f"{', '.join(f'{10**each:.0f}' for each in densities)}.",
        f"{four.key:g}:1 as key to fill is 2 stops; the same lights are {four.sum_to_fill:g}:1 as "
        "key + fill to fill.",
        f"Mired is 1 000 000 / K: 3200 K is {mired(3200):.0f}, 5600 K {mired(5600):.0f}, from one "
        f"to the other {say_turn(shift)}.",
        "Twice the index is 1 stop brighter; half the exposure time 1 stop darker; from f/4 to "
        "f/5.6 1 stop darker.",
    ]


def known() -> dict[str, object]:
    """The numbers and marks that the functions of the script go by, as the program has them."""
    return {
        "scrim_stops": SCRIM_STOPS,
        "thirds": THIRDS,
        "marks": MARKS,
        "thirds_below_1": THIRDS_BELOW_1,
        "least_k": WARMEST_WHITE_K,
        "most_k": COOLEST_WHITE_K,
    }


def sums_script() -> str:
    """The functions of the sums with what they go by: they touch no page."""
    return f"const known = {json.dumps(known())};\n{page_text('sums.js')}"
