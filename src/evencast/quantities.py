"""Units and words: mired, stops, Duv, and how each is said.

Signs: a positive mired shift is warmer, a positive Duv is greener, a positive loss is
less light. `docs/glossary.md` lists every quantity with its unit and sign.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import overload

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

THIRDS = {0: "", 1: "1/3", 2: "2/3"}
"""How thirds of a stop are written."""

NEUTRAL_DUV = 0.0005
"""Nearer than this two colours are as green."""


@overload
def mired(cct_k: float) -> float: ...
@overload
def mired(cct_k: Floats) -> Floats: ...
def mired(cct_k: float | Floats) -> float | Floats:
    """Reciprocal colour temperature. [1e6 / K]"""
    return 1e6 / cct_k


@overload
def kelvin(mired_value: float) -> float: ...
@overload
def kelvin(mired_value: Floats) -> Floats: ...
def kelvin(mired_value: float | Floats) -> float | Floats:
    """Colour temperature of a mired value. [K]"""
    return 1e6 / mired_value


def mired_shift(*, from_k: float, to_k: float) -> float:
    """Mired arithmetic: target minus start. [mired; positive is warmer]"""
    return mired(to_k) - mired(from_k)


def stops_of_ratio(ratio: float) -> float:
    """Loss in stops of a light ratio (through / bare). [stop; positive is less light]"""
    return math.inf if ratio <= 0 else -math.log2(ratio)


def stops_of_density(density: float) -> float:
    """Loss of a neutral density: 0.3 is 0.997 stop, not exactly one. [stop]"""
    return density / math.log10(2.0)


def say_stops(stops: float) -> str:
    """Stops in thirds with the word, as on an iris: "1 2/3 stop", "no loss"."""
    thirds = round(abs(stops) * 3)
    if thirds == 0:
        return "no stop" if abs(stops) < 0.05 else "under 1/3 stop"
    whole, part = divmod(thirds, 3)
    number = " ".join(piece for piece in (str(whole) if whole else "", THIRDS[part]) if piece)
    return f"{number} {stop_word(whole)}"


def stop_word(stops: float) -> str:
    """The word behind a number of stops: "stops" from two on."""
    return "stops" if abs(stops) >= 2 else "stop"


def signed_stops(stops: float) -> str:
    """A level against another: "+0.5 stop", "-2 stops"."""
    return f"{stops:+g} {stop_word(stops)}"


def say_loss(stops: float) -> str:
    """Stops in thirds and in decimals: "1 2/3 stop (1.66)"."""
    return f"{say_stops(stops)} ({stops:.2f})"


def many(count: int, what: str) -> str:
    """A number of things: "1 sheet", "3 sheets"."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def listed(names: Sequence[str], last: str = "and") -> str:
    """ "a", "a or b", "a, b or c"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def say_mired(mired_value: float) -> str:
    """A mired offset in words: "4 mired warm", "12 mired cool", "0 mired"."""
    rounded = round(abs(mired_value))
    if rounded == 0:
        return "0 mired"
    return f"{rounded} mired {'warm' if mired_value > 0 else 'cool'}"


def say_turn(shift_mired: float) -> str:
    """A mired shift in words: "134 mired cooler", "0 mired"."""
    rounded = round(abs(shift_mired))
    if rounded == 0:
        return "0 mired"
    return f"{rounded} mired {'warmer' if shift_mired > 0 else 'cooler'}"


def say_left(residual_mired: float | None, residual_duv: float | None) -> str:
    """What remains between a colour and its aim: "4 mired warm, a trace green"."""
    if residual_mired is None or not math.isfinite(residual_mired):
        return "no colour temperature"
    side = say_duv(residual_duv or 0.0)
    return say_mired(residual_mired) + ("" if side == "neutral" else f", {side}")


def is_offset(offset_mired: float, offset_duv: float) -> bool:
    """Whether two colours are said to differ: by half a mired, or by a Duv that is not neutral."""
    return abs(offset_mired) >= 0.5 or abs(offset_duv) >= NEUTRAL_DUV


def say_duv(duv: float) -> str:
    """A Duv offset in words: "a trace green", "a little magenta", "plainly green".

    Under 0.0005 it is "neutral"; steps at 0.0015, 0.003 and 0.006: about one, two and
    four of the just-visible steps of CIE TN 001 (step size from memory, unchecked).
    """
    size = abs(duv)
    if size < NEUTRAL_DUV:
        return "neutral"
    word = "green" if duv > 0 else "magenta"
    for limit, amount in ((0.0015, "a trace"), (0.003, "a little"), (0.006, "clearly")):
        if size < limit:
            return f"{amount} {word}"
    return f"strongly {word}"
