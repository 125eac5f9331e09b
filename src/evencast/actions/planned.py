"""A plan ready to be solved: its document, its kit and its lights as spectra."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from evencast.actions.kit import LoadedKit, load_kit
from evencast.actions.resolve import measured_light
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.lights import (
    Light,
    LightKind,
    builtin,
    builtin_names_and_aliases,
    of_camera,
    of_kelvin,
    of_reading,
    parse_tint,
)
from evencast.lights.looks import look_names
from evencast.plan.checks import problems_together
from evencast.plan.document import PlanDocument, read_plan, sketch_kit, sketch_plan
from evencast.plan.kit import Kit
from evencast.plan.light import Light as LightEntry
from evencast.plan.light import Swap
from evencast.plan.place import quoted
from evencast.plan.plan import Plan
from evencast.plan.setup import Setup
from evencast.plan.setups import at_setup, setup_named
from evencast.store.files import read_text


@dataclass(frozen=True, slots=True, eq=False)
class LoadedPlan:
    """A plan without errors.

    lights   : by name, in the plan's order
    problems : warnings of plan and kit
    """

    plan: Plan
    kit: LoadedKit
    lights: dict[str, Light]
    problems: list[Problem]


def setup_of(path: Path, name: str | None) -> Setup | None:
    """The set-up of that name in a plan; without a name its only one, or None.

    Returns None for a document with errors too: `load_plan` tells them all
    Raises  EvencastError naming the set-ups there are
    """
    document, _ = _read(path)
    return setup_named(document.model, name) if document else None


def _read(path: Path) -> tuple[PlanDocument | None, list[Problem]]:
    return read_plan(
        read_text(path).text,
        where=path.name,
        known_lights=builtin_names_and_aliases(),
        known_looks=look_names(),
    )


def load_plan(path: Path, *, setup: str | None = None) -> LoadedPlan:
    """A plan, its kit and every spectrum they name.

    setup : name of the set-up in which the lights are taken; None for the lights as they stand
            in the plan itself
    Raises  DocumentErrors with every problem of plan, kit and spectra in one run; EvencastError
            for a set-up that is not there
    """
    document, problems = _read(path)
    plan = document.model if document else None
    if plan is not None and setup is not None:
        plan = at_setup(plan, setup)
    written = plan or sketch_plan(read_text(path).text)
    kit, kit_written, kit_problems = _kit(written.kit if written else "", path)
    problems += kit_problems
    shown = plan if plan is None or setup is None else at_setup(plan, setup)
    lights: dict[str, Light] = {}
    tint_step_duv = shown.camera.tint_step_duv if shown else None
    for entry in shown.light if shown else ():
        try:
            lights[entry.name] = light_of_entry(entry, path.parent, tint_step_duv=tint_step_duv)
        except EvencastError as error:
            problems.append(_in_light(path, entry.name, error))
        problems += _swap_problems(entry, path, tint_step_duv)
    if plan is None and written is not None:
        problems += _spectrum_problems(written, path)
    if written is not None and kit_written is not None:
        problems += problems_together(written, kit_written, where=path.name, kit_where=written.kit)
    if shown is None or kit is None or any(each.severity == "error" for each in problems):
        raise DocumentErrors(path.name, problems)
    return LoadedPlan(shown, kit, lights, problems)


def _kit(name: str, plan_path: Path) -> tuple[LoadedKit | None, Kit | None, list[Problem]]:
    """The plan's kit, or what can be read of its document, and what is wrong with it."""
    if not name:
        return None, None, []
    path = plan_path.parent / name
    try:
        kit = load_kit(path)
    except DocumentErrors as errors:
        return None, sketch_kit(read_text(path).text), list(errors.problems)
    except EvencastError as error:
        problem = Problem("error", f"{plan_path.name}, kit ({name})", error.what, error.remedy)
        return None, None, [problem]
    return kit, kit.document, list(kit.problems)


def _spectrum_problems(plan: Plan, path: Path) -> list[Problem]:
    """What is wrong with the spectra that a plan with errors names, so that they show as well."""
    found = []
    for entry in plan.light:
        if not entry.spectrum:
            continue
        try:
            _measured(entry.name, path.parent, entry.spectrum, entry.kind or "unknown")
        except EvencastError as error:
            found.append(_in_light(path, entry.name, error))
    return found


def _swap_problems(entry: LightEntry, path: Path, tint_step_duv: float | None) -> list[Problem]:
    """What is wrong with what a light's lamp may be swapped for."""
    found = []
    for swap in entry.swap:
        try:
            swapped_light(entry, swap, path.parent, tint_step_duv=tint_step_duv)
        except EvencastError as error:
            found.append(_in_light(path, entry.name, error, f".swap {quoted(swap.name)}"))
    return found


def _in_light(path: Path, name: str, error: EvencastError, inside: str = "") -> Problem:
    place = f'{path.name}, light "{name}"{inside} ({error.where})'
    return Problem("error", place, error.what, error.remedy)


def _measured(name: str, folder: Path, spectrum: str, kind: LightKind) -> Light:
    """A light by the file of its spectrum or of its fixture."""
    return measured_light(folder / spectrum, name=name, kind=kind, where=spectrum)


def light_of_entry(entry: LightEntry, folder: Path, *, tint_step_duv: float | None) -> Light:
    """One light of the plan as a spectrum, under the plan's name, kind and fitting.

    folder : of the plan, where the spectra it names lie
    Raises  EvencastError where there is no such light, or its file cannot be read
    """
    kind = entry.kind or "unknown"
    cct_k = entry.cct_k or 0.0
    if entry.builtin is not None:
        light = builtin(entry.builtin, kind=kind)
    elif entry.spectrum is not None:
        light = _measured(entry.name, folder, entry.spectrum, kind)
    elif entry.tint is not None:
        tint = parse_tint(entry.tint) or 0.0
        light = of_camera(cct_k, toward_magenta=tint, step_duv=tint_step_duv, kind=kind)
    elif entry.duv is not None:
        light = of_reading(cct_k, entry.duv, kind=kind)
    else:
        light = of_kelvin(cct_k, kind=kind)
    return replace(light, name=entry.name, fitting=entry.fitting or light.fitting)


def swapped_light(
    entry: LightEntry, swap: Swap, folder: Path, *, tint_step_duv: float | None
) -> Light:
    """What a light of a plan is with another lamp in it.

    folder : of the plan, where the spectra it names lie
    """
    swapped = entry.model_copy(
        update={
            "kind": swap.kind,
            "builtin": swap.builtin,
            "spectrum": swap.spectrum,
            "cct_k": swap.cct_k,
            "duv": swap.duv,
            "tint": None,
        }
    )
    return light_of_entry(swapped, folder, tint_step_duv=tint_step_duv)
