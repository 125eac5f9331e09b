"""What is told of frost: size, half-shadow and a loss that stays a range."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from evencast.actions.softness import frost_loss, frost_of, softness
from evencast.errors import EvencastError
from evencast.filters import generic
from evencast.lights import builtin
from evencast.results.exposure import SoftnessAnswer
from tests.plans import light, loaded


def told(folder: Path, keys: str, *, distance_m: float | None = 3.0) -> SoftnessAnswer | None:
    plan = loaded(folder, light("lamp", keys))
    (entry,) = plan.plan.light
    frost = frost_of(entry, plan.kit)
    loss = frost_loss(plan.lights["lamp"], frost)
    return softness(entry, frost, loss_stops=loss, distance_m=distance_m)


def test_bare_and_with_frost(tmp_path: Path) -> None:
    """150 mm of lens, 1200 mm of frost, 3 m away: 17 mm and 133 mm of half-shadow."""
    answer = told(tmp_path, 'size_mm = 150\nfrost = ["light frost"]\nfrost_size_mm = 1200')
    assert answer is not None
    assert answer.frost == ["light frost"]
    assert answer.frost_stops == (0.17, 0.6)
    assert (answer.bare_edge_mm, answer.frost_edge_mm) == pytest.approx((16.67, 133.33), abs=0.01)
    assert (answer.bare_seen_deg, answer.frost_seen_deg) == pytest.approx((2.86, 22.62), abs=0.01)
    assert answer.text == (
        "An edge 0.3 m in front of the face throws a half-shadow 17 mm wide bare, 130 mm wide "
        "with its frost."
    )
    assert answer.notes[0].endswith("by beam and distance: meter it.")
    assert any("middle of a hard lamp's beam" in each for each in answer.notes)


def test_a_light_without_frost(tmp_path: Path) -> None:
    answer = told(tmp_path, "size_mm = 600")
    assert answer is not None
    assert (answer.frost, answer.frost_stops, answer.notes) == ([], (0.0, 0.0), [])
    assert (answer.frost_size_mm, answer.frost_edge_mm, answer.frost_seen_deg) == (None,) * 3
    assert answer.bare_edge_mm == pytest.approx(66.67, abs=0.01)


def test_what_is_not_said_is_asked_for(tmp_path: Path) -> None:
    """The size of the frost; a distance; and nothing at all says nothing."""
    unknown = told(tmp_path, 'size_mm = 150\nfrost = ["light frost"]')
    assert unknown is not None
    assert unknown.frost_edge_mm is None
    assert "How large the lit frost is, is not said: add frost_size." in unknown.notes
    nowhere = told(tmp_path, "size_mm = 150", distance_m=None)
    assert nowhere is not None
    assert nowhere.text == "How soft it is cannot be told without its size and distance."
    assert told(tmp_path, "") is None


def test_frost_smaller_than_its_light_is_asked_about(tmp_path: Path) -> None:
    answer = told(tmp_path, 'size_mm = 600\nfrost = ["light frost"]\nfrost_size_mm = 300')
    assert answer is not None
    assert answer.notes[-1] == (
        "The lit frost is smaller than the light itself: check frost_size and size."
    )


def test_frost_known_by_its_spectrum_loses_what_that_says() -> None:
    """Where no range from practice is at hand."""
    measured = generic("ND 0.3")
    low, high = frost_loss(builtin("tungsten 3200 K"), [measured])
    assert 0.8 < low < 1.0 < high < 1.2
    assert frost_loss(builtin("tungsten 3200 K"), []) == (0.0, 0.0)


def test_frost_that_lets_nothing_pass_is_refused() -> None:
    black = replace(generic("ND 0.3"), transmittance=np.zeros(81), possible=None)
    with pytest.raises(EvencastError, match="nothing of tungsten 3200 K passes"):
        frost_loss(builtin("tungsten 3200 K"), [black])
