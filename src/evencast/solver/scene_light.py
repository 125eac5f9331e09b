"""A light of a scene: what it shall look like, and all that may be done to it."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from evencast.plan.tolerance import Allowed
from evencast.quantities import Floats
from evencast.solver.aim import Aim
from evencast.solver.prices import Weights


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way to treat a light itself, before any sheet.

    move        : "leave", "dial", "dim", "swap" or "switch off"
    setting     : what it is dialled to, dimmed by or swapped for, as the plan has it
    power       : (81,) nominal spectrum
    members     : (MEMBERS or 1, 81) spectra it may have
    layers      : most sheets in front of it
    level_stops : what it does to the light's level; negative is darker
    minutes     : how long it takes
    uses        : what it takes of what is at hand, such as bulbs: (name, how many)
    """

    move: str
    power: Floats
    members: Floats
    layers: int
    setting: float | str | None = None
    level_stops: float = 0.0
    minutes: float = 0.0
    uses: tuple[str, int] | None = None

    @property
    def is_off(self) -> bool:
        """Whether the light is switched off."""
        return self.move == "switch off"


@dataclass(frozen=True, slots=True)
class Trim:
    """One way to take light without colour: a scrim, a dimmer that keeps the colour.

    what    : "scrim" or "dim"; "" for nothing
    stops   : what it takes
    minutes : how long it takes
    """

    what: str = ""
    stops: float = 0.0
    minutes: float = 0.0


@dataclass(frozen=True, slots=True)
class LevelAim:
    """How bright a light is and shall be.

    over_stops  : bare, over what it is judged against with nothing taken from either
    wanted_stops : wanted over that
    allowed_stops : to either side
    against_key : whether the key's own losses move what it is judged against
    only_under  : whether too bright is no fault, as for a key that an iris takes down
    """

    over_stops: float
    wanted_stops: float
    allowed_stops: float
    against_key: bool
    only_under: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A view behind a window: the sheets of the window stand before it too.

    aims : one for each balance
    """

    name: str
    power: Floats
    members: Floats
    allowed: Allowed
    aims: Sequence[Aim]
    level: LevelAim | None = None


@dataclass(frozen=True, slots=True, eq=False)
class SceneLight:
    """One light, and all that may be done to it.

    aims       : what it shall look like at each balance
    ways_at    : at each balance the indices of the ways there are
    pieces     : what one sheet of a stack takes of its filter: the openings, as pieces
    area_m2    : of all these
    minutes_per_sheet : to hang one sheet in front of all of them
    most_loss_stops : stacks that lose more are struck out
    trims      : ways to take light without colour, "nothing" first
    views      : what is seen through it
    is_key     : whether other lights' levels are set against it
    weight     : how many lights it counts for where it is off its colour; 1 or more
    harmless   : at each balance, whether the light as it is moves no spot out of its tolerance,
                 so that it may be left though it is off its aim; () for never
    """

    name: str
    allowed: Allowed
    aims: Sequence[Aim]
    ways: Sequence[Way]
    ways_at: Sequence[Sequence[int]]
    pieces: tuple[Hashable, ...] = ()
    openings: int = 1
    area_m2: float = 0.0
    minutes_per_sheet: float = 0.0
    most_loss_stops: float = math.inf
    level: LevelAim | None = None
    trims: Sequence[Trim] = (Trim(),)
    views: Sequence[Seen] = ()
    is_key: bool = False
    weight: float = 1.0
    harmless: Sequence[bool] = ()

    @property
    def ties_levels(self) -> bool:
        """Whether what it loses to sheets counts for its own level, a view's or another light's."""
        views = any(each.level is not None for each in self.views)
        return self.level is not None or self.is_key or views

    def per_sheet(self, weights: Weights) -> float:
        """What one more sheet in its stack costs."""
        return (
            weights.pieces * self.openings
            + weights.square_metres * self.area_m2
            + weights.minutes * self.minutes_per_sheet
        )
