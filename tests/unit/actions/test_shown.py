"""What is told of one light: the reasons."""

from __future__ import annotations

from pathlib import Path

from evencast.actions.solve import solve
from evencast.results.plan import PlannedLight, SolveAnswer
from tests.scenes import HALF_SHEET, NONE, ONE_SHEET, UNCOUNTED, light, write_scene

TUNGSTEN = "tungsten 3200 K"
CTB = {"full CTB": UNCOUNTED}
LEFT = 'moves = ["leave"]'
SHOT = "t_stop = 4"


def named(answer: SolveAnswer, name: str) -> PlannedLight:
    return next(each for each in answer.lights if each.name == name)


def only(path: Path) -> PlannedLight:
    (found,) = solve(path).lights
    return found


def test_a_light_that_is_right_as_it_is(tmp_path: Path) -> None:
    """No sheet, and why none."""
    found = only(
        write_scene(
            tmp_path, light("lamp", "key", TUNGSTEN), sheets=CTB, balance="{ fixed_k = 3200 }"
        )
    )
    assert (found.move, found.filters, found.within_tolerance) == ("leave", [], True)
    assert found.reason == (
        "Bare it is 0 mired: inside 5 mired and 0.0015 Duv. A sheet would cost light and gain "
        "nothing."
    )


def test_a_sheet_and_what_it_would_be_without(tmp_path: Path) -> None:
    """3200 to 5600 K is 134 mired."""
    found = only(write_scene(tmp_path, light("lamp", "fill", TUNGSTEN), sheets=CTB))
    assert (found.move, found.filters) == ("filter", ["full CTB"])
    assert found.reason.startswith(
        "Full CTB leaves 0 mired and costs 1 2/3 stop: inside 12 mired and 0.003 Duv. Bare it is "
        "134 mired warm, clearly magenta."
    )
    assert found.residual_mired is not None
    assert abs(found.residual_mired) < 1
    assert found.loss_stops == found.filter_stops > 1.5


def test_a_stock_that_never_yields_the_piece(tmp_path: Path) -> None:
    """There is none at all, and that is said rather than that others took it."""
    found = only(
        write_scene(
            tmp_path, light("lamp", "fill", TUNGSTEN, HALF_SHEET), sheets={"full CTB": NONE}
        )
    )
    assert found.filters == []
    assert found.reason.endswith(
        "Alone it would take full CTB; the stock does not yield its full CTB."
    )


def test_a_stock_that_others_have_used_up(tmp_path: Path) -> None:
    """Three lamps and two pieces: the one that stays bare would take one alone."""
    lamps = "".join(light(name, "fill", TUNGSTEN, HALF_SHEET) for name in "abc")
    answer = solve(write_scene(tmp_path, lamps, sheets={"full CTB": ONE_SHEET}))
    (bare,) = (each for each in answer.lights if not each.filters)
    assert bare.reason == (
        "Bare it is 134 mired warm, clearly magenta: outside 12 mired and 0.003 Duv. Alone it "
        "would take full CTB; there is not enough full CTB for all."
    )
    others = [each for each in answer.lights if each.filters]
    assert not any("Alone it would" in each.reason for each in others)


def test_a_loss_that_is_not_allowed_is_the_reason(tmp_path: Path) -> None:
    """The sheet would do, and takes more than sheets may take."""
    found = only(
        write_scene(
            tmp_path, light("lamp", "key", TUNGSTEN), sheets=CTB, keys="limits = { loss_stops = 1 }"
        )
    )
    assert found.move == "nothing reaches it"
    assert (
        "The nearest there is: full CTB leaves 0 mired and costs 1 2/3 stop, more than the 1 stop "
        "that sheets may take." in found.reason
    )
    assert "Not worth the sheets" not in found.reason


