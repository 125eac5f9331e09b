"""`solve --keep`: what was planned, written into a set-up of the plan's own document."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.actions.inputs import inputs_digest
from evencast.actions.planned import load_plan
from evencast.actions.solve import solve
from evencast.colour import mired_duv, white_uv
from evencast.errors import DocumentErrors, EvencastError, Problem, nearest
from evencast.plan.document import PlanDocument, read_plan
from evencast.plan.place import folded, listed_names, quoted
from evencast.plan.plan import Balance
from evencast.plan.setup import Setup
from evencast.plan.setups import light_in
from evencast.results.choice import AimAnswer
from evencast.results.plan import AlternativeLight, PlannedLight, SolveAnswer
from evencast.store.files import read_text, write_text

if TYPE_CHECKING:  # tomlkit is only needed for a change
    from evencast.plan.edit import Changes, Value
    from evencast.solver.scene import Progress

SAME_DUV = 5e-6
"""A balance this near a white is that white: no meter and no camera shows less."""


def keep(path: Path, *, setup: str | None, progress: Progress | None = None) -> SolveAnswer:
    """The answer to a plan in a set-up, kept in its document: for each light `planned`, and the
    balance. A set-up or a light that is not there yet is added; nothing else is touched.

    Raises  EvencastError where no set-up is named, and where the document was changed by something
            else meanwhile; DocumentErrors as `solve`
    """
    if setup is None or not setup.strip():
        raise EvencastError(
            "no set-up is named in which the plan could be kept",
            where="--keep",
            remedy='Name it, as in --setup "afternoon" --keep; one that the plan has not yet is '
            "added to it.",
        )
    file = read_text(path)
    document, _ = read_plan(file.text, where=path.name)
    there = _named(document, setup)
    answer = solve(path, setup=there.name if there else None, progress=progress)
    if document is None:  # or else it could not have been solved
        raise EvencastError(
            "was changed by something else while it was solved; nothing was written",
            where=str(path),
            remedy="Solve it again.",
        )
    loaded = load_plan(path, setup=there.name if there else None)
    kept = Kept(answer.balance, answer.lights, inputs_digest(loaded))
    text = document.with_values(_changes(document, setup, kept))
    write_text(path, text, expected_sha256=file.sha256)
    return replace(
        answer,
        setup=there.name if there else setup,
        kept_in=str(path),
        problems=[*answer.problems, *_notes(document, setup, there, answer, path)],
    )


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of an answer, or of another way beside it.

    planned_for : digest of what it was worked out for
    """

    balance: AimAnswer
    lights: Sequence[PlannedLight | AlternativeLight]
    planned_for: str


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """A plan that was solved, and a digest of what it was solved for."""

    answer: SolveAnswer
    planned_for: str


def work_out(
    path: Path,
    setup: str | None,
    balance_k: float | None = None,
    *,
    progress: Progress | None = None,
) -> WorkedOut:
    """The answer to a plan in a set-up, nothing written; see `solve`."""
    answer = solve(path, setup=setup, balance_k=balance_k, progress=progress)
    return WorkedOut(answer, inputs_digest(load_plan(path, setup=setup)))


def with_kept(text: str, setup: str, kept: Kept, *, where: str) -> str:
    """A plan's text with an answer kept in a set-up; of lights that the plan has no longer nothing.

    Raises  DocumentErrors where the plan has errors
    """
    document, problems = read_plan(text, where=where)
    if document is None:
        raise DocumentErrors(where, problems)
    there = [each for each in kept.lights if document.model.light_named(each.name)]
    return document.with_values(_changes(document, setup, replace(kept, lights=there)))


def _named(document: PlanDocument | None, name: str) -> Setup | None:
    setups = document.model.setup if document else ()
    return next((each for each in setups if folded(each.name) == folded(name)), None)


def _changes(document: PlanDocument, name: str, answer: Kept) -> Changes:
    there = _named(document, name)
    setups = document.model.setup
    place = ("setup", len(setups) if there is None else setups.index(there))
    kept = _balance(document.model.camera.balance, answer.balance)
    kept["planned_for"] = answer.planned_for
    changes: list[tuple[tuple[str | int, ...], Value | None]] = (
        [(place, {"name": name} | {key: each for key, each in kept.items() if each is not None})]
        if there is None
        else [((*place, key), each) for key, each in kept.items()]
    )
    lights = there.light if there else ()
    added = len(lights)
    for each in answer.lights:
        said = light_in(there, each.name)
        if said is None:
            entry: dict[str, Value] = {"name": each.name, "planned": _planned(each)}
            changes.append(((*place, "light", added), entry))
            added += 1
            continue
        unknown = said.planned.model_extra or {} if said.planned else {}
        planned = _planned(each) | unknown
        changes.append(((*place, "light", lights.index(said), "planned"), planned))
    return changes


def _planned(each: PlannedLight | AlternativeLight) -> dict[str, Value]:
    """What hangs on a light and how it is set, as far as that is not nothing."""
    said: dict[str, Value | None] = {
        "filters": each.filters,
        "scrims": each.scrims,
        "dial_k": None if each.dial_k is None else _whole(each.dial_k),
        "dim_stops": _whole(each.dim_stops),
        "swapped_for": each.swapped_for,
        "off": each.move == "switch off",
    }
    return {key: value for key, value in said.items() if value}


def _balance(of_plan: Balance, chosen: AimAnswer) -> dict[str, Value | None]:
    """The balance as a set-up keeps it: the plan's own numbers where it is fixed; None for what is
    not to be written."""
    cct_k, duv = of_plan.fixed_k, of_plan.duv
    if cct_k is None and chosen.cct_k is not None:
        cct_k, duv = round(chosen.cct_k, 1), round(chosen.duv, 5)
        if abs(duv - float(mired_duv(white_uv(cct_k))[1])) < SAME_DUV:
            duv = None
    return {"balance_k": None if cct_k is None else _whole(cct_k), "balance_duv": duv}


def _whole(number: float) -> float | int:
    """4300 rather than 4300.0."""
    return int(number) if number == int(number) else float(number)


def _notes(
    document: PlanDocument, name: str, there: Setup | None, answer: SolveAnswer, path: Path
) -> list[Problem]:
    """What may not be as it was meant: a set-up added for a slip, a balance that was not kept."""
    found = []
    where = f"{path.name}, setup {quoted(name)}"
    names = [each.name for each in document.model.setup]
    if there is None and nearest(name, names):
        meant = listed_names(nearest(name, names))
        found.append(
            Problem(
                "warning",
                where,
                "it was not in the plan and was added",
                f"If you meant {meant}, delete it and keep the plan there.",
            )
        )
    if answer.balance.cct_k is None:
        found.append(
            Problem(
                "warning",
                where,
                f"the balance, {answer.balance.label}, has no colour temperature and was not kept",
                "Say which one the camera stands at when you trim: --balance 4300K.",
            )
        )
    return found
