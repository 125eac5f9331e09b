"""What may be done to a light itself."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from evencast.actions.planned import load_plan
from evencast.actions.ways import DIMMED_STOPS, DIMMER_STOPS, SCRIMS, Moves
from evencast.colour import mired_duv, uv, white_uv
from evencast.errors import DocumentErrors
from evencast.lights import Light
from evencast.plan.light import Light as LightEntry
from evencast.solver.aim import Aim, aim_at_uv
from evencast.solver.scene_light import Way
from tests.scenes import UNCOUNTED, light, write_scene

TUNGSTEN = "tungsten 3200 K"
AT = {k: aim_at_uv(f"{k}K", white_uv(k)) for k in (2000, 2725, 3200, 4300, 5600, 20_000)}


def moves(folder: Path, text: str, *, keys: str = "") -> tuple[Moves, LightEntry, Light]:
    """The moves of a plan of one light, its entry, and the light."""
    frost = {"light frost": UNCOUNTED, "full CTB": UNCOUNTED}
    loaded = load_plan(write_scene(folder, text, sheets=frost, keys=keys))
    (entry,) = loaded.plan.light
    return Moves(loaded, folder), entry, loaded.lights[entry.name]


def ways(
    folder: Path, text: str, *aims: Aim, by_level: bool = True, keys: str = ""
) -> tuple[list[tuple[Way, Light]], list[list[int]], Moves]:
    made, entry, bare = moves(folder, text, keys=keys)
    found, at = made.ways(entry, bare, aims, by_level=by_level)
    return found, at, made


def named(found: list[tuple[Way, Light]]) -> list[tuple[str, object]]:
    return [(way.move, way.setting) for way, _ in found]


def test_the_bare_light_comes_first_and_filters_need_to_be_allowed(tmp_path: Path) -> None:
    """Three layers are the plan's; without "filter" there are none."""
    found, at, _ = ways(tmp_path, light("a", "key", TUNGSTEN), AT[3200], AT[5600])
    assert named(found) == [("leave", None)]
    assert at == [[0], [0]]
    assert found[0][0].layers == 3
    found, _, _ = ways(tmp_path, light("a", "key", TUNGSTEN, 'moves = ["leave"]'), AT[3200])
    assert found[0][0].layers == 0


def test_a_filament_has_a_way_for_every_third_of_a_stop(tmp_path: Path) -> None:
    """Each darker by so much and warmer; only where its level is judged."""
    text = light("a", "fill", TUNGSTEN, 'moves = ["dim"]')
    found, _, _ = ways(tmp_path, text, AT[3200])
    assert named(found) == [("leave", None), *(("dim", stops) for stops in DIMMED_STOPS)]
    assert [way.level_stops for way, _ in found] == [0.0, *(-stops for stops in DIMMED_STOPS)]
    at_mired = [float(mired_duv(uv(way.power))[0]) for way, _ in found]
    assert (np.diff(at_mired) > 5).all()
    found, _, _ = ways(tmp_path, text, AT[3200], by_level=False)
    assert named(found) == [("leave", None)]


def test_a_filament_that_glows_no_further_down_is_dimmed_no_further(tmp_path: Path) -> None:
    """Below 1000 K there is no light; 1100 K are dimmed there by 1.11 stops, by the exponents 0.42
    and 3.4: 1100 * 2 ** (-1.11 * 0.42 / 3.4) is 1000."""
    text = '[[light]]\nname = "a"\nrole = "fill"\ncct_k = 1100\nkind = "tungsten"\n'
    found, _, _ = ways(tmp_path, text + 'moves = ["dim"]\n', AT[3200])
    assert named(found)[1:] == [("dim", stops) for stops in DIMMED_STOPS if stops < 1.11]


def test_a_panel_is_dialled_to_each_aim_within_its_range(tmp_path: Path) -> None:
    """In steps of 50 K; what lies beyond is reached by the end of the range, with all layers."""
    text = light(
        "a",
        "fill",
        "two-colour LED panel",
        "adjustable = { low_k = 3000, high_k = 5000 }",
        'moves = ["dial", "filter"]',
    )
    found, at, made = ways(tmp_path, text, AT[2000], AT[4300], AT[5600], AT[4300])
    assert named(found) == [("leave", None), ("dial", 3000), ("dial", 4300), ("dial", 5000)]
    assert at == [[0, 1], [0, 2], [0, 3], [0, 2]]
    assert [way.layers for way, _ in found] == [3, 3, 2, 3]
    for way, _ in found[1:]:
        at_k = 1e6 / float(mired_duv(uv(way.power))[0])
        assert at_k == pytest.approx(float(str(way.setting)), abs=0.1)
    assert made.problems == {}


def test_a_panel_goes_no_further_than_its_emitters(tmp_path: Path) -> None:
    """They reach from about 2725 to 6600 K, whatever its range says."""
    text = light(
        "a",
        "fill",
        "two-colour LED panel",
        "adjustable = { low_k = 1000, high_k = 30000 }",
        'moves = ["dial"]',
    )
    found, _, made = ways(tmp_path, text, AT[2000], AT[20_000])
    ends = [float(str(way.setting)) for way, _ in found[1:]]
    emitters = [1e6 / float(mired_duv(uv(each))[0]) for each in found[0][1].emitters]
    assert ends == [np.ceil(min(emitters)), np.floor(max(emitters))]
    assert made.problems == {}


