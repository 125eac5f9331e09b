"""One change of a plan's or a kit's text: made, read anew, and refused where it brings errors."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.filters import generic_names
from evencast.lights.catalogue import builtin_names_and_aliases
from evencast.lights.looks import look_names
from evencast.plan.document import read_kit, read_plan
from evencast.plan.edit import Changes, Path, with_values
from evencast.plan.kit import Kit
from evencast.plan.part import Part
from evencast.plan.place import folded, listed_names, quoted
from evencast.plan.plan import Plan
from evencast.plan.syntax import parsed

Data = dict[str, Any]
A_PLAN, A_KIT = "the plan", "the kit"


@dataclass(frozen=True, slots=True)
class Sort:
    """A sort of document: what it is called in messages, its model, how its problems are found."""

    where: str
    model: type[Part]
    problems: Callable[[str], Sequence[Problem]]

    def new_problems(self, text: str, *before: str) -> list[Problem]:
        """What is wrong with a text and with none of those it was made from."""
        known = {each for old in before for each in self.problems(old)}
        return [each for each in self.problems(text) if each not in known]


def _plan_problems(text: str) -> list[Problem]:
    lights, looks = builtin_names_and_aliases(), look_names()
    return read_plan(text, where=A_PLAN, known_lights=lights, known_looks=looks)[1]


def _kit_problems(text: str) -> list[Problem]:
    return read_kit(text, where=A_KIT, known_filters=generic_names())[1]


PLAN = Sort(A_PLAN, Plan, _plan_problems)
KIT = Sort(A_KIT, Kit, _kit_problems)


def opened(sort: Sort, text: str) -> Data:
    """What a document says, as far as TOML goes.

    Raises  DocumentErrors where it cannot be read at all
    """
    data = parsed(text, where=sort.where)
    if isinstance(data, Problem):
        raise DocumentErrors(sort.where, [data])
    return data


def changed(sort: Sort, text: str, changes: Changes) -> tuple[str, list[Problem]]:
    """The text with the changes made, and the warnings that it had not before.

    Raises  EvencastError where a change cannot be made; DocumentErrors with every problem where
            the document would have an error that it has not now
    """
    edited = with_values(text, changes, where=sort.where)
    if edited == text:
        return text, []
    if not _is_unicode(edited):
        raise EvencastError(
            "it holds half of a character, which no file can keep",
            where=sort.where,
            remedy="Type the text anew.",
        )
    new = sort.new_problems(edited, text)
    if any(each.severity == "error" for each in new):
        raise DocumentErrors(sort.where, new)
    return edited, new


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def added_problems(
    sort: Sort, text: str, path: Path, entry: Mapping[str, Any]
) -> list[Problem] | None:
    """What would be wrong with one more entry of a list; None where the text cannot be read."""
    data = parsed(text, where=sort.where)
    if isinstance(data, Problem):
        return None
    try:
        changed(sort, text, [addition(data, path, entry)])
    except DocumentErrors as error:
        return list(error.problems)
    except EvencastError as error:
        return [Problem("error", error.where, error.what, error.remedy)]
    return []


def addition(data: Data, path: Path, entry: Mapping[str, Any]) -> tuple[Path, Any]:
    """The change that adds an entry to a list."""
    return (*path, len(entries(data, path))), entry


def entries(data: Data, path: Path) -> list[Data]:
    """The entries of a list of the document, without what is no table; [] where it has none."""
    there = at_place(data, path)
    return there if isinstance(there, list) else []


def at_place(data: Any, path: Path) -> Any:
    """What stands at a place of the document; None where nothing does."""
    for step in path:
        try:
            data = data[step]
        except (LookupError, TypeError):
            return None
    return data


def named(sort: Sort, data: Data, path: Path, name: str, *, what: str) -> tuple[Path, Data]:
    """The entry of a list that has a name, whatever its capitals, and its path by number.

    Raises  EvencastError naming those that there are
    """
    there = entries(data, path)
    for number, entry in enumerate(there):
        if is_named(entry, name):
            return (*path, number), entry
    names = [each["name"] for each in there if isinstance(each, dict) and "name" in each]
    raise EvencastError(
        f"no {what} is called {quoted(name)}",
        where=sort.where,
        remedy=f"Name one of these: {listed_names(map(str, names))}."
        if names
        else f"There is no {what} yet: add one first.",
    )


def is_named(entry: object, name: str) -> bool:
    """Whether an entry of a list is called so."""
    return isinstance(entry, dict) and is_name(entry.get("name"), name)


def is_name(value: object, name: str) -> bool:
    """Whether a value is that name."""
    return isinstance(value, str) and folded(value) == folded(name)
