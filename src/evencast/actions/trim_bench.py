"""What trims are judge_changes by: a light as it hangs and reads, its aim, and what may be done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.actions.hanging import Hanging
from evencast.filters import SEARCHED_ROLES, Filter
from evencast.lights import Light
from evencast.plan.tolerance import Allowed
from evencast.results.expose import Range
from evencast.results.trim import Move
from evencast.solver.aim import Aim
from evencast.solver.trim import Change, judge_changes


@dataclass(frozen=True, slots=True, eq=False)
class Colour:
    """A light through sheets beside its aim, over all that both may be.

    residual_mired   : nan without a colour temperature
    loss_stops       : what everything in front takes of the bare light
    outside, cost_uv : as in `solver.trim.Changed`
    """

    residual_mired: float
    residual_duv: float
    within: bool
    share_within: float
    loss_stops: float
    outside: bool
    cost_uv: float

    @property
    def rank(self) -> tuple[bool, float]:
        """Smaller is better."""
        return self.outside, self.cost_uv


@dataclass(frozen=True, slots=True, eq=False)
class State:
    """A light with what stands in front of it and how it is set, before or after a trim.

    now        : the bare light as it is, so set
    colour     : None where no colour was read
    over_stops : how much brighter it is than wanted, least and most; None where that is not known
    """

    now: Light
    sheets: tuple[Filter, ...]
    dial_k: float | None
    scrims: tuple[str, ...]
    dim_stops: float
    distance_m: float | None
    colour: Colour | None
    over_stops: Range | None


@dataclass(frozen=True, slots=True, eq=False)
class Trim:
    """One trim and where it leads; "leave" changes nothing.

    next_best : another that comes near it, with what it leaves; None where there is none
    """

    move: Move
    text: str
    after: State
    next_best: tuple[str, Colour] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What a trim is judge_changes by.

    at_hand : sheets that may be hung
    layers, most_loss_stops : what the plan allows in front of a light
    """

    hanging: Hanging
    aim: Aim
    allowed: Allowed
    at_hand: Sequence[Filter]
    layers: int
    most_loss_stops: float

    def may(self, move: str) -> bool:
        """Whether the plan allows a move, or the light shows that it is in use already."""
        hung = self.hanging.hung
        in_use = {
            "filter": bool(movable(self.hanging.sheets)),
            "dial": hung.dial_k is not None,
            "scrim": bool(hung.scrims),
            "dim": hung.dim_stops > 0,
        }
        return move in self.hanging.entry.moves or in_use[move]

    def colours(
        self, now: Light, sheets: Sequence[Filter], changes: Sequence[Change]
    ) -> list[Colour]:
        """What every change of the sheets in front of a light leads to."""
        front = [*sheets, *self.hanging.fixed]
        result = judge_changes(now, front, changes, self.aim, self.allowed)
        found = result.found
        return [
            Colour(
                residual_mired=float(found.residual_mired[row]),
                residual_duv=float(found.residual_duv[row]),
                within=bool(found.within[row]),
                share_within=float(found.share_within[row]),
                loss_stops=float(found.loss_stops[row]),
                outside=bool(result.outside[row]),
                cost_uv=float(result.cost_uv[row]),
            )
            for row in range(len(changes))
        ]

    def colour(self, now: Light, sheets: Sequence[Filter]) -> Colour:
        """What is left of a light through sheets."""
        return self.colours(now, sheets, [Change("leave")])[0]


def movable(sheets: Sequence[Filter]) -> list[Filter]:
    """Sheets that may be taken out or exchanged: frost and effects stay."""
    return [each for each in sheets if each.role in SEARCHED_ROLES]


def say_change(change: Change, sheets: Sequence[Filter]) -> str:
    """A change of sheets as it is called out: "take eighth CTO out"."""
    into = "" if change.into is None else change.into.name
    if change.out is None:
        return f"add {into}" if into else "leave"
    alike = [each for each in sheets if each.name == change.out.name]
    out = f"one {change.out.name}" if len(alike) > 1 else change.out.name
    return f"swap {out} for {into}" if into else f"take {out} out"


def darker(over_stops: Range | None, least: float, most: float) -> Range | None:
    """A level after something took so much of it. [stop]"""
    return None if over_stops is None else (over_stops[0] - most, over_stops[1] - least)
