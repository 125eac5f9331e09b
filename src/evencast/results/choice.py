"""What is told of the best stacks for one light."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.results.light import Band, LightReading


@dataclass(frozen=True)
class AimAnswer:
    """What the light shall look like."""

    label: str
    cct_k: float | None
    mired: float | None
    duv: float
    x: float
    y: float
    stops: float


@dataclass(frozen=True)
class ToleranceAnswer:
    """Allowed residuals: mired from the cool to the warm end, Duv to either side."""

    role: str
    mired_low: float
    mired_high: float
    duv: float


@dataclass(frozen=True)
class Choice:
    """One stack in front of one light, against its aim: middle values, as in `through`.

    miss_uv          : distance from the aim, the mean over all that it may be
    within_tolerance : whether the middle residual is inside
    share_within     : share of what it may be that is inside
    band             : of residual_mired, residual_duv, loss_stops, cct_k, mired and duv; None
                       where every spectrum is known
    """

    filters: list[str]
    filtered: LightReading
    miss_uv: float
    residual_mired: float | None
    residual_duv: float | None
    loss_stops: float
    within_tolerance: bool
    share_within: float
    band: Band | None
    cautions: list[str]


@dataclass(frozen=True)
class Proven:
    """What was proven: the least objective over every stack, up to that many layers.

    objective : miss plus the prices of sheets and stops by nominal spectra, CIE 1960 uv
    gap       : 0: every stack was looked at
    pool      : the best by nominal spectra, put in order by all that sheets and light may be
    """

    objective: float
    layers: int
    gap: float
    pool: int


@dataclass(frozen=True)
class MatchAnswer:
    """`match`: the best stacks for one light.

    reached  : whether any stack, or none at all, is inside the tolerance
    choices  : best first; no filter is one of the candidates
    notes    : what to know of the light: how its file was read, what a reading leaves open
    searched : stacks looked at
    """

    light: str
    kit: str
    aim: AimAnswer
    tolerance: ToleranceAnswer
    bare: LightReading
    reached: bool
    choices: list[Choice]
    no_filter: Choice
    reason: str
    notes: list[str]
    proven: Proven
    searched: int
    problems: list[Problem]
