from __future__ import annotations

import pytest

from evencast.cutting import Piece, area_m2, pieces_of
from evencast.lights.light import Fitting
from evencast.plan.light import Light


def light(**keys: object) -> Light:
    return Light.model_validate(
        {"name": "window left", "role": "key", "builtin": "D55", "moves": ["filter"], **keys}
    )


def test_panes_are_cut_larger_and_may_be_joined() -> None:
    """25 mm on every side; one piece for every opening."""
    panes = [
        {"width_m": 1.1, "height_m": 1.5, "count": 2},
        {"width_mm": 400, "height_mm": 500},
    ]
    assert pieces_of(light(aperture=panes), "window") == [
        Piece(1150, 1550, may_join=True),
        Piece(1150, 1550, may_join=True),
        Piece(450, 550, may_join=True),
    ]


@pytest.mark.parametrize("fitting", ["fixture", "tube", "panel", "household", "street", ""])
def test_all_else_is_cut_as_measured(fitting: Fitting) -> None:
    """Frames and sleeves keep their size and take no seam."""
    entry = light(aperture=[{"width_mm": 170, "height_mm": 200}])
    assert pieces_of(entry, fitting) == [Piece(170, 200)]


def test_every_fixture_has_the_openings() -> None:
    """Two lamps with a frame each need two pieces."""
    entry = light(count=2, aperture=[{"width_mm": 170, "height_mm": 170}])
    assert pieces_of(entry, "fixture") == [Piece(170, 170)] * 2


def test_no_opening_no_piece() -> None:
    """A light without measured openings."""
    assert pieces_of(light(), "window") == []


def test_area() -> None:
    """1.2 x 1.6 m twice and 0.5 x 0.2 m once: 3.94 square metres."""
    pieces = [Piece(1200, 1600), Piece(1200, 1600, may_join=True), Piece(500, 200)]
    assert area_m2(pieces) == pytest.approx(3.94)
    assert area_m2([]) == 0
