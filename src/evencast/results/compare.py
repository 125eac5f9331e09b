"""What is told of two plans or set-ups beside each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evencast.errors import Problem
from evencast.results.expose import Range


@dataclass(frozen=True)
class Side:
    """One of the two: a plan, and the set-up of it; None for its lights as the plan has them."""

    plan: str
    setup: str | None


@dataclass(frozen=True)
class Difference:
    """One thing that differs.

    what     : "filters", "scrims", "dial", "dimmer", "distance", "colour read", "balance", ...
    old, new : as it was and is, in words; None where nothing is said
    told     : how much that is, in words; "" where old and new say it all
    mired    : new minus old, + warmer; None where it is no colour
    duv      : new minus old, + greener; None where it is no colour, or was not read
    stops    : new minus old, + brighter, least and most; None where it is no amount of light
    back     : what to do to get back to the old; None where nothing can be, or need be
    """

    what: str
    old: str | None
    new: str | None
    told: str
    mired: float | None = None
    duv: float | None = None
    stops: Range | None = None
    back: str | None = None


@dataclass(frozen=True)
class ComparedLight:
    """One light in both.

    state : "same" but for the time and the sky it was read under, "differs", "gone" where the new
            has it no more, "new" where the old had it not
    then  : what to do once it hangs as it did: trims that the readings ask for, in order
    """

    name: str
    role: str
    state: Literal["same", "differs", "gone", "new"]
    differences: list[Difference]
    then: list[str]


@dataclass(frozen=True)
class CompareAnswer:
    """`compare`: what differs between two plans or set-ups, lamp by lamp.

    camera : of the camera and the place
    lights : in the old plan's order, then those that only the new one has
    """

    old: Side
    new: Side
    camera: list[Difference]
    lights: list[ComparedLight]
    notes: list[str]
    problems: list[Problem]
