"""The tables of keys in docs/plan-format.md, made from the models of plan and kit.

    python -m builders.plan_keys

Each table stands between a pair of markers; the rest of the page is written by hand.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from evencast.plan.faults import is_list, part_in, written
from evencast.plan.kit import Kit
from evencast.plan.light import LightKeys
from evencast.plan.part import Part
from evencast.plan.plan import Plan
from evencast.plan.setup import SetupLight

PAGE = Path(__file__).parent.parent / "docs" / "plan-format.md"
DOCUMENTS: tuple[tuple[str, type[Part]], ...] = (("kit", Kit), ("plan", Plan))


def main() -> None:
    """Bring the tables of the page up to date."""
    PAGE.write_text(with_tables(PAGE.read_text("utf-8")), encoding="utf-8", newline="\n")


def with_tables(page: str) -> str:
    """The page with its tables made anew."""
    for name, model in DOCUMENTS:
        table = "\n".join(["| key | value | meaning |", "|---|---|---|", *_rows(model, "")])
        begin, end = f"<!-- keys of the {name}: made by builders/plan_keys.py -->", "<!-- end -->"
        pattern = re.compile(re.escape(begin) + ".*?" + re.escape(end), re.DOTALL)
        if len(pattern.findall(page)) != 1:
            raise ValueError(f"the page needs one place for the keys of the {name}: {begin}")
        page = pattern.sub(lambda _, made=f"{begin}\n{table}\n{end}": made, page)  # type: ignore[misc]
    return page


def _rows(model: type[Part], inside: str) -> Iterator[str]:
    for name, field in model.model_fields.items():
        if model is SetupLight and name in LightKeys.model_fields and name != "name":
            continue  # the same key as in the light itself
        key = f"{inside}{name}"
        yield f"| {_key(key, model)} | {_value(field)} | {field.description} |"
        inner = part_in(field.annotation)
        if inner is not None:
            yield from _rows(inner, f"{key}.")


def _key(key: str, model: type[Part]) -> str:
    if key.rpartition(".")[2].removesuffix("_mm") in model.lengths():
        return f"`{key}` (`_cm`, `_m`, `_in`, `_ft`)"
    return f"`{key}`"


def _value(field: FieldInfo) -> str:
    words = _kind(field.annotation)
    if field.is_required():
        return f"{words}; needed"
    plain = field.default is not None and not isinstance(field.default, Part | tuple)
    return f"{words}; `{written(field.default)}` if left out" if plain else words


def _kind(annotation: object) -> str:
    """What kind of value a key takes, in words."""
    if get_origin(annotation) is Literal:
        return ", ".join(f"`{written(value)}`" for value in get_args(annotation))
    inner = [each for each in get_args(annotation) if each not in (type(None), ...)]
    if part_in(annotation) is not None:
        return "list of tables" if is_list(annotation) else "table"
    if get_origin(annotation) is tuple:
        return "number or pair of numbers" if len(inner) > 1 else f"list of {_many(inner[0])}"
    names = {
        bool: "true or false",
        float: "number",
        int: "whole number",
        str: "text",
        dict: "table",
    }
    plain = get_origin(annotation) or annotation
    return names[plain] if plain in names else _kind(inner[0])


def _many(annotation: object) -> str:
    one = _kind(annotation)
    return f"{one}s" if one.endswith("number") else one


if __name__ == "__main__":
    main()
