"""A plan in one set-up, at one balance: what its lights shall look like, and what was read."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.aims import aim_of, balance_of, look_in
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


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """A plan in one set-up, at one balance.

    same_eye : whether the balance was dialled on the camera, so that what the camera reads of a
               light compares with it
    """

    loaded: LoadedPlan
    setup: Setup | None
    folder: Path
    balance: Aim
    same_eye: bool
    camera: Taking

    def looks_of(self, name: str) -> Floats:
        """What a light looks like there. [(2,)]"""
        return looks_in(self.loaded, self.setup, name, folder=self.folder)

    def aim(self, light: Hanging) -> Aim:
        """What a light shall look like."""
        plan = self.loaded.plan
        return aim_of(light.entry, self.balance, self.looks_of, lambda name: look_in(plan, name))

    def hanging(self, name: str) -> Hanging:
        """A light as it hangs."""
        return hanging(self.loaded, self.setup, name, folder=self.folder)

    def said(self, light: Hanging) -> Said | None:
        """What the set-up says was read of a light; None where nothing was."""
        read = light.read
        if read is None:
            return None
        colour = read_colour(
            read, step_duv=self.loaded.plan.camera.tint_step_duv, sensor=self.sensor(light)
        )
        level, level_by = None, None
        if any(each is not None for each in (read.lux, read.fc, read.ev, read.f_stop)):
            within = f"light {quoted(light.entry.name)}.read"
            level, _, level_by = level_of_reading(read, camera=self.camera, within=within)
        by = "meter" if read.tint is None else "camera"
        known_by = None if colour is None else by
        return Said(colour, known_by, level, level_by, read.time, read.sky)

    def sensor(self, light: Hanging) -> bool:
        """Whether what a camera reads of a light is held against another eye's colour."""
        return not self.same_eye or light.entry.aim.like is not None


def staged(path: Path, *, setup: str | None, balance: str | None) -> Stage:
    """A plan in a set-up, or in its only one, at its balance or another."""
    named = setup_of(path, setup)
    loaded = load_plan(path, setup=named.name if named else None)
    dialled = balance is not None or loaded.plan.camera.balance.from_card_under is None
    return Stage(
        loaded=loaded,
        setup=named,
        folder=path.parent,
        balance=resolve.balance_aim(balance) if balance else balance_of(loaded),
        same_eye=dialled,
        camera=camera_of(loaded.plan),
    )
