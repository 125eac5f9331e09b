"""What charts share: a tolerance, the ends of a band, a table, and how offsets are said."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from evencast.quantities import say_mired, say_stops

Ends = tuple[float | None, float | None]
"""The 5th and the 95th percentile of all that a quantity may be; None for an end without one."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Allowed offsets from an aim: mired from the cool to the warm end, Duv to either side."""

    role: str
    mired_low: float
    mired_high: float
    duv: float

    def say(self) -> str:
        """In words: "±5 mired, ±0.0015 Duv", "0 to 60 mired warm, ±0.003 Duv"."""
        low, high = self.mired_low, self.mired_high
        across = f"±{high:g} mired"
        if low != -high:
            cool = f"{-low:g} cool" if low < 0 else f"{low:g}"
            across = f"{cool} to {high:g} mired warm"
        return f"{across}, ±{self.duv:g} Duv"


@dataclass(frozen=True, slots=True)
class Table:
    """A chart as a table, for those who do not see it.

    headers : one for each column
    rows    : as many cells each
    """

    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def say_ends(ends: Ends, say: Callable[[float], str]) -> str:
    """Both ends of a band: "0.14 to 0.38"; a question mark for an end without one."""
    return " to ".join("?" if each is None else say(each) for each in ends)


def say_band(mired: Ends | None, duv: Ends | None) -> str:
    """Bands of mired and Duv offsets: "5 mired cool to 1 mired warm, Duv -0.0014 magenta to
    +0.0027 green"; "none" where all is known."""
    if mired is None or duv is None:
        return "none"
    return f"{say_ends(mired, say_mired)}, Duv {say_ends(duv, signed_duv)}"


def signed_duv(duv: float) -> str:
    """Duv in four places with its sign and side: "+0.0027 green"."""
    shown = round(duv, 4) + 0.0
    side = "" if shown == 0 else (" green" if shown > 0 else " magenta")
    return f"{shown:+.4f}{side}"


def say_over(stops: float, reference: str) -> str:
    """Stops against something: "1 2/3 stop under the shot", "as the shot"."""
    side = _side(stops)
    return f"as {reference}" if side == "0" else f"{side} {reference}"


def say_stops_between(low: float, high: float) -> str:
    """A range of stops about a reference: "1 1/3 stop under to 2/3 stop under"."""
    return " to ".join(_side(each) for each in (low, high))


def _side(stops: float) -> str:
    if round(abs(stops) * 3) == 0:
        return "0"
    return f"{say_stops(stops)} {'over' if stops > 0 else 'under'}"


def finite(values: Sequence[float | None]) -> list[float]:
    """Those that are there."""
    return [each for each in values if each is not None]
