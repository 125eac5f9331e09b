"""What is told of a plan as it hangs in a set-up, nothing solved."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.results.choice import AimAnswer, ToleranceAnswer
from evencast.results.expose import CircuitLoad
from evencast.results.exposure import SceneExposure, ViewAnswer
from evencast.results.light import Band, LightReading
from evencast.results.spot import SpotAnswer
from evencast.results.trim import Hangs


@dataclass(frozen=True)
class ReadOnSet:
    """What was noted of a light as it hangs, as the set-up says it.

    text : in words: "5480 K, Duv +0.001, f/4"
    time, sky, frame : None where they were not noted
    """

    text: str
    time: str | None
    sky: str | None
    frame: str | None


@dataclass(frozen=True)
class HangingLight:
    """One light as it hangs.

    known_by     : "rigged", "planned", or None where the set-up says nothing and it stands bare
    off          : whether it is switched off; residuals are None then
    aim          : where it shall be; residuals are against it
    bare, filtered : the lamp as it is, and as it hangs
    filter_stops : lost to sheets
    scrim_stops  : lost to scrims
    level_stops  : over (+) or under the level it shall have, the middle of what it may be; None
                   where that is not judged
    within_tolerance : of colour and, where it is judged, level
    harmless     : whether it is off its aim and may be left, as it moves no spot that it reaches
                   out of its tolerance
    share_within : share of what its colour may be that is inside
    read_residual_mired, read_residual_duv : of what was read of it against the aim, Duv as
                   computed where none was read; None where no colour was read
    read_within  : whether that is inside the tolerance of colour; None likewise
    """

    name: str
    role: str
    known_by: str | None
    hangs: Hangs
    off: bool
    aim: AimAnswer
    bare: LightReading
    filtered: LightReading
    residual_mired: float | None
    residual_duv: float | None
    filter_stops: float
    scrim_stops: float
    level_stops: float | None
    within_tolerance: bool
    harmless: bool
    share_within: float
    tolerance: ToleranceAnswer
    band: Band | None
    read: ReadOnSet | None
    read_residual_mired: float | None
    read_residual_duv: float | None
    read_within: bool | None
    notes: list[str]
    cautions: list[str]


@dataclass(frozen=True)
class HangsAnswer:
    """A plan as it hangs in a set-up, at one balance: every number by multiplying spectra anew.

    setup : its name; None for the lamps as they stand in the plan, all bare
    stale : whether plan or kit were changed since its `planned` was worked out; None where nothing
            was planned, or nothing says for what
    """

    plan: str
    setup: str | None
    kit: str
    stale: bool | None
    balance: AimAnswer
    lights: list[HangingLight]
    spots: list[SpotAnswer]
    exposure: SceneExposure | None
    views: list[ViewAnswer]
    circuits: list[CircuitLoad]
    problems: list[Problem]
