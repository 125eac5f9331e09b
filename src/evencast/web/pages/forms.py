"""A form as values: what each field is called, what it holds, what is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, get_args, get_origin

from evencast.actions.editing.words import say_key
from evencast.plan.faults import field_at, is_list
from evencast.plan.part import Part

DIGITS = frozenset(
    {"cct_k", "lux", "fc", "f_stop", "t_stop", "cd", "watts", "amps", "count", "low_k", "high_k"}
    | {"exposure_index", "frames_per_s", "shutter_deg", "shutter_s", "fixed_k", "step_k", "dial_k"}
    | {"dim_stops", "layers", "loss_stops", "volts", "breaker_a", "margin", "power_factor"}
    | {"meter_constant", "tint_step_duv"}
)
"""Keys of numbers that are never below 0, for which a phone need show digits alone."""
IN_THE_KEY = "with its unit in the key"

Sort = Literal["text", "decimal", "choice", "many", "sheets"]


@dataclass(frozen=True)
class Field:
    """One field.

    sort    : "text", "decimal" (a phone shows its digits), "choice" (one of a few), "many" (some of
              a few), "sheets" (names with ";" between, which chips put there)
    about   : what belongs there
    choices : of a choice; chips of sheets; words to complete of a text
    problem : what is wrong with what was typed
    """

    name: str
    label: str
    value: str = ""
    sort: Sort = "text"
    about: str = ""
    choices: list[str] = field(default_factory=list)
    problem: str = ""
    remembered: bool = False

    @property
    def values(self) -> list[str]:
        """Of a field that holds several."""
        return [each.strip() for each in self.value.split(";") if each.strip()]


@dataclass(frozen=True)
class Group:
    """Fields that belong together.

    title   : "" where the form's own says it
    is_open : whether it is shown before somebody asks for it
    """

    title: str
    fields: list[Field]
    is_open: bool = True


@dataclass(frozen=True)
class FormPage:
    """A form.

    number, revision : of the document that it changes, as it was when the form was shown
    tray     : id of the place on the plan page where it stands
    action   : where it is sent
    hidden   : what is sent with it
    does     : what its button says
    problems : what is wrong beside the fields
    """

    number: int
    revision: int
    title: str
    action: str
    tray: str
    does: str
    back: str
    groups: list[Group]
    hidden: dict[str, str] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)
    told: list[str] = field(default_factory=list)
    takes_files: bool = False

    @property
    def names(self) -> list[str]:
        """Of all fields."""
        return [each.name for group in self.groups for each in group.fields]

    def filled(
        self,
        values: Mapping[str, str],
        *,
        at: Mapping[str, str] | None = None,
        problems: Sequence[str] = (),
    ) -> FormPage:
        """The same with what somebody typed, and what is wrong with it."""
        wrong = at or {}

        def fill(each: Field) -> Field:
            value = values.get(each.name, each.value)
            return replace(each, value=value, problem=wrong.get(each.name, ""))

        def open_up(group: Group) -> Group:
            fields = [fill(each) for each in group.fields]
            return Group(group.title, fields, group.is_open or any(each.problem for each in fields))

        return replace(self, groups=[open_up(each) for each in self.groups], problems=[*problems])


def model_field(
    model: type[Part],
    name: str,
    value: str,
    *,
    label: str = "",
    suggest: Sequence[str] = (),
    sort: Sort | None = None,
) -> Field:
    """The field of a form for a key of a document, with the words of its model.

    name : keys with points between, from the model
    """
    loc = tuple(int(step) if step.isdigit() else step for step in name.split("."))
    found = field_at(model, loc) or _length_field(model, loc)
    about, choices, kind = "", list(suggest), sort or "text"
    if found is not None:
        about = found.description or ""
        literal = _literals(found.annotation)
        if literal and is_list(found.annotation):
            kind, choices = "many", literal
        elif literal:
            kind, choices = "choice", literal
        elif sort is None and str(loc[-1]) in DIGITS:
            kind = "decimal"
        if field_at(model, loc) is None:
            about = about.replace(IN_THE_KEY, "with its unit, as in 3 m")
    return Field(name, label or say_key(str(loc[-1])), value, kind, about, choices)


def _length_field(model: type[Part], loc: tuple[str | int, ...]) -> Any:
    return field_at(model, (*loc[:-1], f"{loc[-1]}_mm"))


def _literals(annotation: Any) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(each) for each in get_args(annotation)]
    found: list[str] = []
    for each in get_args(annotation):
        found += [one for one in _literals(each) if one not in found]
    return found
