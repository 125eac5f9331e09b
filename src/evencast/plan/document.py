"""Reading plan and kit from text, and giving the text back.

A document keeps the text it was read from, so what nobody changed comes back byte for
byte: line endings, byte order mark, remarks, order of keys, unknown keys.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
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
LATEST_TEXTS = 32
"""Plans that are remembered as they were read: a change begins with the text of the last."""

_TABLES: dict[type[Part], tuple[str, str, str]] = {
    Kit: ("filter", "light", "kit"),
    Plan: ("light", "filter", "plan"),
}
"""The list that a document must have, that of the other sort, and what it is called."""

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
    kit, problems = _read_kit(text, None if known_filters is None else tuple(known_filters))
    return _document(kit, text, where=where), _placed(problems, where)


@lru_cache(LATEST_TEXTS)
def _read_kit(text: str, known: tuple[str, ...] | None) -> tuple[Kit | None, tuple[Problem, ...]]:
    """As `_read_plan`."""
    kit, sketch, found = _modelled(Kit, text)
    if sketch is not None:
        found += tuple(kit_problems(sketch, where="", known_filters=known))
    return _unless_errors(kit, found), found


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
    plan, problems = _read_plan(text, *names)
    return _document(plan, text, where=where), _placed(problems, where)


@lru_cache(LATEST_TEXTS)
def _read_plan(
    text: str, lights: tuple[str, ...] | None, looks: tuple[str, ...] | None
) -> tuple[Plan | None, tuple[Problem, ...]]:
    """What one action reads several times, nothing of which can be changed; places of problems
    go behind the document's name."""
    plan, sketch, found = _modelled(Plan, text)
    if sketch is not None:
        found += tuple(plan_problems(sketch, where="", known_lights=lights, known_looks=looks))
    return _unless_errors(plan, found), found


def sketch_kit(text: str) -> Kit | None:
    """What can be read of a kit with errors, to check a plan against; None where nothing can."""
    return _modelled(Kit, text)[1]


def sketch_plan(text: str) -> Plan | None:
    """What can be read of a plan with errors, to check what it names; None where nothing can."""
    return _modelled(Plan, text)[1]


@lru_cache(LATEST_TEXTS)
def _modelled(model: type[M], text: str) -> tuple[M | None, M | None, tuple[Problem, ...]]:
    """A text as its model, what makes sense of it in any case, and what is wrong with either."""
    data, problems = _opened(text, *_TABLES[model])
    if data is None:
        return None, None, tuple(problems)
    made: M | None = None
    try:
        made = model.model_validate(data)
    except ValidationError as error:
        problems += problems_of(error, model=model, data=data, where="")
    problems += slips(model, data, where="")
    return made, made or sketched(model, data), tuple(problems)


def _opened(
    text: str, own: str, foreign: str, what: str
) -> tuple[dict[str, Any] | None, list[Problem]]:
    """What the text says, as far as it makes sense to look any further."""
    data = parsed(text, where="")
    if isinstance(data, Problem):
        return None, [data]
    if foreign in data and own not in data:
        other = {"kit": "plan", "plan": "kit"}[what]
        return None, [
            Problem(
                "error",
                "",
                f"this is a {other}, where a {what} is wanted",
                f"Give a document with [[{own}]] in it.",
            )
        ]
    wrong = _wrong_format(data)
    if wrong is None:
        return data, []
    return (data | {"format": FORMAT} if "format" not in data else None), [wrong]


def _wrong_format(data: Mapping[str, Any]) -> Problem | None:
    number = data.get("format")
    at, remedy = ", format", f"Write format = {FORMAT} at the top."
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


def _unless_errors(model: M | None, problems: Sequence[Problem]) -> M | None:
    return None if any(problem.severity == "error" for problem in problems) else model


def _document(model: M | None, text: str, *, where: str) -> Document[M] | None:
    return None if model is None else Document(where, text, model)


def _placed(problems: Sequence[Problem], where: str) -> list[Problem]:
    return [replace(each, where=where + each.where) for each in problems]
