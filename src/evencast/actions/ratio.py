"""`ratio`: key against fill, or the fill for a ratio, in both definitions."""

from __future__ import annotations

import math
import re
from typing import Literal

from evencast.actions.taking import positive
from evencast.camera.ratio import Ratio, fill_by_key_to_fill, fill_by_sum_to_fill, stops
from evencast.errors import EvencastError
from evencast.results.expose import RatioAnswer

Unit = Literal["lx", "fc", "f"]
ACCEPTED = "Write 400lx, 37fc or f/4."
_READING = re.compile(
    r"(?:(?P<f>f\s*/)\s*)?(?P<value>\d*\.?\d+)\s*(?P<unit>lx|lux|fc)?", re.IGNORECASE
)
_RATIO = re.compile(r"(\d*\.?\d+)\s*:\s*(\d*\.?\d+)")

ALONE = (
    "Read each light alone: disc towards the lamp, the other shaded. The same ratio is more "
    "contrast in the first definition than in the second: name the one you mean."
)


def ratio(key_text: str, fill_text: str) -> RatioAnswer:
    """Key and fill as read, each alone; or key and the ratio the fill is wanted for.

    key_text  : "400lx", "37fc" or "f/8"
    fill_text : the same, or "4:1"
    Raises  EvencastError for different units, and where the fill is the brighter
    """
    key, unit = _reading(key_text, "KEY")
    asked = _asked(fill_text)
    if asked is not None:
        return _wanted(key, unit, asked)
    fill, fill_unit = _reading(fill_text, "FILL")
    if fill_unit != unit:
        raise EvencastError(
            f"{key_text} and {fill_text} are not read alike",
            where="FILL",
            remedy="Give both in lux, both in foot-candles, or both as stops at one index and "
            "shutter.",
        )
    if fill > key:
        raise EvencastError(
            f"the fill ({fill_text}) is brighter than the key ({key_text})",
            where="FILL",
            remedy="Write the brighter of the two first: it is the key.",
        )
    return _answer(key, unit, asked=None, fills=(fill, fill))


def _wanted(key: float, unit: Unit, asked: float) -> RatioAnswer:
    light = _light(key, unit)
    fills = (fill_by_key_to_fill(light, asked), fill_by_sum_to_fill(light, asked))
    return _answer(key, unit, asked=asked, fills=(_told(fills[0], unit), _told(fills[1], unit)))


def _answer(
    key: float, unit: Unit, *, asked: float | None, fills: tuple[float, float]
) -> RatioAnswer:
    both = Ratio(_light(key, unit), _light(fills[0], unit))
    return RatioAnswer(
        unit=unit,
        key=key,
        asked=asked,
        fill_by_key_to_fill=round(fills[0], 4),
        fill_by_sum_to_fill=round(fills[1], 4),
        key_to_fill=round(both.key_to_fill, 4),
        sum_to_fill=round(both.sum_to_fill, 4),
        key_to_fill_stops=round(stops(both.key_to_fill), 4),
        sum_to_fill_stops=round(stops(both.sum_to_fill), 4),
        notes=[ALONE],
    )


def _light(value: float, unit: Unit) -> float:
    """A reading as an amount of light: stops go by the square."""
    return value**2 if unit == "f" else value


def _told(light: float, unit: Unit) -> float:
    return math.sqrt(light) if unit == "f" else light


def _reading(text: str, where: str) -> tuple[float, Unit]:
    match = _READING.fullmatch(text.strip())
    if match is None or (match["f"] and match["unit"]):
        raise EvencastError(f'"{text}" is not a reading', where=where, remedy=ACCEPTED)
    if not match["f"] and not match["unit"]:
        raise EvencastError(f'"{text}" has no unit', where=where, remedy=ACCEPTED)
    value = positive(float(match["value"]), where=where, example="400lx")
    if match["f"]:
        return value, "f"
    return value, "fc" if match["unit"].casefold() == "fc" else "lx"


def _asked(text: str) -> float | None:
    """The number of "4:1"; None for what is no ratio."""
    match = _RATIO.fullmatch(text.strip())
    if match is None:
        return None
    first = positive(float(match[1]), where="FILL", example="4:1")
    asked = first / positive(float(match[2]), where="FILL", example="4:1")
    if not asked > 1:
        raise EvencastError(
            f"a ratio of {text} leaves no light that is the key",
            where="FILL",
            remedy="Write the larger number first, such as 4:1.",
        )
    return asked
