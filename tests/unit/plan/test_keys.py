from __future__ import annotations

from typing import Any

import pytest

from evencast.plan.keys import distance, slips
from evencast.plan.kit import Kit
from evencast.plan.plan import Plan


def said(data: dict[str, Any]) -> list[tuple[str, str]]:
    return [(each.where, each.remedy) for each in slips(Plan, data, where="job.toml")]


@pytest.mark.parametrize(
    ("one", "other", "letters"),
    [
        ("", "", 0),
        ("", "abc", 3),
        ("mired", "mired", 0),
        ("mired", "mird", 1),
        ("mired", "mirred", 1),
        ("mired", "mirad", 1),
        ("mired", "imred", 1),
        ("ca", "abc", 3),
        ("kitten", "sitting", 3),
    ],
)
def test_distance_counts_letters(one: str, other: str, letters: int) -> None:
    """Insert, delete, replace, swap neighbours; "ca" to "abc" is 3, as string alignment has it."""
    assert distance(one, other) == letters
    assert distance(other, one) == letters


@pytest.mark.parametrize(
    ("key", "meant"),
    [
        ("nmae", '"name"'),
        ("Name", '"name"'),
        ("tolerances", '"tolerance"'),
        ("lights", '"light"'),
        ("mains", '"mains_hz"'),
    ],
)
def test_a_slip_is_told_with_the_key_that_was_meant(key: str, meant: str) -> None:
    """Letters astray, a capital, a plural, a unit forgotten."""
    assert said({key: 1}) == [("job.toml", f"Did you mean {meant}?")]


@pytest.mark.parametrize("key", ["director", "weather", "x", "", "scene_number", "k" * 50_000])
def test_a_key_that_resembles_none_is_kept_in_silence(key: str) -> None:
    """Keys of your own need no permission."""
    assert said({key: 1}) == []


def test_a_forgotten_unit_offers_every_unit() -> None:
    """A width without a unit may be meant in any of them."""
    data = {"light": [{"name": "window", "aperture": [{"width": 3}]}]}
    assert said(data) == [
        (
            'job.toml, light "window".aperture[1]',
            'Did you mean "width_mm", "width_cm", "width_m", "width_in" or "width_ft"?',
        )
    ]


def test_a_key_below_the_wrong_heading_is_sent_home() -> None:
    """Only where the document misses it; otherwise it is a key of the person's own."""
    below = {"camera": {"mains_hz": 50}}
    assert said(below) == [
        (
            "job.toml, camera",
            "It belongs above the first heading, not below [camera]: everything below a heading "
            "is part of it.",
        )
    ]
    assert said(below | {"mains_hz": 50}) == []


def test_free_records_and_broken_tables_are_not_looked_into() -> None:
    """Nothing is said about the keys of `planned`, nor about what is no table at all."""
    data = {
        "setup": [{"light": [{"planned": {"nmae": 1}}, 3]}],
        "light": "none",
        "camera": [1],
        "tolerance": {"kee": {"mird": 1}},
    }
    assert said(data) == []


def test_a_kit_is_searched_down_to_its_stock() -> None:
    """Slips are found in lists inside lists."""
    data = {"filter": [{"name": "blue", "stock": [{"id": "B1", "cuont": 2}]}]}
    (problem,) = slips(Kit, data, where="van.toml")
    assert problem.where == 'van.toml, filter "blue".stock "B1"'
    assert problem.severity == "warning"
    assert problem.message == '"cuont" is not known here and is kept unread'
    assert problem.remedy == 'Did you mean "count"?'
