"""A plan in one set-up, at one balance: what its lights shall look like, and what was read."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.aims import aim_of, balance_of, level_aim, look_in
from evencast.actions.hanging import Hanging, hanging, looks_in, read_colour
from evencast.actions.levels import camera_of, level_of_reading
from evencast.actions.planned import LoadedPlan, load_plan, setup_of
from evencast.actions.taking import Taking
from evencast.lights.explained import ReadColour
from evencast.lights.level import Level
from evencast.plan.place import quoted
from evencast.plan.setup import Setup
from evencast.quantities import Floats
from evencast.solver.aim import Aim


@dataclass(frozen=True, slots=True)
class Said:
    """What was read of a light, by the call or by the set-up; each part None where it was not.

    known_by : "meter" or "camera"
    level_by : the level in words
    """

    colour: ReadColour | None
    known_by: str | None
    level: Level | None
    level_by: str | None
    time: str | None
    sky: str | None


NOT_READ = Said(None, None, None, None, None, None)


@dataclass(frozen=True, eq=False)
class Stage:
    """A plan in one set-up.

    dialled : the camera's balance as it was called, in place of the set-up's and the plan's; None
              for those
    """

    loaded: LoadedPlan
    setup: Setup | None
    folder: Path
    camera: Taking
    dialled: str | None

    @cached_property
    def balance(self) -> Aim:
        """The balance the camera stands at.

        Raises  EvencastError where the plan leaves several
        """
        if self.dialled is not None:
            return resolve.balance_aim(self.dialled)
        return balance_of(self.loaded, self.setup)

    def aim(self, light: Hanging) -> Aim:
        """What a light shall look like."""
        plan = self.loaded.plan
        return aim_of(light.entry, self.balance, self._looks_of, lambda name: look_in(plan, name))

    def level_aim(self, light: Hanging) -> float | None:
        """The level it shall have against the key, or a view against the shot; None where that is
        not judged. [stop]"""
        return level_aim(light.entry, lambda name: look_in(self.loaded.plan, name))

    def hanging(self, name: str) -> Hanging:
        """A light as it hangs."""
        return hanging(self.loaded, self.setup, name, folder=self.folder)

    def is_other_eye(self, light: Hanging) -> bool:
        """Whether what the camera reads of a light is held against a colour that was not read on
        the same camera: a card's, or another light's, but not the balance dialled on it."""
        return (self.dialled is None and self._is_by_card()) or light.entry.aim.like is not None

    def said(self, light: Hanging, *, sensor: bool) -> Said | None:
        """What the set-up says was read of a light; None where nothing was.

        sensor : whether a camera's reading is held against another eye's
        """
        read = light.read
        if read is None:
            return None
        step_duv = self.loaded.plan.camera.tint_step_duv
        colour = read_colour(read, step_duv=step_duv, sensor=sensor)
        level, level_by = None, None
        if any(each is not None for each in (read.lux, read.fc, read.ev, read.f_stop)):
            within = f"light {quoted(light.entry.name)}.read"
            level, _, level_by = level_of_reading(read, camera=self.camera, within=within)
        by = "meter" if read.tint is None else "camera"
        known_by = None if colour is None else by
        return Said(colour, known_by, level, level_by, read.time, read.sky)

    def _is_by_card(self) -> bool:
        """Whether the balance was worked out for a card under a light: by the plan, or where a
        set-up keeps one off the whites of a plan that lets the rest be matched to a light."""
        plan, setup = self.loaded.plan, self.setup
        matched = any("match the rest" in each.moves for each in plan.light)
        off_white = setup is not None and setup.balance_duv is not None
        return plan.camera.balance.from_card_under is not None or (matched and off_white)

    def _looks_of(self, name: str) -> Floats:
        return looks_in(self.loaded, self.setup, name, folder=self.folder)


def staged(path: Path, *, setup: str | None, balance: str | None = None) -> Stage:
    """A plan in a set-up, or in its only one.

    balance : the camera's, in place of the set-up's and the plan's
    Raises  EvencastError for a set-up that is not there; DocumentErrors as `load_plan`
    """
    named = setup_of(path, setup)
    loaded = load_plan(path, setup=named.name if named else None)
    return Stage(loaded, named, path.parent, camera_of(loaded.plan), balance)
