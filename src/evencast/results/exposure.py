"""What is told of how much light a plan's lights give, how soft they are, and of views."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.results.expose import Cure, Range

Triple = tuple[float, float, float]
"""Least, middle and most."""


@dataclass(frozen=True)
class LightExposure:
    """One light at the subject, as it hangs.

    known_by        : what its level was taken from
    f_number        : the stop of this light alone, least and most; of a view the stop that
                      renders it as a middle grey
    lux             : of this light alone; None where a stop was read
    over_shot_stops : over (+) or under the stop the camera is set to; None where it has none
    against         : what its aim is counted from: "the shot" or the name of the key light
    aim_stops       : where it shall be against that; None where it is not judged
    gap_stops       : what is missing to its aim, + too little light; None where it is not judged
    tolerance_stops : how far it may be from its aim
    within_tolerance : whether the middle of the gap is inside; None where it is not judged
    """

    name: str
    role: str
    known_by: str
    f_number: Range
    lux: Range | None
    over_shot_stops: Triple | None
    against: str | None
    aim_stops: float | None
    gap_stops: Triple | None
    tolerance_stops: float
    within_tolerance: bool | None
    notes: list[str]


@dataclass(frozen=True)
class RatioRange:
    """A ratio, least, middle and most, as a number to one and in stops."""

    to_one: Triple
    stops: Triple


@dataclass(frozen=True)
class SubjectExposure:
    """Key and fill together at the subject.

    lights          : those of the roles key and fill whose level is known
    unknown         : those whose level is not, which come on top
    lux             : of all of them; None where one was read as a stop
    over_shot_stops : over (+) or under the stop the camera is set to
    key_to_fill     : keys alone to fills alone; None without either
    sum_to_fill     : (keys + fills) to fills
    """

    lights: list[str]
    unknown: list[str]
    f_number: Range
    lux: Range | None
    over_shot_stops: Triple | None
    key_to_fill: RatioRange | None
    sum_to_fill: RatioRange | None
    notes: list[str]


@dataclass(frozen=True)
class SceneExposure:
    """Every light of a plan whose level is known, and what key and fill give together.

    shot_f_number   : what the camera is set to; None where the plan does not say
    meter_constants : constants of ISO 2720 that the ranges span; None where every level was read
                      as a stop
    key             : the light that the others are counted from; None without one
    subject         : None where no key and no fill has a level
    """

    shot_f_number: float | None
    exposure_index: float
    exposure_s: float
    frames_per_s: float
    meter_constants: Range | None
    key: str | None
    lights: list[LightExposure]
    subject: SubjectExposure | None
    notes: list[str]


@dataclass(frozen=True)
class SoftnessAnswer:
    """How soft a light is, bare and with its frost.

    frost             : names of what hangs in any case
    frost_stops       : what it takes, least and most
    bare_size_mm, frost_size_mm : greatest width of what shines without and with it
    bare_seen_deg, frost_seen_deg : the angle under which that is seen from the subject
    edge_mm           : the example: an edge that far in front of the subject
    bare_edge_mm, frost_edge_mm : width of the half-shadow that this edge throws
                        all of these None where size or distance is not known
    """

    frost: list[str]
    frost_stops: Range
    bare_size_mm: float | None
    frost_size_mm: float | None
    bare_seen_deg: float | None
    frost_seen_deg: float | None
    edge_mm: float
    bare_edge_mm: float | None
    frost_edge_mm: float | None
    text: str
    notes: list[str]


@dataclass(frozen=True)
class NdChoice:
    """The ND a view needs, and how the view then looks.

    filters        : sheets in its way besides the ND
    nd             : ND sheets, none where it needs none
    needed_stops   : what they have to take
    needed_density : the same as a density
    at_hand        : whether all of these sheets are in the kit
    over_stops     : over (+) or under the shot with all of them
    residual_mired, residual_duv : colour minus aim, + warm, + green; mired None without a CCT
    within_tolerance : whether the middle of `over_stops` is within its tolerance
    """

    filters: list[str]
    nd: list[str]
    needed_stops: float
    needed_density: float
    at_hand: bool
    over_stops: Triple
    residual_mired: float | None
    residual_duv: float | None
    within_tolerance: bool
    text: str


@dataclass(frozen=True)
class ViewAnswer:
    """A view through a window against the stop the camera is set to.

    bare_over_stops : over (+) or under the shot with nothing in its way
    filters         : the sheets on its panes and its own
    over_stops      : with them
    may_be_stops    : how far over it may be, least and most; None where it is not judged
    residual_mired, residual_duv : its colour minus its aim with them
    nd              : what it needs with those sheets, and without any; empty where not judged
    cures           : ways to get there, cheapest first
    """

    name: str
    bare_over_stops: Range
    filters: list[str]
    over_stops: Triple
    may_be_stops: Range | None
    within_tolerance: bool | None
    residual_mired: float | None
    residual_duv: float | None
    nd: list[NdChoice]
    cures: list[Cure]
    notes: list[str]
    cautions: list[str]
