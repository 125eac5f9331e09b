"""Several values of one table of a plan or a kit, as a form holds them, set together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from evencast.actions.editing.document import PLAN, Data, Sort, is_named, opened
from evencast.actions.editing.forms import is_length, length_name
from evencast.actions.editing.values import change_of
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.plan.edit import Path, with_values
from evencast.plan.part import MM_PER_UNIT
from evencast.results.editing import Edited

MOST_SAID = 4


class Refused(DocumentErrors):
    """A form that cannot be taken.

    at     : what is wrong, by the field it stands in
    others : what is wrong with the document then, and with no field of the form
    """

    def __init__(self, where: str, at: Mapping[str, str], others: Sequence[Problem]) -> None:
        problems = [Problem("error", name, told, "Mend that field.") for name, told in at.items()]
        super().__init__(where, [*problems, *others])
        self.at, self.others = dict(at), list(others)


def shown_fields(
    text: str, path: Path, names: Sequence[str], *, sort: Sort = PLAN
) -> dict[str, str]:
    """What a form shows of a table before anything is typed: the text of each field, "" where the
    document has no value.

    path  : of the table, by names or numbers; it need not be there
    names : of the fields: keys below the table with points between, lengths without their unit
    """
    data = opened(sort, text)
    return {name: _shown(sort, data, (*path, *_steps(name))) for name in names}


def set_fields(text: str, path: Path, fields: Mapping[str, str], *, sort: Sort = PLAN) -> Edited:
    """The document with the fields of a form set, all together; a field that holds what the
    document says stays as it is written there, and one that is empty takes its key away. A table
    of which the form leaves nothing goes as a whole.

    Raises  Refused with what is wrong at every field; EvencastError for a table that is not there
    """
    shown = shown_fields(text, path, list(fields), sort=sort)
    wanted = {name: value for name, value in fields.items() if _plain(value) != _plain(shown[name])}
    emptied = _emptied(fields, wanted, shown)
    edited, said, wrong = text, list[str](), dict[str, str]()
    title: str | None = None
    for name in sorted(wanted, key=lambda each: bool(wanted[each].strip())):
        whole = next((each for each in emptied if name.startswith(f"{each}.")), None)
        target = name if whole is None else whole
        try:
            changes, told, title = change_of(
                sort, opened(sort, edited), (*path, *_steps(target)), wanted[name]
            )
            edited = with_values(edited, changes, where=sort.where)
        except EvencastError as error:
            wrong[name] = f"{error.what}. {error.remedy}"
            continue
        if changes:
            said.append(told)
    if wrong:
        raise Refused(sort.where, wrong, [])
    return _checked(sort, text, edited, list(fields), _together(said), title)


def _checked(
    sort: Sort, text: str, edited: str, names: Sequence[str], said: str, title: str | None
) -> Edited:
    """The edited text, unless it has errors that the text had not."""
    new = sort.new_problems(edited, text)
    errors = [each for each in new if each.severity == "error"]
    if errors:
        at: dict[str, str] = {}
        others = []
        for each in errors:
            name = next((name for name in names if _is_at(each, name)), None)
            if name is None:
                others.append(each)
            else:
                at[name] = f"{each.message}. {each.remedy}"
        raise Refused(sort.where, at, others)
    return Edited(edited, said, title, new)


def _steps(name: str) -> tuple[str | int, ...]:
    return tuple(int(step) if step.isdigit() else step for step in name.split("."))


def _shown(sort: Sort, data: Data, path: Path) -> str:
    table: Any = data
    numbered = list[str | int]()
    for step in path[:-1]:
        if isinstance(table, list) and isinstance(step, str):
            step = next((at for at, each in enumerate(table) if is_named(each, step)), -1)
        numbered.append(step)
        try:
            table = table[step] if step != -1 else None
        except (LookupError, TypeError):
            return ""
    if not isinstance(table, Mapping):
        return ""
    key = str(path[-1])
    if is_length(sort.model, (*numbered, key)):
        stem = length_name(key)
        unit = next((each for each in MM_PER_UNIT if f"{stem}_{each}" in table), None)
        return "" if unit is None else f"{_text(table[f'{stem}_{unit}'])} {unit}"
    return _text(table.get(key))


def _text(value: Any) -> str:
    if value is None or isinstance(value, Mapping):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return "; ".join(_text(each) for each in value)
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _emptied(
    fields: Mapping[str, str], wanted: Mapping[str, str], shown: Mapping[str, str]
) -> set[str]:
    """Tables of which all fields are empty now, and one was not."""
    tables = {name.rpartition(".")[0] for name in wanted if "." in name}
    return {
        table
        for table in tables
        if not any(value.strip() for name, value in fields.items() if name.startswith(f"{table}."))
        and any(shown[name] for name in fields if name.startswith(f"{table}."))
    }


def _is_at(problem: Problem, name: str) -> bool:
    """Whether a problem is one of a field."""
    where = problem.where
    for step in _steps(name):
        if isinstance(step, int):
            said = f"[{step + 1}]"
        else:
            said = f".{step}" if not where.startswith(step) else step
        at = where.find(said)
        if at < 0:
            return False
        where = where[at + len(said) :]
    return not where or where.startswith("_") or where[0] in "[ "


def _together(said: Sequence[str]) -> str:
    """Sentences of single changes as one, what they are about named once."""
    if not said:
        return ""
    about, colon, _ = said[0].partition(": ")
    front = f"{about}{colon}"
    same = bool(colon) and all(each.startswith(front) for each in said)
    parts = [each.removeprefix(front) if same else each for each in said]
    left = len(parts) - MOST_SAID
    told = "; ".join(parts[:MOST_SAID]) + (f"; and {left} more" if left > 0 else "")
    return (front if same else "") + told
