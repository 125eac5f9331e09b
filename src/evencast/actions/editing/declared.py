"""Printed numbers of a sheet, as a form holds them: how finely they were rounded is read from their
digits, a final 0 too, which a number alone does not keep."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.forms import number_of
from evencast.plan.digits import Written, rounding_k, rounding_last_digit, rounding_stops

THIRD = 1 / 6


def kelvin_of(fields: Mapping[str, str], *, where: str) -> dict[str, Any]:
    """Declared colour temperatures and stops as a kit has them.

    fields : from_k, to_k and stops as typed, and others of `kelvin` where there are
    Raises  EvencastError naming the field of what is no number
    """
    found = {key: _number(fields, key, where) for key in ("from_k", "to_k", "stops")}
    more = {"rounding_k": rounding_k, "rounding_stops": rounding_stops}
    read = {"rounding_k": "to_k", "rounding_stops": "stops"}
    for key, rule in more.items():
        rounding = rule(_written(fields[read[key]]))
        if rounding is not None and rounding != rule(_plain(found[read[key]])):
            found[key] = rounding
    return found


def colour_of(fields: Mapping[str, str], *, where: str) -> dict[str, Any]:
    """A printed chromaticity as a kit has it.

    fields : illuminant, x, y and Y_percent as typed
    """
    found: dict[str, Any] = {"illuminant": fields["illuminant"]}
    found |= {key: _number(fields, key, where) for key in ("x", "y", "Y_percent")}
    typed = [rounding_last_digit(_written(fields[key])) for key in ("x", "y")]
    kept = [rounding_last_digit(_plain(found[key])) for key in ("x", "y")]
    finest = min(each for each in typed if each is not None)
    if finest != min(each for each in kept if each is not None):
        found["rounding_xy"] = finest
    share = rounding_last_digit(_written(fields["Y_percent"]))
    if share is not None and share != rounding_last_digit(_plain(found["Y_percent"])):
        found["rounding_Y_percent"] = share
    return found


def say_kelvin_rounding(fields: Mapping[str, str], *, where: str) -> str:
    """What the digits are taken to mean: "5600 K stands for 5550 to 5650 K"."""
    numbers = kelvin_of(fields, where=where)
    told = []
    step_k = rounding_k(_written(fields["to_k"]))
    if step_k is not None:
        low, high = (numbers["to_k"] + sign * step_k for sign in (-1, 1))
        told.append(f"{numbers['to_k']:g} K stands for {low:g} to {high:g} K")
    step_stops = rounding_stops(_written(fields["stops"]))
    if step_stops is not None:
        low, high = (max(0.0, numbers["stops"] + sign * step_stops) for sign in (-1, 1))
        by_thirds = abs(step_stops - THIRD) < 1e-9
        digits = 2 if by_thirds else math.ceil(-math.log10(step_stops))
        thirds = ", as thirds are printed" if by_thirds else ""
        told.append(
            f"{numbers['stops']:g} stop for {low:.{digits}f} to {high:.{digits}f} stop{thirds}"
        )
    return "; ".join(told)


def _number(fields: Mapping[str, str], key: str, where: str) -> float | int:
    return number_of(fields.get(key, ""), where=f"{where}, {key}")


def _written(text: str) -> object:
    plain = text.strip().replace(",", ".")
    return Written(plain) if "." in plain else int(float(plain))


def _plain(number: float | int) -> object:
    """The number as a document writes it."""
    return Written(repr(number)) if isinstance(number, float) else number
