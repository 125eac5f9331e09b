"""Reading plan and kit from text, and giving the text back.

A document keeps the text it was read from, so what nobody changed comes back byte for
byte: line endings, byte order mark, remarks, order of keys, unknown keys.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from pydantic import ValidationError

from evencast.errors import Problem
from evencast.plan.checks import kit_problems, plan_problems
from evencast.plan.faults import problems_of
from evencast.plan.keys import slips
from evencast.plan.kit import Kit
from evencast.plan.part import Part
from evencast.plan.plan import Plan
from evencast.plan.sketch import sketched
from evencast.plan.syntax import parsed

if TYPE_CHECKING:
    from evencast.plan.edit import Changes

FORMAT = 1
LATEST_TEXTS = 8
"""Plans that are remembered as they were read."""

M = TypeVar("M", bound=Part)


@dataclass(frozen=True, slots=True)
class Document(Generic[M]):
    """A document without errors.

    where   : what it is called in messages, such as its file name
    written : the text it was read from
    model   : what it says
    """

    where: str
    written: str
    model: M

    def text(self) -> str:
        """The document as text: as it was read, to the byte."""
        return self.written

    def with_values(self, changes: Changes) -> str:
        """The text with values set and all else untouched, to be read anew.

        changes, errors : see `evencast.plan.edit.with_values`
        """
        from evencast.plan.edit import with_values  # tomlkit is only needed for a change

        return with_values(self.written, changes, where=self.where)


KitDocument = Document[Kit]
PlanDocument = Document[Plan]


def read_kit(
    text: str, *, where: str, known_filters: Collection[str] | None = None
) -> tuple[KitDocument | None, list[Problem]]:
    """A kit and every problem found in it; None in its place where one of them is an error.

    where         : what to call the document in messages, such as its file name
    known_filters : names of the generic filters; None leaves them unchecked
    """
    known = None if known_filters is None else tuple(known_filters)
    document, problems = _read_kit(text, where, known)
    return document, list(problems)


@lru_cache(LATEST_TEXTS)
def _read_kit(
    text: str, where: str, known: tuple[str, ...] | None
) -> tuple[KitDocument | None, tuple[Problem, ...]]:
    """As `_read_plan`."""
    data, problems = _opened(text, where=where, own="filter", foreign="light", what="kit")
    if data is None:
        return None, tuple(problems)
    kit, found = _modelled(Kit, data, where=where)
    found += kit_problems(kit or sketched(Kit, data), where=where, known_filters=known)
    document, problems = _unless_errors(kit, text, where=where, problems=problems + found)
    return document, tuple(problems)


def read_plan(
    text: str,
    *,
    where: str,
    known_lights: Collection[str] | None = None,
    known_looks: Collection[str] | None = None,
) -> tuple[PlanDocument | None, list[Problem]]:
    """A plan and every problem found in it; None in its place where one of them is an error.

    where        : what to call the document in messages, such as its file name
    known_lights : names of the built-in lights; None leaves them unchecked
    known_looks  : names of the built-in looks; None leaves looks unchecked
    """
    names = (None if each is None else tuple(each) for each in (known_lights, known_looks))
    document, problems = _read_plan(text, where, *names)
    return document, list(problems)


@lru_cache(LATEST_TEXTS)
def _read_plan(
    text: str, where: str, lights: tuple[str, ...] | None, looks: tuple[str, ...] | None
) -> tuple[PlanDocument | None, tuple[Problem, ...]]:
    """What one action reads several times: nothing of it can be changed."""
    data, problems = _opened(text, where=where, own="light", foreign="filter", what="plan")
    if data is None:
        return None, tuple(problems)
    plan, found = _modelled(Plan, data, where=where)
    found += plan_problems(
        plan or sketched(Plan, data), where=where, known_lights=lights, known_looks=looks
    )
    document, problems = _unless_errors(plan, text, where=where, problems=problems + found)
    return document, tuple(problems)


def sketch_kit(text: str) -> Kit | None:
    """What can be read of a kit with errors, to check a plan against; None where nothing can."""
    data, _ = _opened(text, where="", own="filter", foreign="light", what="kit")
    return None if data is None else sketched(Kit, data)


def sketch_plan(text: str) -> Plan | None:
    """What can be read of a plan with errors, to check what it names; None where nothing can."""
    data, _ = _opened(text, where="", own="light", foreign="filter", what="plan")
    return None if data is None else sketched(Plan, data)


def _opened(
    text: str, *, where: str, own: str, foreign: str, what: str
) -> tuple[dict[str, Any] | None, list[Problem]]:
    """What the text says, as far as it makes sense to look any further."""
    data = parsed(text, where=where)
    if isinstance(data, Problem):
        return None, [data]
    if foreign in data and own not in data:
        other = {"kit": "plan", "plan": "kit"}[what]
        return None, [
            Problem(
                "error",
                where,
                f"this is a {other}, where a {what} is wanted",
                f"Give a document with [[{own}]] in it.",
            )
        ]
    wrong = _wrong_format(data, where=where)
    if wrong is None:
        return data, []
    return (data | {"format": FORMAT} if "format" not in data else None), [wrong]


def _wrong_format(data: Mapping[str, Any], *, where: str) -> Problem | None:
    number = data.get("format")
    at, remedy = f"{where}, format", f"Write format = {FORMAT} at the top."
    if number is None:
        return Problem("error", at, '"format" is missing', remedy)
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        return Problem("error", at, '"format" is not the number of a format', remedy)
    if number > FORMAT:
        return Problem(
            "error",
            at,
            f"format {number} was written by a newer version of evencast; this one reads "
            f"format {FORMAT}",
            "Update evencast, and leave the number as it is.",
        )
    return None


def _modelled(
    model: type[M], data: dict[str, Any], *, where: str
) -> tuple[M | None, list[Problem]]:
    warnings = slips(model, data, where=where)
    try:
        return model.model_validate(data), warnings
    except ValidationError as error:
        return None, problems_of(error, model=model, data=data, where=where) + warnings


def _unless_errors(
    model: M | None, text: str, *, where: str, problems: list[Problem]
) -> tuple[Document[M] | None, list[Problem]]:
    if model is None or any(problem.severity == "error" for problem in problems):
        return None, problems
    return Document(where, text, model), problems
