"""A light of a plan with what hangs on it in a set-up: as it should look, and as it was read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evencast.actions.kit import LoadedKit
from evencast.actions.planned import LoadedPlan, swapped_light
from evencast.colour import mired_duv, uv, uv_of_mired_duv, white_uv
from evencast.errors import EvencastError, nearest
from evencast.filters import Filter, generic, stack, stack_members
from evencast.lights import Light, dim_tungsten, parse_tint, redial
from evencast.lights.explained import ReadColour, changed, explained
from evencast.lights.reading import TINT_STEP_DUV
from evencast.plan.light import Light as LightEntry
from evencast.plan.place import folded, quoted
from evencast.plan.setup import Hung, Planned, Read, Rigged, Setup
from evencast.plan.setups import hung_on, light_in
from evencast.quantities import Floats, mired

FILAMENTS = ("tungsten", "Planckian")
"""Kinds that warm on a dimmer."""


@dataclass(frozen=True, slots=True, eq=False)
class Hanging:
    """One light in a set-up.

    entry  : what the plan says of it there
    lamp   : bare, or what it was swapped for
    light  : the lamp dialled and dimmed as it is set
    sheets : the sheets on it, from the lamp outwards
    fixed  : what it shines through besides and no trim touches: frost, the panes of its window
    hung   : what hangs and how it is set
    known_by : "rigged", "planned", or None where the set-up says nothing of it
    read   : what was read of it there; None where nothing was
    """

    entry: LightEntry
    lamp: Light
    light: Light
    sheets: tuple[Filter, ...]
    fixed: tuple[Filter, ...]
    hung: Hung
    known_by: str | None
    read: Read | None

    @property
    def front(self) -> list[Filter]:
        """Everything it shines through."""
        return [*self.sheets, *self.fixed]

    @property
    def distance_m(self) -> float | None:
        """From the light to the subject: as it stands there, else as the plan has it."""
        stands = self.hung.distance_mm if isinstance(self.hung, Rigged) else None
        found = stands or self.entry.distance_mm
        return None if found is None else found / 1000.0

    @property
    def uv(self) -> Floats:
        """What it looks like as far as is computed. [(2,)]"""
        return np.asarray(uv(self.light.power * stack(self.front)))

    def explained_by(self, read: ReadColour) -> Light:
        """The bare light, as it is set, that reads so through what hangs."""
        return explained(self.light, stack(self.front), stack_members(self.front), read)

    def reset(self, now: Light, *, dial_k: float | None, dim_stops: float) -> Light:
        """An explained light of it with its dial and dimmer set otherwise."""
        after = set_light(self.lamp, dial_k=dial_k, dim_stops=dim_stops)
        return changed(now, before=self.light, after=after)


def entry_named(loaded: LoadedPlan, name: str) -> LightEntry:
    """The light of that name, whatever its capitals.

    Raises  EvencastError naming those that there are
    """
    found = loaded.plan.light_named(name)
    if found is not None:
        return found
    names = [each.name for each in loaded.plan.light]
    shown = ", ".join(quoted(each) for each in nearest(name, names) or names)
    raise EvencastError(
        f"no light is called {quoted(name)}",
        where=f"plan {quoted(loaded.plan.name)}",
        remedy=f"Name one of its lights: {shown}." if shown else "It has no light yet: add one.",
    )


def hanging(loaded: LoadedPlan, setup: Setup | None, name: str, *, folder: Path) -> Hanging:
    """A light of the plan as it hangs in a set-up.

    loaded : the plan with its lights as they are in that set-up
    folder : of the plan, where the spectra it names lie
    Raises  EvencastError for sheets, swaps and settings that cannot be
    """
    entry = entry_named(loaded, name)
    said = light_in(setup, entry.name)
    hung = hung_on(said)
    known_by = {Rigged: "rigged", Planned: "planned"}.get(type(hung)) if hung else None
    hung = hung or Hung()
    sheets = tuple(_sheet(each, loaded.kit, entry) for each in hung.filters)
    named = {folded(each) for each in hung.filters}
    fixed = [_sheet(each, loaded.kit, entry) for each in entry.frost if folded(each) not in named]
    lamp = _lamp(loaded, entry, hung, folder)
    return Hanging(
        entry=entry,
        lamp=lamp,
        light=set_light(lamp, dial_k=hung.dial_k, dim_stops=hung.dim_stops),
        sheets=sheets,
        fixed=(*fixed, *_panes(loaded, setup, entry)),
        hung=hung,
        known_by=known_by,
        read=None if said is None else said.read,
    )


def set_light(light: Light, *, dial_k: float | None, dim_stops: float) -> Light:
    """A light dialled and dimmed, under its own name.

    A filament warms on its dimmer; other lights are taken to keep their colour.
    """
    turned = light if dial_k is None else redial(light, dial_k)
    if dim_stops > 0 and light.kind in FILAMENTS:
        turned = dim_tungsten(turned, dim_stops)
    return replace(turned, name=light.name)


def read_colour(read: Read, *, step_duv: float | None, sensor: bool) -> ReadColour | None:
    """The colour in what was read of a light; None where it has none.

    step_duv, sensor : as in `camera_colour`
    """
    if read.cct_k is None:
        return None
    if read.tint is None:
        return ReadColour(read.cct_k, read.duv)
    tint = parse_tint(read.tint) or 0.0
    return camera_colour(read.cct_k, tint, step_duv=step_duv, sensor=sensor)


def camera_colour(
    cct_k: float, toward_magenta: float, *, step_duv: float | None, sensor: bool
) -> ReadColour:
    """The colour of a light that looks neutral to a camera balanced so.

    toward_magenta : steps of tint by which the camera moves its picture
    step_duv : Duv of one step of the camera's tint; None where it was never measured
    sensor   : whether it is to be held against a colour that was not read on the same camera
    """
    steps_duv = toward_magenta * (step_duv or TINT_STEP_DUV)
    _, white_duv = mired_duv(white_uv(cct_k))
    return ReadColour(
        cct_k,
        float(white_duv) + steps_duv,
        tint_duv=0.0 if step_duv else steps_duv,
        sensor=sensor,
    )


def looks_in(loaded: LoadedPlan, setup: Setup | None, name: str, *, folder: Path) -> Floats:
    """What a light looks like in a set-up: as it was read there, else as it hangs. [(2,)]"""
    found = hanging(loaded, setup, name, folder=folder)
    step_duv = loaded.plan.camera.tint_step_duv
    read = found.read and read_colour(found.read, step_duv=step_duv, sensor=False)
    if not read:
        return found.uv
    duv = mired_duv(found.uv)[1] if read.duv is None else read.duv
    return np.asarray(uv_of_mired_duv(np.array(mired(read.cct_k)), np.asarray(duv)))


def _lamp(loaded: LoadedPlan, entry: LightEntry, hung: Hung, folder: Path) -> Light:
    """The lamp in it, by the plan or by what it was swapped for."""
    if hung.swapped_for is None:
        return loaded.lights[entry.name]
    wanted = folded(hung.swapped_for)
    swap = next((each for each in entry.swap if folded(each.name) == wanted), None)
    if swap is None:
        known = ", ".join(quoted(each.name) for each in entry.swap)
        raise EvencastError(
            f"nothing it may be swapped for is called {quoted(hung.swapped_for)}",
            where=f"light {quoted(entry.name)}",
            remedy=f"Name one of {known}." if known else "Add it as swap to the light.",
        )
    return swapped_light(entry, swap, folder, tint_step_duv=loaded.plan.camera.tint_step_duv)


def _panes(loaded: LoadedPlan, setup: Setup | None, entry: LightEntry) -> Sequence[Filter]:
    """The sheets on the window that a view is seen through."""
    if entry.behind is None:
        return ()
    hung = hung_on(light_in(setup, entry.behind))
    return [_sheet(each, loaded.kit, entry) for each in (hung.filters if hung else ())]


def _sheet(name: str, kit: LoadedKit, entry: LightEntry) -> Filter:
    """A sheet by its name: the kit's, else a generic one."""
    found = kit.find(name)
    if found is not None:
        return found
    try:
        return generic(name)
    except EvencastError as error:
        raise EvencastError(
            error.what, where=f"light {quoted(entry.name)}", remedy=error.remedy
        ) from None
