"""What is told of a trim: one change to a light as it hangs and reads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.errors import Problem
from evencast.results.choice import AimAnswer, ToleranceAnswer
from evencast.results.expose import Range

Move = Literal["leave", "dial", "take out", "add", "exchange", "scrim", "dim", "move"]


@dataclass(frozen=True)
class Hangs:
    """What stands in front of a light and how it is set.

    frost      : what it shines through besides, that no trim touches: frost, panes
    dial_k     : None where it was never noted, and for lights without a dial
    distance_m : from the light to the subject; None where it is not known
    """

    filters: list[str]
    frost: list[str]
    scrims: list[str]
    dial_k: float | None
    dim_stops: float
    swapped_for: str | None
    distance_m: float | None


@dataclass(frozen=True)
class Left:
    """What is left between a light and its aim, the middle of what it may be.

    residual_mired : + warm; None without a colour temperature, or where no colour was read
    residual_duv   : + green; None where no colour was read
    over_stops     : how much brighter than wanted, least and most; None where that is not known
    within_tolerance : of the colour; None where no colour was read
    share_within   : share of what it may be that is inside
    level_met      : whether the level is as wanted; None where that is not known
    """

    residual_mired: float | None
    residual_duv: float | None
    over_stops: Range | None
    within_tolerance: bool | None
    share_within: float | None
    level_met: bool | None


@dataclass(frozen=True)
class AsRead:
    """A reading of a light as it hangs.

    known_by : "meter", "camera", or None where no colour was read
    level    : the level as it was read, in words; None where none was
    f_number : the stop it gives at the camera's index and shutter, least and most
    """

    known_by: str | None
    cct_k: float | None
    mired: float | None
    duv: float | None
    level: str | None
    f_number: Range | None
    time: str | None
    sky: str | None


@dataclass(frozen=True)
class TrimAnswer:
    """`trim`: one change that brings a light as it hangs nearest to its aim.

    hangs_by    : "rigged", "planned", or None where the set-up says nothing of it
    expected_k, expected_duv : what it should read through what hangs, if the light were as taken
    moved_mired, moved_duv   : how the bare light differs from what it was taken for, or from what
                  explains the reading before, + warmer, + greener; None where no colour was read
    moved_since : what it is compared with
    wanted_level : what the level is held against; None where it is not judged
    trim        : the change, in words: "leave", "add eighth CTB", "double out"
    then        : what comes next, such as the level where the trim was of the colour; or None
    """

    plan: str
    setup: str | None
    light: str
    role: str
    balance: AimAnswer
    aim: AimAnswer
    tolerance: ToleranceAnswer
    tolerance_stops: float
    hangs_by: str | None
    hangs: Hangs
    read: AsRead
    expected_k: float | None
    expected_duv: float | None
    moved_mired: float | None
    moved_duv: float | None
    moved_since: str | None
    wanted_level: str | None
    before: Left
    trim: str
    move: Move
    after_hangs: Hangs
    after: Left
    then: str | None
    why: str
    notes: list[str]
    cautions: list[str]
    problems: list[Problem]
