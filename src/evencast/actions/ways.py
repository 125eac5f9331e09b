"""What may be done to a light of a plan itself: dial, dim, swap, switch off, scrim."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from evencast.actions.hanging import FILAMENTS, set_light
from evencast.actions.planned import LoadedPlan, swapped_light
from evencast.colour import mired_duv, uv
from evencast.cutting.pieces import pieces_of
from evencast.errors import EvencastError, Problem
from evencast.filters import Filter, stack, stack_members
from evencast.lights import Light
from evencast.plan.checks.moves import NO_SCRIM, NO_SWITCH
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded, quoted
from evencast.quantities import kelvin
from evencast.solver.aim import Aim
from evencast.solver.scene_light import Trim, Way

DIAL_STEP_K = 50.0
DIALLED_LAYERS = 2
"""A dialled light needs sheets for its green alone."""

MINUTES = {"filter": 4.0, "dial": 1.0, "dim": 1.0, "scrim": 1.0, "swap": 5.0, "switch_off": 1.0}
"""For one opening or lamp, where the plan does not say: common practice, no source."""

DIMMED_STOPS = tuple(round(third / 3.0, 4) for third in range(1, 7))
"""What a filament is tried at; every step has a colour of its own."""
DIMMER_STOPS = tuple(round(third / 3.0, 4) for third in range(1, 10))
SCRIMS: tuple[tuple[tuple[str, ...], float], ...] = (
    (("single",), 0.5),
    (("double",), 1.0),
    (("single", "double"), 1.5),
    (("double", "double"), 2.0),
    (("single", "double", "double"), 2.5),
)
"""What goes into a lamp, and what it takes."""


class Moves:
    """The moves that a plan allows its lights.

    problems : by the place in the plan, warnings of what cannot be done
    """

    def __init__(self, loaded: LoadedPlan, folder: Path) -> None:
        """The folder is the plan's, where what its lights may be swapped for lies."""
        self._plan, self._kit, self._folder = loaded.plan, loaded.kit, folder
        self.problems: dict[str, Problem] = {}

    def ways(
        self, entry: LightEntry, bare: Light, aims: Sequence[Aim], *, by_level: bool
    ) -> tuple[list[tuple[Way, Light]], list[list[int]]]:
        """All ways, the bare light's first, each with the lamp that it makes of it; and which of
        them there are at each balance.

        by_level : whether the light's level is judged
        """
        frost = [each for each in map(self._kit.find, entry.frost) if each is not None]
        ways = self._same_everywhere(entry, bare, frost, dims=by_level)
        ways_at = [list(range(len(ways))) for _ in aims]
        for there, aim in zip(ways_at, aims, strict=True):
            dialled = self._dialled(entry, bare, frost, aim)
            if dialled is None:
                continue
            same = [n for n, (each, _) in enumerate(ways) if _alike(each, dialled[0])]
            if not same:
                ways.append(dialled)
            there.append(same[0] if same else len(ways) - 1)
        return ways, ways_at

    def _same_everywhere(
        self, entry: LightEntry, bare: Light, frost: Sequence[Filter], *, dims: bool
    ) -> list[tuple[Way, Light]]:
        """The ways that there are at every balance."""
        layers = self._layers(entry)
        lamps = max(entry.count, len(pieces_of(entry, bare.fitting)))
        found = [(_way("leave", bare, frost, layers), bare)]
        if "dim" in entry.moves and bare.kind in FILAMENTS and dims:
            minutes = self.minutes(entry, "dim") * entry.count
            for stops in DIMMED_STOPS:
                try:
                    lamp = set_light(bare, dial_k=None, dim_stops=stops)
                except EvencastError:  # it glows no further down
                    break
                way = _way("dim", lamp, frost, layers)
                way = replace(way, setting=stops, level_stops=-stops, minutes=minutes)
                found.append((way, lamp))
        for swap in entry.swap if "swap" in entry.moves else ():
            step = self._plan.camera.tint_step_duv
            lamp = swapped_light(entry, swap, self._folder, tint_step_duv=step)
            way = replace(
                _way("swap", lamp, frost, layers),
                setting=swap.name,
                level_stops=swap.stops,
                minutes=self.minutes(entry, "swap") * lamps,
                uses=(folded(swap.name), lamps),
            )
            found.append((way, lamp))
        if "switch off" in entry.moves and entry.role not in NO_SWITCH:
            minutes = self.minutes(entry, "switch_off")
            found.append((replace(_way("switch off", bare, (), 0), minutes=minutes), bare))
        return found

    def _layers(self, entry: LightEntry) -> int:
        return self._plan.limits.layers if "filter" in entry.moves else 0

    def _dialled(
        self, entry: LightEntry, light: Light, frost: Sequence[Filter], aim: Aim
    ) -> tuple[Way, Light] | None:
        """An adjustable light at the setting nearest to its aim; None where it has none."""
        if entry.adjustable is None or "dial" not in entry.moves or not math.isfinite(aim.mired):
            return None
        low_k, high_k = entry.adjustable.low_k, entry.adjustable.high_k
        if light.emitters:  # it cannot go further than its own two emitters
            ends = [kelvin(float(mired_duv(uv(each))[0])) for each in light.emitters]
            low_k, high_k = max(low_k, math.ceil(min(ends))), min(high_k, math.floor(max(ends)))
            if low_k > high_k:
                reach = f"its emitters reach from {min(ends):.0f} K to {max(ends):.0f} K"
                self._not_dialled(entry, reach)
                return None
        wanted_k = round(kelvin(aim.mired) / DIAL_STEP_K) * DIAL_STEP_K
        dial_k = round(float(min(max(wanted_k, low_k), high_k)), 1)
        try:
            lamp = set_light(light, dial_k=dial_k, dim_stops=0.0)
        except EvencastError as error:
            self._not_dialled(entry, error.what)
            return None
        layers = self._layers(entry)
        most = min(layers, DIALLED_LAYERS) if low_k <= wanted_k <= high_k else layers
        minutes = self.minutes(entry, "dial") * entry.count
        return replace(_way("dial", lamp, frost, most), setting=dial_k, minutes=minutes), lamp

    def _not_dialled(self, entry: LightEntry, why: str) -> None:
        """A warning, once for a light."""
        where = f"light {quoted(entry.name)}.adjustable"
        said = f"it is not dialled to where that would be best: {why}"
        remedy = "Write the range that it really has, or the spectrum of another setting."
        self.problems.setdefault(where, Problem("warning", where, said, remedy))

    def trims(self, entry: LightEntry, bare: Light) -> tuple[Trim, ...]:
        """Ways to take light without colour, nothing first."""
        found = [Trim()]
        if "scrim" in entry.moves and bare.fitting not in NO_SCRIM:
            minutes = self.minutes(entry, "scrim") * entry.count
            found += [Trim("scrim", stops, minutes) for _, stops in SCRIMS]
        if "dim" in entry.moves and bare.kind not in FILAMENTS:
            minutes = self.minutes(entry, "dim") * entry.count
            found += [Trim("dim", stops, minutes) for stops in DIMMER_STOPS]
        return tuple(found)

    def minutes(self, entry: LightEntry, move: str) -> float:
        """How long a move takes, for one opening or lamp."""
        own, plan = getattr(entry.minutes, move), getattr(self._plan.minutes, move)
        if own is not None:
            return float(own)
        return float(MINUTES[move] if plan is None else plan)


def _way(move: str, lamp: Light, frost: Sequence[Filter], layers: int) -> Way:
    return Way(move, lamp.power * stack(frost), lamp.members * stack_members(frost), layers)


def _alike(one: Way, other: Way) -> bool:
    return (one.move, one.setting, one.layers) == (other.move, other.setting, other.layers)
