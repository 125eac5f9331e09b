"""Exposure of a scene, by hand: lux add, stops compare, and a constant joins the two."""

from __future__ import annotations

import math

import pytest

from evencast.actions.exposures import FILL_BRIGHTER, NO_KEY, THE_SHOT, Lit, exposures
from evencast.actions.levels import BareLevel, Shot
from evencast.actions.taking import Taking
from evencast.lights.level import Level
from evencast.results.exposure import LightExposure, SceneExposure

CAMERA = Taking(800.0, 1 / 48, 24.0, (250.0, 330.0), 60)
PAIR = [Lit("key", "key"), Lit("fill", "fill")]
F8, NO_SHOT = Shot(8.0, "f/8"), Shot(None, "no stop")


def lux(
    value: float, most: float | None = None, *, frost: tuple[float, float] = (0, 0)
) -> BareLevel:
    return BareLevel(Level(value, most or value, "lux"), "lux", [], frost)


def stop(f_number: float) -> BareLevel:
    """As read at the camera's index and time."""
    value = f_number**2 * 48 / 800
    return BareLevel(Level(value, value, "meter"), "stop", [], (0.0, 0.0))


def scene(lights: list[Lit], bare: dict[str, BareLevel], *, shot: Shot = F8) -> SceneExposure:
    return exposures(lights, bare, camera=CAMERA, shot=shot)


def named(told: SceneExposure, name: str) -> LightExposure:
    return next(each for each in told.lights if each.name == name)


def test_the_taught_lamp_against_the_window() -> None:
    """1000 lx less 2 stops: f/3.55 to f/4.08, 1.94 to 2.34 stops short of f/8."""
    key = Lit("lamp", "key", tolerance_stops=0.25, filter_stops=(2.0, 2.0, 2.0))
    told = named(scene([key], {"lamp": lux(1000)}), "lamp")
    assert told.lux == (250.0, 250.0)
    assert told.f_number == pytest.approx((3.5533, 4.0825), abs=1e-4)
    assert told.gap_stops == pytest.approx((1.941, 2.141, 2.3415), abs=1e-3)
    assert told.over_shot_stops == pytest.approx((-2.3415, -2.141, -1.941), abs=1e-3)
    assert (told.against, told.aim_stops, told.within_tolerance) == (THE_SHOT, 0.0, False)


def test_four_to_one_in_both_definitions() -> None:
    """Key 400 lx, fill 100 lx: 4:1 and 2 stops, 5:1 and 2.32; together 500 lx. In lux no constant
    counts for a ratio."""
    told = scene(
        [Lit("key", "key"), Lit("fill", "fill", aim_stops=-2.0)],
        {"key": lux(400), "fill": lux(100)},
    )
    subject = told.subject
    assert subject is not None
    assert subject.key_to_fill is not None
    assert subject.sum_to_fill is not None
    assert subject.key_to_fill.to_one == (4.0, 4.0, 4.0)
    assert subject.key_to_fill.stops == (2.0, 2.0, 2.0)
    assert subject.sum_to_fill.to_one == (5.0, 5.0, 5.0)
    assert subject.sum_to_fill.stops == pytest.approx((2.3219,) * 3, abs=1e-4)
    assert subject.lux == (500.0, 500.0)
    assert named(told, "fill").gap_stops == (0.0, 0.0, 0.0)
    assert named(told, "fill").within_tolerance is True
    assert named(told, "fill").against == "key"
    assert told.meter_constants == (250.0, 330.0)


def test_a_fill_of_the_other_definition() -> None:
    """400 lx and 133.3 lx: (key + fill) : fill is 4:1, the fill 1.58 stops under the key."""
    told = scene(
        [Lit("key", "key"), Lit("fill", "fill", aim_stops=-2.0)],
        {"key": lux(400), "fill": lux(400 / 3)},
    )
    assert told.subject is not None
    assert told.subject.sum_to_fill is not None
    assert told.subject.sum_to_fill.to_one == pytest.approx((4.0,) * 3, abs=1e-5)
    assert named(told, "fill").gap_stops == pytest.approx((-0.415,) * 3, abs=1e-3)


def test_stops_compare_without_a_constant() -> None:
    """f/8 against f/4: two stops, exactly; together f/8.94."""
    told = scene(
        [Lit("key", "key"), Lit("fill", "fill", aim_stops=-2.0)],
        {"key": stop(8), "fill": stop(4)},
    )
    assert named(told, "key").gap_stops == (0.0, 0.0, 0.0)
    assert named(told, "fill").gap_stops == (0.0, 0.0, 0.0)
    assert told.subject is not None
    assert told.subject.f_number == pytest.approx((math.sqrt(80),) * 2, abs=1e-4)
    assert told.subject.lux is None
    assert told.meter_constants is None


def test_lux_and_stops_are_joined_by_each_constant() -> None:
    """f/8 needs 960 lx by a disc and 1267.2 lx by a dome. Beside 320 lx of fill the key is 3 to 1
    by a disc and 3.96 to 1 by a dome; together f/9.24 and f/8.95."""
    told = scene(
        [Lit("key", "key"), Lit("fill", "fill", aim_stops=-2.0)],
        {"key": stop(8), "fill": lux(320)},
    )
    subject = told.subject
    assert subject is not None
    assert subject.key_to_fill is not None
    low, middle, high = subject.key_to_fill.to_one
    assert (low, high) == pytest.approx((3.0, 3.96), abs=1e-5)
    assert middle == pytest.approx(math.sqrt(3.0 * 3.96), abs=1e-5)
    assert subject.sum_to_fill is not None
    assert subject.sum_to_fill.to_one == pytest.approx((4.0, 1 + middle, 4.96), abs=1e-5)
    by_dome = math.sqrt(64 + 320 * 800 / 48 / 330)
    by_disc = math.sqrt(64 + 320 * 800 / 48 / 250)
    assert subject.f_number == pytest.approx((by_dome, by_disc), abs=1e-4)
    assert subject.lux is None
    under = math.log2(3.0), math.log2(3.96)
    assert named(told, "fill").gap_stops == pytest.approx(
        (under[0] - 2, sum(under) / 2 - 2, under[1] - 2), abs=1e-3
    )