def test_a_light_far_from_everything_is_left_as_a_colour(tmp_path: Path) -> None:
    """The nearest stack is named, and what else can be done: tungsten and a sheet that warms."""
    lamp = light("lamp", "key", TUNGSTEN)
    found = only(write_scene(tmp_path, lamp, sheets={"full CTO": UNCOUNTED}))
    assert found.move == "nothing reaches it"
    assert "The nearest there is: full CTO leaves 26" in found.reason  # 134 + 134 mired warm
    assert "Not worth the sheets. Leave it as a colour in the picture" in found.reason


def test_a_light_that_takes_scrims_says_so_and_how_bright_it_is(tmp_path: Path) -> None:
    """A fill a stop over what it shall be: a double takes one."""
    key = light("key", "key", TUNGSTEN, "level = { lux = 400 }", LEFT)
    fill = light(
        "fill",
        "fill",
        TUNGSTEN,
        "level = { lux = 400 }",
        "aim = { stops = -1 }",
        'moves = ["scrim"]',
    )
    answer = solve(
        write_scene(tmp_path, key + fill, sheets=CTB, camera=SHOT, balance="{ fixed_k = 3200 }")
    )
    found = named(answer, "fill")
    assert (found.move, found.scrims) == ("scrim", ["single"])
    assert found.reason.endswith("Single in. Its level: 2/3 stop too bright.")
    assert found.within_tolerance  # half a stop is allowed


def test_a_light_dimmed_for_its_level_says_that_it_was_for_that(tmp_path: Path) -> None:
    """A lamp in shot, two stops over what it shall be with one allowed; it may glow warmer."""
    key = light("key", "key", TUNGSTEN, "level = { lux = 400 }", LEFT)
    keys = ("level = { lux = 1600 }", "aim = { stops = 0 }", 'moves = ["dim"]')
    bulb = light("bulb", "practical", TUNGSTEN, *keys)
    answer = solve(
        write_scene(tmp_path, key + bulb, sheets=CTB, camera=SHOT, balance="{ fixed_k = 3200 }")
    )
    found = named(answer, "bulb")
    assert (found.move, found.dim_stops) == ("dim", 1.0)
    assert found.within_tolerance
    assert found.reason.startswith("Dimmed by 1 stop. ")
    assert found.reason.endswith(
        "Its level aside it would take no sheet. Its level: 1 stop too bright."
    )


def test_a_light_swapped_or_dialled_begins_with_that(tmp_path: Path) -> None:
    """What was done to the light itself comes first."""
    swap = 'swap = [{ name = "day bulb", builtin = "daylight D55", stops = -1 }]'
    bulb = light("bulb", "practical", "filament bulb", 'moves = ["swap"]', swap)
    panel = light(
        "panel",
        "fill",
        "two-colour LED panel",
        'moves = ["dial"]',
        "adjustable = { low_k = 2700, high_k = 6500 }",
    )
    answer = solve(write_scene(tmp_path, bulb + panel, sheets=CTB))
    found = named(answer, "bulb")
    assert (found.move, found.swapped_for, found.loss_stops) == ("swap", "day bulb", 1.0)
    assert found.reason.startswith("Swapped for day bulb. ")
    found = named(answer, "panel")
    assert (found.move, found.dial_k) == ("dial", 5600.0)
    assert found.reason.startswith("Dialled to 5600 K. ")


def test_a_window_that_is_off_takes_its_view_with_it(tmp_path: Path) -> None:
    """Neither is judged, and no view is told."""
    window = light("window", "fill", "low-pressure sodium", 'moves = ["switch off"]')
    view = '[[light]]\nname = "yard"\nrole = "view"\nbehind = "window"\nbuiltin = "daylight D55"\n'
    view += "level = { ev = 12 }\n"
    answer = solve(write_scene(tmp_path, window + view, sheets=CTB, camera=SHOT))
    found = named(answer, "window")
    assert found.move == "switch off"
    assert found.residual_mired is None
    assert "Then nothing is seen through it either: no yard." in found.reason
    assert answer.views == []
