"""Words and sheets that several lessons share."""

from __future__ import annotations

from collections.abc import Iterable

from evencast.actions.doubt import Looks, ends, middle
from evencast.quantities import say_duv, say_turn

NONE = "none"
GRADES = ("eighth", "quarter", "half", "three-quarter", "full")
STRENGTHS = (NONE, *GRADES)
"""What a slider of strengths steps through."""

COMPUTED = (
    "Computed from spectra, not a photograph. The sheets are this program's own even series and "
    "no maker's; your sheets and lamps differ: meter them."
)


def capital(text: str) -> str:
    """A text as the start of a sentence."""
    return text[:1].upper() + text[1:]


def say_kelvin(cct_k: float | None) -> str:
    """ "3200 K"; a colour without one has none."""
    return "no colour temperature" if cct_k is None else f"{cct_k:.0f} K"


def say_strength(number: float) -> str:
    """The grade at a place of a slider of strengths."""
    return STRENGTHS[round(number)]


def say_sheet(grade: str, series: str) -> str:
    """ "half CTB", "no sheet"."""
    return "no sheet" if grade == NONE else f"{grade} {series}"


def say_shift(shift_mired: float | None) -> str:
    """ "134 mired cooler"; no number where either side has no colour temperature."""
    return "to no colour temperature" if shift_mired is None else say_turn(shift_mired)


def say_green(shift_duv: float) -> str:
    """ "Duv -0.0136, strongly magenta"."""
    return f"Duv {round(shift_duv, 4) + 0.0:+.4f}, {say_duv(shift_duv)}"


def say_band(seen: Looks) -> str:
    """Both ends of the shift: "-132 to -100 mired"; "known" where there is no band."""
    if seen.is_known:
        return "known"
    low, high = ends(seen.shift_mired, 3)
    return f"{_end(low)} to {_end(high)} mired"


def shift_of(seen: Looks) -> float | None:
    """The shift in the middle; None where either side has no colour temperature."""
    found = middle(seen.shift_mired)
    return found if found == found else None


def once(texts: Iterable[str]) -> list[str]:
    """Each text once, in order."""
    return list(dict.fromkeys(texts))


def _end(value: float | None) -> str:
    return "?" if value is None else f"{value:+.0f}"
