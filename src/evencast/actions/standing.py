"""A light of a plan as it stands, and what else of the plan may help it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from evencast.filters import Filter
from evencast.lights import Light
from evencast.lights.fixture import Focus
from evencast.lights.level import Level
from evencast.quantities import say_stops
from evencast.results.expose import Cure, Range

if TYPE_CHECKING:
    from evencast.solver.aim import Aim

MET_STOPS = 1 / 6
"""Half of the smallest step that an iris and a meter show: nearer is as wanted."""


@dataclass(frozen=True, slots=True, eq=False)
class Stands:
    """A light as it stands, and what hangs in front of it.

    distance_m  : to the subject
    size_m      : greatest width of what shines
    frost       : what hangs in any case; its loss is told by `frost_stops`
    aim         : the colour it shall have; None where none is known
    """

    light: Light
    distance_m: float | None = None
    size_m: float | None = None
    focus: Focus | None = None
    filters: Sequence[Filter] = ()
    scrim_stops: Range = (0.0, 0.0)
    dim_stops: float = 0.0
    frost: Sequence[Filter] = ()
    frost_stops: Range = (0.0, 0.0)
    aim: Aim | None = None


@dataclass(frozen=True, slots=True)
class OtherBalance:
    """A balance of the camera at which this light's sheets would take so much. [stop]"""

    label: str
    filter_stops: float


@dataclass(frozen=True, slots=True, eq=False)
class OtherLight:
    """Another light of the plan, as it may stand in this one's place.

    level     : bare, where it stands now; its distance is that of the level
    gap_stops : what it misses there, + too little light; None where its level is not judged
    """

    name: str
    light: Light
    level: Level
    gap_stops: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Around:
    """What else of a plan may help a light.

    against  : the light that its level is judged against; None for the camera's own stop
    falls    : whether that light is daylight, which falls by itself
    shot_f_number : what the lens is set to
    at_hand  : filters of the kit
    balances : other balances and what this light's sheets would take there
    level    : bare level of this light where it stands
    others   : the plan's other lights whose level is known
    """

    against: str | None = None
    falls: bool = False
    shot_f_number: float | None = None
    at_hand: Sequence[Filter] = ()
    balances: Sequence[OtherBalance] = ()
    level: Level | None = None
    others: Sequence[OtherLight] = ()


def cure(words: str, gain: Range, short: Range) -> Cure:
    """A cure that gives so much, and whether its most reaches the least that is missing."""
    return Cure(words, gain, gain[1] >= short[0])


def stop_range(ends: Range) -> str:
    """A range of stops in words: "1 stop to 1 1/3 stop"."""
    low, high = (say_stops(each) for each in ends)
    return low if low == high else f"{low} to {high}"
