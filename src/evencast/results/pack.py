"""What is told of a kit to pack."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem
from evencast.results.choice import AimAnswer, ToleranceAnswer


@dataclass(frozen=True)
class Pair:
    """A likely light, and a balance it may have to meet."""

    light: str
    balance: str


@dataclass(frozen=True)
class PackedSheet:
    """One filter to pack.

    copies        : how many of it one stack takes at a time
    at_hand       : pieces of it that the kit counts; None where it counts none
    lost          : pairs that nothing packed would reach without it
    lost_with_one_fewer : the same with one copy less; as `lost` where there is only one
    reason        : both in words
    """

    filter: str
    copies: int
    at_hand: int | None
    lost: list[Pair]
    lost_with_one_fewer: list[Pair]
    reason: str


@dataclass(frozen=True)
class Served:
    """A pair that is reached with what is packed: of the plainest stacks the brightest packed.

    filters          : none where the bare light is near enough
    residual_mired, residual_duv, loss_stops : middle values, as in `match`
    share_within     : share of what light and sheets may be that is inside the tolerance; under
                       a half only where no stack of the whole kit does better
    """

    light: str
    balance: str
    filters: list[str]
    residual_mired: float | None
    residual_duv: float | None
    loss_stops: float
    share_within: float
    cautions: list[str]


@dataclass(frozen=True)
class Unreached:
    """A pair that nothing in the whole kit reaches.

    nearest      : the best stack there is; none for the bare light
    borrow       : generic filters with which it is reached; empty where none or two do not help,
                   or the kit is that of all generic filters
    beside       : of the kit what goes with them
    reached_at   : balances at which the kit does reach the light
    instead      : what else can be done about the light, in words
    """

    light: str
    balance: str
    nearest: list[str]
    residual_mired: float | None
    residual_duv: float | None
    borrow: list[str]
    beside: list[str]
    reached_at: list[str]
    instead: str


@dataclass(frozen=True)
class Fewest:
    """What was proven: no fewer than `bound` copies serve as many pairs.

    gap    : how far `sheets` may lie above the fewest, as a share; 0 is proven best
    layers : most sheets in a stack
    """

    sheets: int
    bound: int
    gap: float
    layers: int


@dataclass(frozen=True)
class PackAnswer:
    """`pack`: the fewest sheets of a kit that serve likely lights as well as all of it.

    assumed_lights : whether the lights are the tool's own list, none being named
    left_out       : filters of the kit that correct, and are not needed
    searched       : stacks looked at, for every pair
    """

    kit: str
    tolerance: ToleranceAnswer
    lights: list[str]
    assumed_lights: bool
    balances: list[AimAnswer]
    sheets: list[PackedSheet]
    served: list[Served]
    unreached: list[Unreached]
    left_out: list[str]
    proven: Fewest
    searched: int
    notes: list[str]
    problems: list[Problem]
