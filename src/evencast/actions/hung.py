"""A light as a solved scene hangs it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from evencast.actions.doubt import Looks, looks
from evencast.actions.scene import Staged, StagedScene
from evencast.actions.ways import SCRIMS
from evencast.filters import Filter
from evencast.lights import Light
from evencast.quantities import say_stops
from evencast.solver.aim import Aim
from evencast.solver.best import Ints
from evencast.solver.options import Options
from evencast.solver.scene import Assignment
from evencast.solver.scene_light import LevelAim, Trim, Way

LEVEL_SLACK_STOPS = 0.01
"""A level this far beyond its tolerance is inside: no meter shows it."""


@dataclass(frozen=True, slots=True, eq=False)
class Hung:
    """One light of a scene with what was chosen for it.

    options, row : what there was to choose from, and what was chosen
    lamp    : the light as it is treated, frost before it
    filters : the sheets, in the kit's order
    level_stops : over (+) or under what is wanted; None where that is not judged
    """

    staged: Staged
    options: Options
    row: int
    trim: Trim
    aim: Aim
    lamp: Light
    filters: Sequence[Filter]
    level_stops: float | None

    @property
    def way(self) -> Way:
        """How the light itself is treated."""
        return self.staged.light.ways[int(self.options.way[self.row])]

    @property
    def is_inside(self) -> bool:
        """Whether its colour is inside its tolerance, harmless, or it is switched off."""
        return bool(self.options.inside[self.row])

    @property
    def is_harmless(self) -> bool:
        """Whether it is off its aim and yet moves no spot out of its tolerance."""
        return self.is_inside and not self.way.is_off and not self.options.found.within[self.row]

    @property
    def is_level(self) -> bool:
        """Whether its level is inside its tolerance, or not judged."""
        aim = self.staged.light.level
        return aim is None or self.way.is_off or _inside(self.level_stops, aim)

    @property
    def move(self) -> str:
        """What is done: "filter", "dial and filter", "leave", or "nothing reaches it"."""
        moves = [self.way.move] if self.way.move != "leave" else []
        moves += ["filter"] if self.filters else []
        moves += [self.trim.what] if self.trim.what else []
        if moves:
            return " and ".join(moves)
        return "leave" if self.options.inside.any() else "nothing reaches it"

    @property
    def dial_k(self) -> float | None:
        """What it is dialled to; None where it is not."""
        setting = self.way.setting
        return setting if self.way.move == "dial" and isinstance(setting, float) else None

    @property
    def swapped_for(self) -> str | None:
        """The lamp that is put in; None where it keeps its own."""
        return self.way.setting if isinstance(self.way.setting, str) else None

    @property
    def pieces(self) -> int:
        """Pieces of sheet in front of all its openings."""
        return self.staged.light.openings * len(self.filters)

    @property
    def area_m2(self) -> float:
        """Area of these."""
        return self.staged.light.area_m2 * len(self.filters)

    @property
    def minutes(self) -> float:
        """How long all of it takes."""
        sheets = self.staged.light.minutes_per_sheet * len(self.filters)
        return self.way.minutes + sheets + self.trim.minutes

    @property
    def filter_stops(self) -> float:
        """Lost to the sheets."""
        return float(self.options.found.loss_stops[self.row])

    @property
    def scrims(self) -> list[str]:
        """In the lamp."""
        if self.trim.what != "scrim":
            return []
        return next(list(names) for names, stops in SCRIMS if stops == self.trim.stops)

    @property
    def dim_stops(self) -> float:
        """What its dimmer takes."""
        if self.way.move == "dim":
            return float(self.way.setting or 0.0)
        return self.trim.stops if self.trim.what == "dim" else 0.0

    @property
    def other_stops(self) -> float:
        """What scrims, dimmer and another lamp take, without colour of a sheet's."""
        return self.trim.stops - self.way.level_stops

    def looks(self) -> Looks:
        """What it looks like."""
        return looks(self.lamp, self.filters)


def hung(staged: StagedScene, assignment: Assignment) -> list[Hung]:
    """Every light of a scene with what an assignment chose for it."""
    found = [_hung(staged, assignment, number) for number in range(len(staged.lights))]
    key = staged.scene.key
    key_change = 0.0 if key is None else _change(found[key])
    return [
        replace(each, level_stops=_level_stops(each, 0.0 if number == key else key_change))
        for number, each in enumerate(found)
    ]


def _hung(staged: StagedScene, assignment: Assignment, number: int) -> Hung:
    light, options = staged.lights[number], assignment.options[number]
    row = int(assignment.rows[number])
    way = light.light.ways[options.way[row]]
    lamp = replace(
        light.lamps[options.way[row]],
        name=light.entry.name,
        power=way.power,
        possible=None if len(way.members) == 1 else way.members,
    )
    return Hung(
        staged=light,
        options=options,
        row=row,
        trim=light.light.trims[int(assignment.trims[number])],
        aim=light.light.aims[assignment.balance],
        lamp=lamp,
        filters=sheets_of(staged.filters, options.found.members[row]),
        level_stops=None,
    )


def sheets_of(filters: Sequence[Filter], members: Ints) -> list[Filter]:
    """The filters of a stack."""
    return [filters[each] for each in members if each < len(filters)]


def view_level_stops(each: Hung, view: int) -> float | None:
    """How far over (+) what is wanted a view is behind the sheets of its window; None where that
    is not judged."""
    aim = each.staged.light.views[view].level
    if aim is None or each.way.is_off:
        return None
    taken = float(each.options.view_loss_stops[view][each.row])
    return aim.over_stops - taken - aim.wanted_stops


def is_view_level(each: Hung, view: int) -> bool:
    """Whether that is inside its tolerance, or not judged."""
    aim = each.staged.light.views[view].level
    return aim is None or _inside(view_level_stops(each, view), aim)


def beyond_level(each: Hung) -> float:
    """How far its level and those of its views lie beyond their tolerances. [stop]"""
    light, beyond = each.staged.light, 0.0
    judged = [(each.level_stops, light.level)]
    judged += [(view_level_stops(each, n), view.level) for n, view in enumerate(light.views)]
    for stops, aim in judged:
        if stops is not None and aim is not None:
            beyond += max(-stops - aim.allowed_stops, 0.0)
            beyond += 0.0 if aim.only_under else max(stops - aim.allowed_stops, 0.0)
    return beyond


def say_level(stops: float) -> str:
    """A level against what is wanted, in words."""
    if abs(stops) < 1 / 6:
        return "as bright as wanted"
    return f"{say_stops(stops)} too {'bright' if stops > 0 else 'dark'}"


def say_limit(stops: float) -> str:
    """What sheets may take at the most, as the plan has it."""
    return f"{stops:g} {'stop' if stops <= 1 else 'stops'}"


def _inside(level_stops: float | None, aim: LevelAim) -> bool:
    stops = level_stops or 0.0
    most = aim.allowed_stops + LEVEL_SLACK_STOPS
    return stops >= -most and (aim.only_under or stops <= most)


def _change(each: Hung) -> float:
    """What sheets, scrims, dimmer and another lamp do to a light's level. [stop]"""
    return float(each.options.level_stops[each.row]) - each.trim.stops


def _level_stops(each: Hung, key_change: float) -> float | None:
    aim = each.staged.light.level
    if aim is None or each.way.is_off:
        return None
    against = key_change if aim.against_key else 0.0
    return aim.over_stops + _change(each) - against - aim.wanted_stops
