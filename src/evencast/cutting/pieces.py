"""The pieces that a light of a plan needs: one for every opening."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from evencast.cutting.count import Piece
from evencast.lights.light import Fitting

if TYPE_CHECKING:
    from evencast.plan.light import LightKeys

WINDOW_MARGIN_MM = 25.0
"""A pane's piece reaches so far over the glass on every side: common practice (10 to 50 mm), no
source."""


def pieces_of(light: LightKeys, fitting: Fitting) -> list[Piece]:
    """One piece for every opening of every fixture of the light; none where none is known.

    light   : its apertures are those of one fixture, its count how many fixtures there are
    fitting : what it sits in; a window's pieces are cut larger by the margin and may be joined,
              all others are cut as measured
    """
    is_window = fitting == "window"
    wider_mm = 2 * WINDOW_MARGIN_MM if is_window else 0.0
    return [
        Piece(aperture.width_mm + wider_mm, aperture.height_mm + wider_mm, is_window)
        for aperture in light.aperture
        for _ in range(aperture.count * light.count)
    ]


def area_m2(pieces: Iterable[Piece]) -> float:
    """Area of the pieces as they are when cut, laps left out. [m²]"""
    return sum(piece.width_mm * piece.height_mm for piece in pieces) / 1e6
