"""What is told of a plan."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.results.choice import AimAnswer, Proven, ToleranceAnswer
from evencast.results.light import Band, LightReading


@dataclass(frozen=True)
class PlannedLight:
    """`solve`: what to do with one light.

    aim          : where it shall be; residuals are against it
    move         : "filter", "dial", "dial and filter", "leave", or "nothing reaches it"
    dial_k       : what an adjustable light is set to; None if it is not
    scrims       : none in this version
    notes        : how its file was read, what a reading leaves open
    filter_stops : lost to filters
    level_stops  : None: levels are not part of this version
    """

    name: str
    role: str
    move: str
    dial_k: float | None
    aim: AimAnswer
    filters: list[str]
    scrims: list[str]
    bare: LightReading
    filtered: LightReading
    residual_mired: float | None
    residual_duv: float | None
    loss_stops: float
    filter_stops: float
    level_stops: float | None
    within_tolerance: bool
    share_within: float
    tolerance: ToleranceAnswer
    band: Band | None
    reason: str
    notes: list[str]
    cautions: list[str]
    proven: Proven
    searched: int


@dataclass(frozen=True)
class SolveAnswer:
    """`solve`: a plan at a fixed balance. Spots and alternatives are not part of this version."""

    plan: str
    kit: str
    balance: AimAnswer
    lights: list[PlannedLight]
    spots: list[dict[str, float]]
    alternatives: list[dict[str, float]]
    problems: list[Problem]


@dataclass(frozen=True)
class DemoAnswer:
    """`demo`: the invented job, solved."""

    written_to: str | None
    files: list[str]
    solved: SolveAnswer