def test_a_range_that_its_emitters_do_not_reach_is_told_and_not_used(tmp_path: Path) -> None:
    """Once, however many balances there are."""
    text = light(
        "a",
        "fill",
        "two-colour LED panel",
        "adjustable = { low_k = 8000, high_k = 9000 }",
        'moves = ["dial"]',
    )
    found, _, made = ways(tmp_path, text, AT[2000], AT[5600])
    assert named(found) == [("leave", None)]
    (problem,) = made.problems.values()
    assert (problem.severity, problem.where) == ("warning", 'light "a".adjustable')
    assert problem.message.startswith(
        "it is not dialled to where that would be best: its emitters reach from 27"
    )


def test_a_spectrum_that_cannot_be_turned_there_is_told_and_left(tmp_path: Path) -> None:
    """Tungsten bent to 20 000 K is no spectrum any more; to 4300 K it is."""
    text = light(
        "a", "fill", TUNGSTEN, "adjustable = { low_k = 3200, high_k = 20000 }", 'moves = ["dial"]'
    )
    found, at, made = ways(tmp_path, text, AT[20_000], AT[4300])
    assert named(found) == [("leave", None), ("dial", 4300)]
    assert at == [[0], [0, 1]]
    (problem,) = made.problems.values()
    assert problem.message == (
        "it is not dialled to where that would be best: a cannot be dialled to 20000 K"
    )


def test_swaps_take_from_what_is_at_hand_for_every_lamp(tmp_path: Path) -> None:
    """One for each opening, or for each fixture where there are more of these; in any case."""
    swap = 'swap = [{ name = "Day  Bulb", builtin = "daylight D55", stops = -0.5 }]'
    text = light("a", "fill", "filament bulb", "count = 3", swap, 'moves = ["swap"]')
    ((_, _), (way, lamp)), _, _ = ways(tmp_path, text, AT[5600])
    assert (way.move, way.setting, way.uses) == ("swap", "Day  Bulb", ("day bulb", 3))
    assert (way.level_stops, way.minutes) == (-0.5, 15.0)
    assert lamp.name == "a"
    text += "aperture = [{ width_mm = 60, height_mm = 60, count = 2 }]\n"
    (_, (way, _)), _, _ = ways(tmp_path, text, AT[5600])
    assert way.uses == ("day bulb", 6)


@pytest.mark.parametrize(("role", "off"), [("key", False), ("fill", True), ("other", True)])
def test_the_key_is_never_switched_off(tmp_path: Path, role: str, off: bool) -> None:
    """Whatever its moves say: a rule warns of them."""
    text = light("a", role, TUNGSTEN, 'moves = ["switch off"]')
    found, _, _ = ways(tmp_path, text, AT[3200])
    assert named(found) == [("leave", None), *([("switch off", None)] if off else [])]


def test_frost_is_in_front_of_every_way(tmp_path: Path) -> None:
    """It hangs there in any case, and is no sheet of a stack."""
    plain = light("a", "fill", TUNGSTEN, 'moves = ["dim"]')
    bare, _, _ = ways(tmp_path, plain, AT[3200])
    frosted, _, _ = ways(tmp_path, plain + 'frost = ["light frost"]\n', AT[3200])
    assert len(bare) == len(frosted)
    for (one, _), (other, _) in zip(bare, frosted, strict=True):
        ratio = other.power / one.power
        np.testing.assert_allclose(ratio, frosted[0][0].power / bare[0][0].power)
        assert (ratio < 1).all()
        assert len(other.members) > 1  # a frost of which no measurement is known


@pytest.mark.parametrize(
    ("builtin", "fitting", "scrims", "dims"),
    [
        (TUNGSTEN, "fixture", True, False),
        ("LED phosphor 3000 K", "panel", True, True),
        ("cool white tube FL2", "tube", False, True),
        ("filament bulb", "household", False, False),
    ],
)
def test_scrims_go_into_lamps_that_hold_them_and_filaments_dim_by_a_way(
    tmp_path: Path, builtin: str, fitting: str, scrims: bool, dims: bool
) -> None:
    """Nothing comes first; a dimmer that keeps the colour is a trim, one that does not is none."""
    text = light("a", "fill", builtin, f'fitting = "{fitting}"', 'moves = ["scrim", "dim"]')
    made, entry, bare = moves(tmp_path, text)
    found = made.trims(entry, bare)
    expected = [("", 0.0)]
    expected += [("scrim", stops) for _, stops in SCRIMS] if scrims else []
    expected += [("dim", stops) for stops in DIMMER_STOPS] if dims else []
    assert [(each.what, each.stops) for each in found] == expected


def test_minutes_are_the_lights_own_then_the_plans_then_usual(tmp_path: Path) -> None:
    """Zero is a number."""
    text = light("a", "fill", TUNGSTEN, "minutes = { filter = 0 }")
    made, entry, _ = moves(tmp_path, text, keys="minutes = { filter = 9, swap = 7 }")
    minutes = [made.minutes(entry, move) for move in ("filter", "swap", "dial")]
    assert minutes == [0.0, 7.0, 1.0]


def test_what_cannot_be_swapped_in_is_told_with_everything_else(tmp_path: Path) -> None:
    """Every file that is not there, with its light and its name."""
    texts = [
        light(name, "fill", TUNGSTEN, f'swap = [{{ name = "b", spectrum = "{name}.csv" }}]')
        for name in ("one", "two")
    ]
    path = write_scene(tmp_path, "".join(texts), sheets={"full CTB": UNCOUNTED})
    with pytest.raises(DocumentErrors) as error:
        load_plan(path)
    places = [each.where for each in error.value.problems if each.severity == "error"]
    assert [place.partition(" (")[0] for place in places] == [
        'plan.toml, light "one".swap "b"',
        'plan.toml, light "two".swap "b"',
    ]
