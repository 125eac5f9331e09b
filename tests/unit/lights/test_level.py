from __future__ import annotations

import pytest

from evencast.errors import EvencastError
from evencast.lights.fixture import Fixture, parse_fixture
from evencast.lights.level import Level, is_near, total


@pytest.mark.parametrize(
    ("text", "fixture"),
    [
        ("tungsten", Fixture("tungsten")),
        ("650 tungsten 3m flood", Fixture("tungsten", 1, 650.0, 3.0, "flood")),
        (
            "2 x 1kW tungsten -1stop 10ft SPOT",
            Fixture("tungsten -1stop", 2, 1000.0, 3.048, "spot", 1.0),
        ),
        ("150W tungsten flood 80 cm", Fixture("tungsten", 1, 150.0, 0.8, "flood")),
        ("2x FL2 2m", Fixture("FL2", 2, None, 2.0)),
        ("3200K 3m", Fixture("3200K", 1, None, 3.0)),
        ("3200 K", Fixture("3200 K")),
        ("5400K+0.0065", Fixture("5400K+0.0065")),
        ("panel at 4300K 2m", Fixture("panel at 4300K", 1, None, 2.0)),
        ("LED phosphor 2700 K B1 2m", Fixture("LED phosphor 2700 K B1", 1, None, 2.0)),
        ("./lamp 3m.csv", Fixture("./lamp 3m.csv")),
        ("650", Fixture("650")),
    ],
)
def test_a_light_as_it_stands(text: str, fixture: Fixture) -> None:
    """Count and watts in front, distance and focus behind; the light keeps its own numbers."""
    found = parse_fixture(text)
    assert found.distance_m == pytest.approx(fixture.distance_m)
    assert (found.light, found.count, found.watts, found.focus, found.dim_stops) == (
        fixture.light,
        fixture.count,
        fixture.watts,
        fixture.focus,
        fixture.dim_stops,
    )


def test_a_level_moves_loses_and_adds_as_a_range() -> None:
    level = Level(100.0, 200.0, "lux", 4.0)
    assert level.moved(2.0) == Level(400.0, 800.0, "lux", 2.0)
    assert level.losing(1.0, 2.0) == Level(25.0, 100.0, "lux", 4.0)
    assert total([level, Level(1.0, 2.0, "lux", 9.0)]) == Level(101.0, 202.0, "lux")


def test_a_level_without_a_distance_cannot_be_moved() -> None:
    with pytest.raises(EvencastError) as caught:
        Level(1.0, 1.0, "lux").moved(2.0)
    assert str(caught.value) == (
        "level: the reading has no distance, so it cannot be moved\n"
        "Say how far from the light it was read, for example 3m."
    )


@pytest.mark.parametrize(
    ("levels", "what"),
    [
        ([], "no level to add up"),
        (
            [Level(1.0, 1.0, "lux"), Level(1.0, 1.0, "meter")],
            "levels in lux and levels as a stop do not add up",
        ),
    ],
)
def test_levels_that_do_not_add_up(levels: list[Level], what: str) -> None:
    with pytest.raises(EvencastError) as caught:
        total(levels)
    assert str(caught.value) == (
        f"level: {what}\nGive at least one, and all in lux or all as stops of one meter."
    )


def test_near_is_under_five_times_the_size() -> None:
    assert is_near(1.49, size_m=0.3)
    assert not is_near(1.51, size_m=0.3)
