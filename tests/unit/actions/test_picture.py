from __future__ import annotations

import math
from dataclasses import asdict
from pathlib import Path

import numpy as np
import pytest

from evencast.actions import resolve
from evencast.actions.balance import Balance, parse_balance
from evencast.actions.look_words import camera_words, eye_words, half_words, subject
from evencast.actions.picture import own_camera, picture, picture_at
from evencast.actions.through import through
from evencast.camera import patches
from evencast.camera.rendering import residual_stops
from evencast.camera.sensitivities import camera_named
from evencast.colour import cct_duv, uv, white
from evencast.errors import EvencastError
from evencast.filters import Filter, generic
from evencast.lights import Light
from evencast.quantities import listed
from evencast.results.picture import Patch, PictureAnswer
from evencast.spectra import GRID_NM


def light(text: str) -> Light:
    return resolve.light(text)


def sheets(*names: str) -> list[Filter]:
    return [generic(name) for name in names]


def clear(*, below_nm: float = 1000.0, of: float = 0.5) -> Filter:
    """A measured sheet that passes a share below a wavelength."""
    return Filter("clear", "ND", np.where(GRID_NM < below_nm, of, 0.0), measured=True)


def grey(side: list[Patch]) -> list[int]:
    assert side[0].name == "grey"
    return list(bytes.fromhex(side[0].hex[1:]))


def test_patches_stand_in_the_agreed_order() -> None:
    seen = picture(light("tungsten"), sheets("half CTB"), balance_k=3200)
    for side in (seen.bare, seen.filtered):
        assert [each.name for each in side] == list(patches.names())
    assert (seen.light, seen.filters) == ("tungsten 3200 K", ["half CTB"])
    assert (seen.balance, seen.camera, seen.display) == ("3200 K", "eye", "sRGB")


@pytest.mark.parametrize("camera", ["eye", "camera A", "camera B"])
def test_the_balance_s_own_white_is_grey_at_18_percent(camera: str) -> None:
    seen = picture(light("3200K"), [], balance_k=3200, camera=camera)
    assert grey(seen.bare) == [118, 118, 118]
    assert seen.bare == seen.filtered
    assert (seen.residual_mired, seen.residual_duv, seen.loss_stops) == (0.0, 0.0, 0.0)
    assert seen.band is None
    expected = None if camera == "eye" else 0.0
    assert (seen.residual_rg_stops, seen.residual_bg_stops) == (expected, expected)


@pytest.mark.parametrize("name", ["tungsten", "FL4", "LED-B3", "D65"])
def test_loss_and_shift_are_those_that_through_tells(name: str) -> None:
    """The middle of the same ensemble; the balance is a white, so that its own green is 0."""
    seen = picture(light(name), sheets("half CTB"), balance_k=4300)
    told = through(name, ["half CTB"], kind=None, kit=None)
    assert seen.loss_stops == told.loss_stops
    assert seen.band is not None
    assert told.band is not None
    assert seen.band["loss_stops"] == told.band["loss_stops"]
    assert told.bare.mired is not None
    assert told.filtered.mired is not None
    assert seen.residual_mired == pytest.approx(told.filtered.mired - 1e6 / 4300, abs=2e-3)
    assert seen.bare_residual_mired == pytest.approx(told.bare.mired - 1e6 / 4300, abs=2e-3)
    assert seen.residual_duv == pytest.approx(told.filtered.green_duv, abs=2e-5)


def test_daylight_and_tungsten_are_neither_green_nor_magenta_to_each_other() -> None:
    """Daylight has +0.003 of Duv by nature, and tungsten none."""
    warm = picture(light("tungsten"), [], balance_k=5600)
    cool = picture(light("5600K"), [], balance_k=3200)
    assert eye_words(warm, filtered=False) == "134 mired warm"
    assert eye_words(cool, filtered=False) == "134 mired cool"


