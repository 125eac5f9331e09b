"""What every part of a document shares: units in key names, and all faults at once.

A key ending in `_mm` may be written with any unit of length. A part may ask for one of
several keys. Both are checked together with the types, so that one reading finds every
fault and not only the first layer of them. Unknown keys are kept.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, ClassVar, Self, TypeVar

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    ModelWrapValidatorHandler,
    ValidationError,
    model_validator,
)
from pydantic_core import InitErrorDetails, PydanticCustomError

from evencast.quantities import listed

MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
"""Units a length may be written in; the inch of 25.4 mm is that of ISO 80000-3."""

FAULT = "evencast_fault"
"""Type of the faults found here; they carry their own words."""

T = TypeVar("T")
Many = Annotated[tuple[T, ...], Field(strict=False)]
"""A list in the document, a tuple in the model."""

Text = Annotated[str, Field(min_length=1, pattern=r"\S")]
Kelvin = Annotated[float, Field(ge=1000, le=100_000)]
Duv = Annotated[float, Field(ge=-0.05, le=0.05)]
Positive = Annotated[float, Field(gt=0)]
NotNegative = Annotated[float, Field(ge=0)]
Count = Annotated[int, Field(ge=1)]


@dataclass(frozen=True, slots=True)
class OneOf:
    """Keys of which one alone may be given; a choice of several keys needs all of them.

    needed : False where none is right too
    """

    choices: tuple[tuple[str, ...], ...]
    needed: bool = True


def fault(message: str, *, remedy: str) -> PydanticCustomError:
    """A fault in our own words, for a validator to raise."""
    return PydanticCustomError(FAULT, "{message}", {"message": message, "remedy": remedy})


def as_number(value: object) -> float | None:
    """A finite number as written in a document, or None for anything else."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


class Part(BaseModel):
    """A table of a document: unknown keys are kept, nothing can be changed in place."""

    model_config = ConfigDict(
        extra="allow",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        field_title_generator=lambda name, _: name.replace("_", " "),
    )
    one_of: ClassVar[tuple[OneOf, ...]] = ()

    @classmethod
    def lengths(cls) -> list[str]:
        """Names of its lengths without a unit: "width" for `width_mm`."""
        return list(_lengths(cls))

    @classmethod
    def known_keys(cls) -> list[str]:
        """Every key that may be written, a length once per unit."""
        return list(_known_keys(cls))

    @classmethod
    def completed(cls, data: dict[str, Any]) -> dict[str, Any]:
        """What can be told from the written keys is filled in; for a part to override."""
        return data

    @model_validator(mode="wrap")
    @classmethod
    def _every_fault(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(data, Mapping):
            return handler(data)
        faults = [line for rule in cls.one_of for line in _broken(rule, data)]
        try:
            in_mm = lengths_in_mm(cls.lengths(), dict(data), faults)
            part = handler(cls.completed(in_mm))
        except ValidationError as error:
            faults += [_relayed(dict(each)) for each in error.errors(include_url=False)]
        if faults:
            raise ValidationError.from_exception_data(cls.__name__, faults)
        return part


@cache
def _lengths(part: type[Part]) -> tuple[str, ...]:
    return tuple(name.removesuffix("_mm") for name in part.model_fields if name.endswith("_mm"))


@cache
def _known_keys(part: type[Part]) -> tuple[str, ...]:
    lengths = _lengths(part)
    plain = [name for name in part.model_fields if name.removesuffix("_mm") not in lengths]
    return (*plain, *(f"{length}_{unit}" for length in lengths for unit in MM_PER_UNIT))


def _line(message: str, *, remedy: str, at: tuple[str, ...] = ()) -> InitErrorDetails:
    return InitErrorDetails(type=fault(message, remedy=remedy), loc=at, input=None)


def _relayed(error: dict[str, Any]) -> InitErrorDetails:
    """A fault already found, to be raised again together with others."""
    kind = error["type"]
    if kind == FAULT:
        kind = fault(error["ctx"]["message"], remedy=error["ctx"]["remedy"])
    return InitErrorDetails(
        type=kind, loc=error["loc"], input=error["input"], ctx=error.get("ctx", {})
    )


def _broken(rule: OneOf, data: Mapping[str, Any]) -> list[InitErrorDetails]:
    given = [choice for choice in rule.choices if not data.keys().isdisjoint(choice)]
    written = [next(key for key in choice if key in data) for choice in given]
    if len(given) > 1:
        pair = listed([f'"{key}"' for key in written])
        both = "both " if len(given) == 2 else ""
        return [_line(f"has {both}{pair}", remedy="Keep one of them.")]
    if given:
        return [
            _line(
                f'"{key}" is missing',
                remedy=f"Write {listed(given[0])} together.",
                at=(key,),
            )
            for key in given[0]
            if key not in data
        ]
    if not rule.needed:
        return []
    return [
        _line(
            f"has none of {listed([choice[0] for choice in rule.choices])}",
            remedy="Write exactly one: "
            + listed([" with ".join(choice) for choice in rule.choices], "or")
            + ".",
        )
    ]


def lengths_in_mm(
    lengths: Sequence[str], data: dict[str, Any], faults: list[InitErrorDetails]
) -> dict[str, Any]:
    """The table with every length in millimetres; one that is wrong is 1 and among the faults."""
    for length in lengths:
        units = [unit for unit in MM_PER_UNIT if f"{length}_{unit}" in data]
        if not units:
            continue
        key = f"{length}_{units[0]}"
        number = as_number(data[key])
        if len(units) > 1:
            names = listed([f"{length}_{unit}" for unit in units])
            faults.append(
                _line(f"{length} is given as {names}", remedy="Keep one unit.", at=(key,))
            )
        elif number is None or number <= 0:
            faults.append(
                _line(
                    f'"{key}" is not a length',
                    remedy=f"Write a number above 0, as in {key} = 25.",
                    at=(key,),
                )
            )
        for unit in units:
            del data[f"{length}_{unit}"]
        wrong = number is None or number <= 0
        data[f"{length}_mm"] = 1.0 if wrong else (number or 0.0) * MM_PER_UNIT[units[0]]
    return data
