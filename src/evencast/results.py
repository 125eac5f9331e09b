"""What every command answers, as plain data: the same for terminal, JSON and page.

Field names are the outward contract: they may be added to, never renamed. A value that
does not exist is None, never nan.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from evencast.errors import Problem

Band = dict[str, tuple[float | None, float | None]]
"""Lowest and highest value of a quantity, 5 to 95 percent."""


@dataclass(frozen=True)
class LightReading:
    """The colour of a light.

    state         : "ok", or "no_cct" above 100 000 K, below 1000 K or beyond 0.05 Duv
    cct_k         : correlated colour temperature, K; None without one
    duv           : distance from the Planckian locus, CIE 1960 uv, + greener
    mired         : 1e6 / cct_k; None without one
    green_duv     : Duv beside that of the white this Kelvin stands for (daylight has
                    +0.003), + greener; None without a CCT
    x, y          : CIE 1931 chromaticity
    ra, r9, rf, rg, ssi : quality of light; None: not computed by this version
    ssi_reference : what the SSI would be measured against; None with `ssi`
    kind          : technology of the light
    assumed       : True where the spectrum was made up to fit a reading
    """

    state: Literal["ok", "no_cct"]
    cct_k: float | None
    duv: float | None
    mired: float | None
    green_duv: float | None
    x: float | None
    y: float | None
    kind: str
    assumed: bool
    ra: float | None = None
    r9: float | None = None
    rf: float | None = None
    rg: float | None = None
    ssi: float | None = None
    ssi_reference: str | None = None


@dataclass(frozen=True)
class LightAnswer(LightReading):
    """`light`: a light's colour, its name and a note."""

    name: str = ""
    note: str = ""
    cautions: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class ThroughAnswer:
    """`through`: what a stack does to a light.

    shift_mired : filtered minus bare, + warmer; None where either has no CCT
    shift_duv   : filtered minus bare, + greener
    loss_stops  : light lost
    nominal     : False only if every sheet in the stack was measured
    band        : None: this version gives the nominal answer alone
    notes       : what to know beside the numbers
    """

    light: str
    filters: list[str]
    bare: LightReading
    filtered: LightReading
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float
    nominal: bool
    band: Band | None
    notes: list[str]
    cautions: list[str]


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
    """One stack in front of one light, against its aim."""

    filters: list[str]
    filtered: LightReading
    miss_uv: float
    residual_mired: float | None
    residual_duv: float | None
    loss_stops: float
    within_tolerance: bool
    band: Band | None
    cautions: list[str]


@dataclass(frozen=True)
class Proven:
    """What was proven: the least objective over every stack, up to that many layers.

    objective : miss plus the prices of sheets and stops, CIE 1960 uv
    gap       : 0: every stack was looked at
    """

    objective: float
    layers: int
    gap: float


@dataclass(frozen=True)
class MatchAnswer:
    """`match`: the best stacks for one light.

    reached  : whether any stack, or none at all, is inside the tolerance
    choices  : best first; no filter is one of the candidates
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
    proven: Proven
    searched: int
    problems: list[Problem]


@dataclass(frozen=True)
class PlannedLight:
    """`solve`: what to do with one light.

    aim          : where it shall be; residuals are against it
    move         : "filter", "dial", "dial and filter", "leave", or "nothing reaches it"
    dial_k       : what an adjustable light is set to; None if it is not
    scrims       : none in this version
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
    tolerance: ToleranceAnswer
    band: Band | None
    reason: str
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


@dataclass(frozen=True)
class CatalogueLight:
    """One built-in light."""

    name: str
    aliases: list[str]
    reading: LightReading
    fitting: str
    note: str


@dataclass(frozen=True)
class CatalogueFilter:
    """One filter, with what it does to the light it is usually named for.

    on_k : the white it is stated on: 3200 K for the blue series, 5600 K for most others
    """

    name: str
    role: str
    series: str
    on_k: float
    shift_mired: float | None
    shift_duv: float | None
    loss_stops: float
    loss_range_stops: tuple[float, float] | None
    measured: bool
    note: str


@dataclass(frozen=True)
class Places:
    """`where`: the version and where things lie."""

    version: str
    program: str
    library: str
    log: str
