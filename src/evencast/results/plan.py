"""What is told of a plan."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.results.choice import AimAnswer, ToleranceAnswer
from evencast.results.expose import CircuitLoad, Cure
from evencast.results.exposure import SceneExposure, SoftnessAnswer, ViewAnswer
from evencast.results.handout import HandoutFile
from evencast.results.light import Band, LightReading
from evencast.results.spot import SpotAnswer


@dataclass(frozen=True)
class PlannedLight:
    """`solve`: what to do with one light.

    aim          : where it shall be; residuals are against it
    move         : "filter", "dial", "dial and filter", "dim", "swap" and so on, "switch off",
                   "leave", or "nothing reaches it"
    dial_k, dim_stops, swapped_for : how it is set; None or 0 where it is not
    scrims       : in it
    pieces, area_m2, minutes : of sheet to cut, in all, and how long it all takes
    bare, filtered : as the lamp is, and as it shall hang
    loss_stops   : lost to filters, scrims and dimmer
    filter_stops : lost to filters
    level_stops  : over (+) or under the level it shall have; None where that is not judged
    within_tolerance : whether colour and, where it is judged, level are inside
    harmless     : whether it is off its aim and left, as it moves no spot out of its tolerance
    notes        : how its file was read, what a reading leaves open
    cures        : ways to its level where it misses it, cheapest first
    softness     : where its size or its frost is known
    searched     : stacks looked at
    """

    name: str
    role: str
    move: str
    dial_k: float | None
    dim_stops: float
    swapped_for: str | None
    aim: AimAnswer
    filters: list[str]
    scrims: list[str]
    pieces: int
    area_m2: float
    minutes: float
    bare: LightReading
    filtered: LightReading
    residual_mired: float | None
    residual_duv: float | None
    loss_stops: float
    filter_stops: float
    level_stops: float | None
    within_tolerance: bool
    harmless: bool
    share_within: float
    tolerance: ToleranceAnswer
    band: Band | None
    reason: str
    notes: list[str]
    cautions: list[str]
    cures: list[Cure]
    softness: SoftnessAnswer | None
    searched: int


@dataclass(frozen=True)
class AlternativeLight:
    """What to do with one light in another way: the same as of a `PlannedLight`."""

    name: str
    move: str
    dial_k: float | None
    dim_stops: float
    swapped_for: str | None
    filters: list[str]
    scrims: list[str]


@dataclass(frozen=True)
class Alternative:
    """The scene done another way, for comparison.

    name        : "best", a balance, "fewest pieces", "least area"
    balance     : the camera's
    pieces, area_m2, minutes : in all
    loss_stops  : lost to filters by the light that loses most
    worst       : the light furthest from its aim by its tolerance, and what it misses it by;
                  None where the plan has no light
    off_colour  : lights outside their tolerance
    off_level   : lights too dark or too bright
    cost        : by the plan's weights, in sheets; the best has the least of all balances that
                  are to choose from
    lights      : what to do with each, in the plan's order
    """

    name: str
    balance: AimAnswer
    pieces: int
    area_m2: float
    minutes: float
    loss_stops: float
    loses_most: str | None
    worst: str | None
    worst_mired: float | None
    worst_duv: float | None
    off_colour: list[str]
    off_level: list[str]
    cost: float
    lights: list[AlternativeLight]


@dataclass(frozen=True)
class SceneProven:
    """What was proven of the whole.

    objective : cost of the best plan, in sheets by the plan's weights
    bound     : nothing costs less, by every stack's nominal spectrum
    gap       : what may at most be gained, as a share of the cost; 0 is proven best
    layers    : most sheets in a stack
    balances  : to choose from
    looked_at : of these, the ones that a bound did not rule out
    pool      : options judged by all that sheets and lights may be, over all lights and balances
    """

    objective: float
    bound: float
    gap: float
    layers: int
    balances: int
    looked_at: int
    pool: int


@dataclass(frozen=True)
class Wanting:
    """What one more sheet would buy.

    text : in words
    saves : how much less the plan would cost, in sheets
    """

    filter: str
    text: str
    saves: float


@dataclass(frozen=True)
class SolveAnswer:
    """`solve`: the whole scene at one balance.

    balance      : the camera's, chosen or given
    why          : the reason for the balance, in sentences
    spots        : what falls there together
    exposure     : every level known, key and fill together; None where no level is
    views        : seen through windows
    alternatives : the best and others beside it
    wanting      : of filters that ran out, what one sheet more would buy
    conflict     : where not everything can be had, the smallest set of wishes that exclude each
                   other, in words
    circuits     : what hangs on each
    kept_in      : the document that it was written into; None where it was not
    """

    plan: str
    setup: str | None
    kit: str
    balance: AimAnswer
    why: str
    lights: list[PlannedLight]
    spots: list[SpotAnswer]
    exposure: SceneExposure | None
    views: list[ViewAnswer]
    alternatives: list[Alternative]
    wanting: list[Wanting]
    conflict: list[str]
    circuits: list[CircuitLoad]
    pieces: int
    area_m2: float
    minutes: float
    proven: SceneProven
    problems: list[Problem]
    kept_in: str | None


@dataclass(frozen=True)
class DemoAnswer:
    """`demo`: the invented job, solved.

    files    : names of its documents
    handouts : what was made of them for paper; empty where nothing was written
    """

    written_to: str | None
    files: list[str]
    handouts: list[HandoutFile]
    solved: SolveAnswer