def test_the_ends_of_a_ratio_are_the_ends_of_its_lights() -> None:
    """100 to 200 lx against 50 to 100: 1 to 4, in the middle 2."""
    told = scene(
        [Lit("key", "key"), Lit("fill", "fill")],
        {"key": lux(100, 200), "fill": lux(50, 100)},
    )
    assert told.subject is not None
    assert told.subject.key_to_fill is not None
    assert told.subject.key_to_fill.to_one == pytest.approx((1.0, 2.0, 4.0))
    assert told.subject.key_to_fill.stops == pytest.approx((0.0, 1.0, 2.0))


def test_all_that_hangs_takes_its_share() -> None:
    """Sheets 1 to 2 stops, 1.4 in the middle; half scrim 0 to 1; frost 1 to 3; dimmer 1; a lamp
    half a stop brighter: 2.5 to 6.5 stops, in the middle 4.4."""
    hung = Lit(
        "lamp",
        "key",
        filter_stops=(1.0, 1.4, 2.0),
        scrim_stops=(0.0, 1.0),
        dim_stops=1.0,
        swap_stops=0.5,
    )
    told = named(scene([hung], {"lamp": lux(2**12, frost=(1.0, 3.0))}), "lamp")
    assert told.lux == pytest.approx((2**5.5, 2**9.5), rel=1e-5)
    bare = named(scene([Lit("lamp", "key")], {"lamp": lux(2**12)}), "lamp")
    assert told.gap_stops is not None
    assert bare.gap_stops is not None
    assert told.gap_stops[1] - bare.gap_stops[1] == pytest.approx(4.4, abs=1e-3)


def test_a_light_through_which_nothing_passes_still_answers() -> None:
    """As a number beyond any meter, not as an infinity."""
    dark = Lit("lamp", "key", filter_stops=(math.inf,) * 3, swap_stops=1e308)
    told = named(scene([dark], {"lamp": lux(1000)}), "lamp")
    assert all(math.isfinite(each) for each in told.gap_stops or ())
    assert told.f_number[1] > 0


def test_the_first_key_with_a_level_is_the_key() -> None:
    """A second one is judged against it; both light the face."""
    told = scene(
        [
            Lit("off stage", "key"),
            Lit("a", "key", aim_stops=-0.5),
            Lit("b", "key", aim_stops=-1.0),
            Lit("back", "background", aim_stops=1.0),
        ],
        {"a": stop(8), "b": stop(4), "back": stop(8)},
    )
    assert told.key == "a"
    assert named(told, "a").against == THE_SHOT
    assert named(told, "a").gap_stops == (-0.5, -0.5, -0.5)
    assert named(told, "b").gap_stops == (1.0, 1.0, 1.0)
    assert named(told, "back").gap_stops == (1.0, 1.0, 1.0)
    assert told.subject is not None
    assert (told.subject.lights, told.subject.unknown) == (["a", "b"], ["off stage"])
    assert told.subject.key_to_fill is None
    assert told.subject.f_number == pytest.approx((math.sqrt(80),) * 2, abs=1e-4)


def test_a_view_is_judged_against_the_shot() -> None:
    """Whatever the key gives."""
    told = scene(
        [Lit("key", "key"), Lit("yard", "view", aim_stops=2.0, tolerance_stops=1.0)],
        {"key": stop(4), "yard": stop(22.627417)},
    )
    yard = named(told, "yard")
    assert (yard.against, yard.within_tolerance) == (THE_SHOT, True)
    assert yard.gap_stops == pytest.approx((-1.0, -1.0, -1.0), abs=1e-4)
    assert told.subject is not None
    assert told.subject.lights == ["key"]


def test_what_is_not_known_is_not_judged() -> None:
    """No stop, no key, no aim: no gap, and a word where one was asked for."""
    told = scene(
        [Lit("fill", "fill", aim_stops=-2.0), Lit("yard", "view", aim_stops=2.0)],
        {"fill": stop(4), "yard": stop(16)},
        shot=NO_SHOT,
    )
    assert told.key is None
    for each in told.lights:
        assert (each.gap_stops, each.within_tolerance, each.against) == (None, None, None)
        assert each.over_shot_stops is None
    assert told.notes == ["no stop", NO_KEY]
    unasked = scene([Lit("key", "key"), Lit("fill", "fill")], {"key": stop(4), "fill": stop(2)})
    assert named(unasked, "fill").gap_stops is None
    assert named(unasked, "fill").over_shot_stops == (-4.0, -4.0, -4.0)


def test_no_level_at_all() -> None:
    told = scene([Lit("key", "key")], {})
    assert (told.lights, told.subject, told.key, told.notes) == ([], None, None, [])


def test_a_fill_brighter_than_its_key_is_said() -> None:
    told = scene([Lit("key", "key"), Lit("fill", "fill")], {"key": stop(4), "fill": stop(8)})
    assert told.subject is not None
    assert told.subject.notes == [FILL_BRIGHTER]
