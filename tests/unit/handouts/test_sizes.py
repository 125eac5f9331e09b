"""Sizes in the units of the paper."""

from __future__ import annotations

import pytest

from evencast.handouts.sizes import say_distance, say_size


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "told"),
    [
        (170.0, 170.0, "6 11/16 × 6 11/16 in (170 × 170 mm)"),
        (25.4, 12.7, "1 × 1/2 in (25 × 13 mm)"),
        (1150.0, 1550.0, "45 1/4 × 61 in (1150 × 1550 mm)"),
        (609.6, 304.8 + 25.4 / 4, "24 × 12 1/4 in (610 × 311 mm)"),
    ],
)
def test_inches_in_sixteenths(width_mm: float, height_mm: float, told: str) -> None:
    """By the inch of 25.4 mm, ISO 80000-3."""
    assert say_size(width_mm, height_mm, "letter") == told
    assert say_size(width_mm, height_mm, "a4") == f"{width_mm:.0f} × {height_mm:.0f} mm"


def test_distances() -> None:
    assert say_distance(3000.0, "a4") == "3 m"
    assert say_distance(3000.0, "letter") == "9.8 ft (3 m)"
    assert say_distance(2438.4, "letter") == "8.0 ft (2.44 m)"
