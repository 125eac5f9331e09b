"""What is told of exposure, of a lighting ratio and of the load on a circuit."""

from __future__ import annotations

from dataclasses import dataclass

Range = tuple[float, float]
"""Least and most."""


@dataclass(frozen=True)
class Cure:
    """One way to the stop that is wanted.

    gain_stops : what it gives at least and at most, + brighter; the whole gap where it can be
                 had in full
    enough     : whether its most reaches the least gap
    """

    text: str
    gain_stops: Range
    enough: bool


@dataclass(frozen=True)
class ExposeAnswer:
    """`expose`: the stop that a light gives at the subject.

    light           : the light's name
    known_by        : what its level was taken from
    count           : how many of it shine on the subject
    distance_m      : from the light to the subject; None where it is not known
    candela         : of one of them, before sheets; None unless watts or candelas were given
    bare_lux        : at the subject without sheets and scrims; None where a stop was read
    illuminance_lux : at the subject with them; None where a stop was read
    filters, scrims : what stands in front of it
    filter_loss_stops : what the filters take, the middle of what they may
    loss_stops      : what filters and scrims take, 5th to 95th percentile for the filters
    exposure_index  : as ISO speed
    exposure_s      : time of one frame
    frames_per_s    : frame rate
    meter_constants : constants of ISO 2720 that the range spans, disc and dome, or the person's
                      own twice; None where a stop was read, which needs none
    f_number        : the stop, least and most
    want            : the stop wanted, or None
    gap_stops       : what is missing to it, + too little light; None without `want`
    cures           : ways to it
    """

    light: str
    known_by: str
    count: int
    distance_m: float | None
    candela: Range | None
    bare_lux: Range | None
    illuminance_lux: Range | None
    filters: list[str]
    scrims: list[str]
    filter_loss_stops: float
    loss_stops: Range
    exposure_index: float
    exposure_s: float
    frames_per_s: float
    meter_constants: Range | None
    f_number: Range
    want: float | None
    gap_stops: Range | None
    cures: list[Cure]
    notes: list[str]
    cautions: list[str]


@dataclass(frozen=True)
class RatioAnswer:
    """`ratio`: key and fill, each light alone, in both definitions.

    unit : of key and fill: "lx", "fc" or "f" for a stop
    asked : the ratio a fill was asked for, or None where both were read
    fills : by definition the fill as read; one and the same where it was read
    key_to_fill, sum_to_fill : the ratio of the first of them, as a number to one
    key_to_fill_stops, sum_to_fill_stops : the same in stops
    """

    unit: str
    key: float
    asked: float | None
    fill_by_key_to_fill: float
    fill_by_sum_to_fill: float
    key_to_fill: float
    sum_to_fill: float
    key_to_fill_stops: float
    sum_to_fill_stops: float
    notes: list[str]


@dataclass(frozen=True)
class Circuit:
    """One circuit of a split: what hangs on it, and its amps."""

    loads: list[str]
    amps: float


@dataclass(frozen=True)
class LoadAnswer:
    """`load`: whether a circuit carries a set of loads.

    watts     : in all, as the plates say; None where one of them says amps alone
    amps      : drawn in all, power factors counted
    limit_a   : what may hang on it for long: the breaker times the margin
    left_a    : limit minus amps; negative is too much
    fits      : whether it does
    split     : a way to share them out where they are too much for one circuit; empty where
                they fit, or where one load alone is too much
    """

    volts: float
    breaker_a: float
    margin: float
    watts: float | None
    amps: float
    limit_a: float
    left_a: float
    fits: bool
    split: list[Circuit]
    notes: list[str]
    cautions: list[str]


@dataclass(frozen=True)
class CircuitLoad:
    """One circuit of a plan.

    name      : of the circuit
    lights    : all that hang on it, by name
    uncounted : those of them of which nothing says what they draw
    load      : what the others draw from it; it holds for those alone
    """

    name: str
    lights: list[str]
    uncounted: list[str]
    load: LoadAnswer
