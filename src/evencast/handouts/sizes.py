"""Sizes of pieces in the units of the paper they stand on."""

from __future__ import annotations

from evencast.handouts.typeset import Paper

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8
PARTS_OF_AN_INCH = 16


def say_size(width_mm: float, height_mm: float, paper: Paper) -> str:
    """Width and height: "170 × 170 mm"; on letter paper "6 11/16 × 6 11/16 in" before that.

    Inches are rounded to the nearest sixteenth, millimetres to whole ones.
    """
    metric = f"{width_mm:.0f} × {height_mm:.0f} mm"
    if paper == "a4":
        return metric
    return f"{_inches(width_mm)} × {_inches(height_mm)} in ({metric})"


def say_size_alone(width_mm: float, height_mm: float, paper: Paper) -> str:
    """The same in the paper's own unit alone, where room is short."""
    return say_size(width_mm, height_mm, paper).partition(" (")[0]


def say_distance(length_mm: float, paper: Paper) -> str:
    """How far or how high: "3 m"; on letter paper "9.8 ft (3 m)"."""
    metric = f"{length_mm / 1000.0:.3g} m"
    return metric if paper == "a4" else f"{length_mm / MM_PER_FOOT:.1f} ft ({metric})"


def _inches(length_mm: float) -> str:
    whole, rest = divmod(round(length_mm / MM_PER_INCH * PARTS_OF_AN_INCH), PARTS_OF_AN_INCH)
    if rest == 0:
        return str(whole)
    parts = PARTS_OF_AN_INCH
    while rest % 2 == 0:
        rest, parts = rest // 2, parts // 2
    return f"{whole} {rest}/{parts}" if whole else f"{rest}/{parts}"
