"""From what a form holds to a value of a document, by what the model takes there."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import EllipsisType
from typing import Any, Literal, get_args, get_origin

from evencast.errors import EvencastError
from evencast.plan.faults import field_at, part_in, written
from evencast.plan.part import MM_PER_UNIT, Part
from evencast.plan.place import Loc, quoted

YES, NO = ("yes", "true", "on", "1"), ("no", "false", "off", "0")
MOST_DIGITS = 15
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)")
_LENGTH = re.compile(rf"({_NUMBER.pattern})\s*({'|'.join(MM_PER_UNIT)})?", re.IGNORECASE)


def is_length(model: type[Part], loc: Loc) -> bool:
    """Whether a key is a length, with any unit or none behind its name."""
    part = part_at(model, loc[:-1])
    return part is not None and length_name(str(loc[-1])) in part.lengths()


def length_name(key: str) -> str:
    """A length's key without its unit."""
    stem, _, unit = key.rpartition("_")
    return stem if stem and unit in MM_PER_UNIT else key


def part_at(model: type[Part], loc: Loc) -> type[Part] | None:
    """The kind of table at a place; None where the model has none there."""
    if not any(isinstance(step, str) for step in loc):
        return model
    field = field_at(model, loc)
    return None if field is None else part_in(field.annotation)


def length_of(text: str, key: str, *, where: str) -> tuple[str, float | int]:
    """A length as a key with its unit and a number: ("distance_m", 3) of "3 m".

    key : with the unit that holds where the text has none
    Raises  EvencastError for what is no length, and where nothing says its unit
    """
    match = _LENGTH.fullmatch(text.strip())
    own = key.rpartition("_")[2] if length_name(key) != key else None
    unit = (match[2] or "").casefold() or own if match else None
    if match is None or unit is None:
        raise EvencastError(
            f"{quoted(text)} is not a length" + (" with its unit" if match else ""),
            where=where,
            remedy="Write 3 m, 80 cm, 600 mm, 10 ft or 24 in.",
        )
    return f"{length_name(key)}_{unit}", number_of(match[1], where=where)


def number_of(text: str, *, where: str) -> float | int:
    """A number, with a point or with a comma that can mean nothing else.

    Raises  EvencastError for anything else
    """
    plain = text.strip().replace("−", "-")
    whole, comma, part = plain.partition(",")
    if _NUMBER.fullmatch(plain) is None or (comma and len(part) == 3 and whole.strip("+-0")):
        raise EvencastError(
            f"{quoted(text)} is not a number" + (" of one meaning" if comma else ""),
            where=where,
            remedy=f"Write {whole}.{part} or {whole}{part}."
            if comma
            else "Write a number, with a point for decimals, as in 2.5.",
        )
    plain = plain.replace(",", ".")
    if sum(each.isdigit() for each in plain) > MOST_DIGITS:
        raise EvencastError(
            "it has more digits than any number on a set",
            where=where,
            remedy=f"Write at most {MOST_DIGITS}.",
        )
    return float(plain) if "." in plain else int(plain)


def value_of(model: type[Part], loc: Loc, value: Any, *, where: str) -> Any:
    """The value that a form's text stands for at a place; a value that is no text stays, and of a
    table each key is read by itself.

    Raises  EvencastError where the text cannot be what the model takes there
    """
    if isinstance(value, Mapping):
        return table_of(model, loc, value, where=where)
    if not isinstance(value, str):
        return value
    field = field_at(model, loc)
    if field is None:
        return value
    return _typed(value, field.annotation, where=where, example=(field.examples or [None])[0])


def table_of(
    model: type[Part], loc: Loc, table: Mapping[str, Any], *, where: str
) -> dict[str, Any]:
    """A table of a form; what is empty there is left out."""
    read: dict[str, Any] = {}
    for key, each in table.items():
        if each is None or (isinstance(each, str) and not each.strip()):
            continue
        at = f"{where}.{key}"
        if isinstance(each, str) and is_length(model, (*loc, key)):
            name, number = length_of(each, key, where=at)
            read[name] = number
        else:
            read[key] = value_of(model, (*loc, key), each, where=at)
    return read


def _typed(text: str, annotation: Any, *, where: str, example: Any) -> Any:
    kinds = _kinds(annotation)
    if part_in(annotation) is not None:
        raise EvencastError(
            f"{quoted(text)} is text, where several values belong",
            where=where,
            remedy=f"Set them one by one, as in {written(example)}."
            if example is not None
            else "Set them one by one.",
        )
    if bool in kinds:
        return _truth(text, where=where)
    items = next((each for each in kinds if get_origin(each) is tuple), None)
    if items is not None:
        return _several(text, get_args(items), where=where)
    if str in kinds:
        return text.strip()
    if any(get_origin(each) is Literal for each in kinds):
        choices = [choice for each in kinds for choice in get_args(each)]
        return next((each for each in choices if str(each) == text.strip()), text.strip())
    return number_of(text, where=where)


def _kinds(annotation: Any) -> list[Any]:
    """The types that an annotation is made of, without their constraints."""
    if get_origin(annotation) in (tuple, Literal) or not get_args(annotation):
        return [annotation]
    return [kind for each in get_args(annotation) for kind in _kinds(each)]


def _truth(text: str, *, where: str) -> bool:
    plain = text.strip().casefold()
    if plain in (*YES, *NO):
        return plain in YES
    raise EvencastError(
        f"{quoted(text)} is neither yes nor no", where=where, remedy="Write yes or no."
    )


def _several(text: str, items: tuple[Any, ...], *, where: str) -> Any:
    """Entries with ";" between, or else with commas; of two ends "-5 to 60" or one number."""
    if not any(isinstance(each, EllipsisType) for each in items):
        ends = [number_of(each, where=where) for each in re.split(r"\s+to\s+|\s*;\s*", text)]
        return ends if len(ends) > 1 else ends[0]
    parts = re.split(";" if ";" in text else ",", text)
    return [_typed(each, items[0], where=where, example=None) for each in parts if each.strip()]