def test_a_held_stop_shows_the_loss() -> None:
    """Half the light is 9 percent instead of 18: 118 becomes 85 in sRGB; made good it is 118."""
    tools = {"balance_k": 3200, "camera": "camera A"}
    held = picture(light("3200K"), [clear()], **tools)  # type: ignore[arg-type]
    good = picture(light("3200K"), [clear()], exposure="compensated", **tools)  # type: ignore[arg-type]
    assert grey(held.bare) == grey(good.bare) == grey(good.filtered) == [118, 118, 118]
    assert grey(held.filtered) == [85, 85, 85]
    assert held.loss_stops == good.loss_stops == 1.0


def test_residuals_are_those_of_the_rendering_for_known_spectra() -> None:
    seen = picture(light("FL4"), [clear(of=0.9)], balance_k=3200, camera="camera A")
    red, blue = residual_stops(light("FL4").power, white(3200.0), camera_named("camera A"))
    assert seen.residual_rg_stops == pytest.approx(float(red), abs=1e-6)
    assert seen.residual_bg_stops == pytest.approx(float(blue), abs=1e-6)
    assert seen.residual_rg_stops == seen.bare_residual_rg_stops


def test_bands_hold_the_middle() -> None:
    seen = picture(light("5400K+0.0065"), sheets("half CTO"), balance_k=4300, camera="camera B")
    assert seen.band is not None
    for name, (low, high) in seen.band.items():
        value = getattr(seen, name)
        assert low is not None
        assert high is not None
        assert low - 1e-9 <= value <= high + 1e-9, name
    assert len(seen.band) == 9
    eye = picture(light("5400K+0.0065"), [], balance_k=4300)
    assert eye.band is not None
    assert len(eye.band) == 5


def test_a_colour_without_a_temperature_has_none_and_is_still_drawn() -> None:
    seen = picture(light("tungsten"), sheets("deep green"), balance_k=3200, camera="camera A")
    assert (seen.residual_mired, seen.residual_duv) == (None, None)
    assert eye_words(seen, filtered=True) == "no colour temperature"
    assert seen.residual_rg_stops is not None
    assert seen.residual_rg_stops < -0.5
    red, green, blue = grey(seen.filtered)
    assert green > red
    assert green > blue


def test_limited_patches_are_told_by_name_in_the_chart_s_order() -> None:
    seen = picture(light("HP1"), [], balance_k=5600)
    limited = list(dict.fromkeys(each.name for each in seen.bare if each.limited))
    assert limited[:3] == ["light skin", "dark skin", "foliage"]
    assert any(
        each.startswith(f"Beyond what sRGB shows at 5600 K: {listed(limited)};")
        for each in seen.notes
    )
    assert not any(each.limited for each in picture(light("D65"), [], balance_k=6500).bare[:3])


def test_notes_say_what_a_picture_is_not() -> None:
    seen = picture(light("tungsten"), sheets("full CTB"), balance_k=5600, camera="camera B")
    told = " ".join(seen.notes)
    for words in ("not a photograph", "yours is neither", "from 400 to 680 nm", "240 spectra"):
        assert words in told
    assert any(each.startswith("Heat") for each in seen.cautions)
    known = picture(light("tungsten"), [clear()], balance_k=5600)
    assert "240 spectra" not in " ".join(known.notes)
    assert "BT.1886" in " ".join(
        picture(light("D65"), [], balance_k=5600, display="rec. 709").notes
    )


def test_an_own_camera_never_passes_for_a_built_in_one(tmp_path: Path) -> None:
    text = (Path(__file__).parents[2] / "published" / "camera_third.csv").read_text("utf-8")
    for stem, name in (("mine", "mine"), ("Eye", "Eye.csv"), ("camera A", "camera A.csv")):
        (tmp_path / f"{stem}.csv").write_text(text, "utf-8")
        camera = own_camera(tmp_path / f"{stem}.csv")
        assert (camera.name, camera.is_eye) == (name, False)


def test_red_from_beyond_700_nm_is_told_of_unmeasured_sheets_alone() -> None:
    camera = own_camera(Path(__file__).parents[2] / "published" / "camera_third.csv")
    told = picture(light("tungsten"), sheets("full CTB"), balance_k=5600, camera=camera)
    measured = picture(light("tungsten"), [clear()], balance_k=5600, camera=camera)
    assert any("700 nm" in each for each in told.notes)
    assert not any("700 nm" in each for each in measured.notes)


def test_nothing_that_passes_is_no_picture() -> None:
    with pytest.raises(EvencastError) as raised:
        picture(light("tungsten"), [clear(below_nm=0.0)], balance_k=3200)
    assert "nothing of tungsten 3200 K passes" in raised.value.what


@pytest.mark.parametrize(
    ("options", "where"),
    [
        ({"balance_k": 500}, "500K"),
        ({"balance_k": 4300, "balance_duv": 0.2}, "balance"),
        ({"balance_k": 4300, "camera": "my camera"}, "camera"),
        ({"balance_k": 4300, "display": "print"}, "display"),
    ],
)
def test_what_is_refused(options: dict[str, object], where: str) -> None:
    with pytest.raises(EvencastError) as raised:
        picture(light("tungsten"), [], **options)  # type: ignore[arg-type]
    assert raised.value.where == where
    assert raised.value.remedy


@pytest.mark.parametrize(
    ("text", "cct_k", "duv", "said"),
    [
        ("4300K", 4300.0, None, "4300 K"),
        (" 4300 k ", 4300.0, None, "4300 K"),
        ("4300K+0.004", 4300.0, 0.004, "4300 K, Duv +0.0040"),
        ("4300K 0 toward green", 4300.0, None, "4300 K"),
        ("3200K 4 toward magenta", 3200.0, 0.004, "3200 K, 4 toward magenta"),
        ("3200K 4 Toward Green", 3200.0, -0.004, "3200 K, 4 toward green"),
    ],
)
def test_balances(text: str, cct_k: float, duv: float | None, said: str) -> None:
    balance = parse_balance(text)
    assert balance.cct_k == cct_k
    assert balance.duv == (None if duv is None else pytest.approx(duv, abs=1e-5))
    assert str(balance) == said
    read_k, read_duv = cct_duv(uv(balance.power))
    assert read_k == pytest.approx(cct_k, rel=1e-4)
    if duv is not None:
        assert read_duv == pytest.approx(duv, abs=2e-5)


@pytest.mark.parametrize("text", ["", "4300", "warm", "4300K 4 purple", "4300K magenta", "K"])
def test_what_is_no_balance(text: str) -> None:
    with pytest.raises(EvencastError) as raised:
        parse_balance(text)
    assert raised.value.where == "--balance"
    assert "toward magenta" in raised.value.remedy


def test_a_balance_by_tint_says_what_a_step_is_taken_for() -> None:
    seen = picture_at(light("3200K+0.004"), [], parse_balance("3200K 4 toward magenta"))
    assert any("0.001 Duv" in each for each in seen.notes)
    assert eye_words(seen, filtered=False).startswith("0 ")
    plain = picture_at(light("3200K"), [], Balance(3200.0))
    assert not any("0.001 Duv" in each for each in plain.notes)


def test_words() -> None:
    seen = picture(light("tungsten"), sheets("full CTB"), balance_k=5600, camera="camera A")
    assert subject(seen) == "Tungsten 3200 K through full CTB"
    assert camera_words(picture(light("D65"), [], balance_k=5600), filtered=False) is None
    bare = camera_words(seen, filtered=False)
    assert bare is not None
    assert "more red" in bare
    assert "less blue" in bare
    assert half_words(seen, filtered=True)[0] == "Loses 1 2/3 stop: full CTB"


def test_every_number_is_finite_or_none() -> None:
    names = ("HP1", "low-pressure sodium", "FL11", "candle", "LED-RGB1")
    for name in names:
        try:
            lamp = light(name)
        except EvencastError:
            continue
        for camera in ("eye", "camera A", "camera B"):
            seen = picture(lamp, sheets("double CTB"), balance_k=5600, camera=camera)
            assert isinstance(seen, PictureAnswer)
            for value in asdict(seen).values():
                assert not isinstance(value, float) or math.isfinite(value)
