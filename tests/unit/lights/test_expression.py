from __future__ import annotations

import numpy as np
import pytest

from evencast.colour import cct_duv, uv
from evencast.errors import EvencastError
from evencast.lights import light_of, parse_kelvin

FORMS = (
    '`evencast lights` lists them. Accepted too: 3200K, 5400K+0.0065, "camera 5200K", '
    '"camera 5200K 4 toward magenta", "tungsten -1stop", or a file such as ./lamp.csv.'
)


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("5600K", (5600.0, None)),
        ("5600k", (5600.0, None)),
        ("5600 K", (5600.0, None)),
        ("  5600K ", (5600.0, None)),
        ("5600.5K", (5600.5, None)),
        ("5400K+0.0065", (5400.0, 0.0065)),
        ("5400K-0.0065", (5400.0, -0.0065)),
        ("5400K+.0065", (5400.0, 0.0065)),
        ("5400K+0", (5400.0, 0.0)),
    ],
)
def test_kelvin_and_duv(text: str, meaning: tuple[float, float | None]) -> None:
    """A number with its unit, a Duv with its sign."""
    assert parse_kelvin(text) == meaning


@pytest.mark.parametrize(
    "text",
    ["5600", "K", "", "-5600K", "5600K0.01", "5,600K", "1e3K", "5600 Kelvin", "infK", "nanK"],
)
def test_anything_else_is_no_kelvin(text: str) -> None:
    """None, for the caller to try another form."""
    assert parse_kelvin(text) is None


@pytest.mark.parametrize(
    ("text", "name", "cct_k"),
    [
        ("3200K", "3200K", 3200.0),
        ("5400K+0.0065", "5400K+0.0065", 5400.0),
        ("5400K-0.0065", "5400K-0.0065", 5400.0),
        ("tungsten", "tungsten 3200 K", 3200.0),
        ("Tungsten 3200 K", "tungsten 3200 K", 3200.0),
        ("tungsten -1stop", "tungsten 3200 K -1stop", 2937.4),
        ("tungsten -1 stop", "tungsten 3200 K -1stop", 2937.4),
        ("tungsten -2stops", "tungsten 3200 K -2stop", 2696.3),
        ("tungsten -2 STOPS", "tungsten 3200 K -2stop", 2696.3),
        ("tungsten -.5stop", "tungsten 3200 K -0.5stop", 3065.9),
        ("3200K -1stop", "3200K -1stop", 2937.4),
        ("panel at 4300K", "two-colour LED panel at 4300K", 4300.0),
        ("PANEL AT 4300 k", "two-colour LED panel at 4300K", 4300.0),
        ("5600K+0.004 at 4300K", "5600K+0.004 at 4300K", 4300.0),
        ("camera 5200K", "camera 5200K", 5200.0),
        ("Camera 5200 k", "camera 5200K", 5200.0),
        ("camera 5200K none", "camera 5200K", 5200.0),
        ("camera 5200K 4 toward magenta", "camera 5200K 4 toward magenta", 5200.0),
        ("CAMERA 5200K 4 TOWARD GREEN", "camera 5200K 4 toward green", 5200.0),
        ("camera 5200K 4 toward green at 4300K", "camera 5200K 4 toward green at 4300K", 4300.0),
    ],
)
def test_every_form_of_a_light(text: str, name: str, cct_k: float) -> None:
    """A name or short name, Kelvin, a reading, dimmed, dialled: upper or lower case."""
    light = light_of(text)
    assert light.name == name
    assert cct_duv(uv(light.power))[0] == pytest.approx(cct_k, abs=0.1)


def test_a_short_name_is_the_same_light() -> None:
    """FL2, in any case."""
    light = light_of("cool white tube FL2")
    for text in ("FL2", "fl2", " fl2 "):
        assert light_of(text).name == light.name
        np.testing.assert_array_equal(light_of(text).power, light.power)


@pytest.mark.parametrize("text", ["3200", " 3200 ", "5600.5"])
def test_a_number_without_its_unit(text: str) -> None:
    """Kelvin is not guessed."""
    with pytest.raises(EvencastError) as caught:
        light_of(text)
    assert caught.value.what == f'"{text}" has no unit'
    assert caught.value.where == "light"
    assert caught.value.remedy == f"Write {text.strip()}K for Kelvin."


@pytest.mark.parametrize(
    ("text", "close"),
    [
        ("tungsden", "tungsten"),
        ("cool wite tube", "cool white tube"),
        ("FL 2", "FL2"),
    ],
)
def test_an_unknown_name_is_told_its_nearest(text: str, close: str) -> None:
    """As it is written in the list, best first."""
    with pytest.raises(EvencastError) as caught:
        light_of(text)
    assert caught.value.what == f'no light is called "{text}"'
    assert caught.value.where == "lights"
    assert caught.value.remedy.startswith(f"Did you mean {close}")
    assert caught.value.remedy.endswith(f"? {FORMS}")


@pytest.mark.parametrize("text", ["zzzzzz", "", "   "])
def test_a_name_like_nothing_else_is_told_the_forms(text: str) -> None:
    """No guess is better than a wild one."""
    with pytest.raises(EvencastError) as caught:
        light_of(text)
    assert caught.value.what == f'no light is called "{text}"'
    assert caught.value.remedy == FORMS


def test_an_unknown_light_inside_an_expression_is_told_by_itself() -> None:
    """Not together with what should be done to it."""
    for text in ("tungsden -1stop", "tungsden at 4300K"):
        with pytest.raises(EvencastError) as caught:
            light_of(text)
        assert caught.value.what == 'no light is called "tungsden"'


@pytest.mark.parametrize("text", ["0K", "999K", "100001K"])
def test_kelvin_outside_the_range(text: str) -> None:
    """1000 to 100 000 K."""
    with pytest.raises(EvencastError) as caught:
        light_of(text)
    assert (
        caught.value.what
        == f"{text.removesuffix('K')} K is not a colour temperature this tool knows"
    )
    assert caught.value.remedy == "Use 1000 to 100000 K."


@pytest.mark.parametrize(
    "text",
    [
        "0K+0.001",
        "200K+0.001",
        "0K at 3200K",
        "panel at 0K",
        "tungsten at 0K",
        "tungsten at 200K",
        "1000K -4stop -1stop",
        "LPS at 5600K",
        "99999999999999999999K",
        "99999999999999999999K+0.01",
    ],
)
def test_numbers_without_meaning_end_in_an_error(text: str) -> None:
    """Never in anything else, and never in a spectrum of nan."""
    with pytest.raises(EvencastError):
        light_of(text)


@pytest.mark.parametrize("tint", ["4", "-4", "4 magenta", "magenta", "4 toward blue"])
def test_a_tint_that_does_not_say_its_side(tint: str) -> None:
    """Makers' signs differ, so the side is written out."""
    with pytest.raises(EvencastError) as caught:
        light_of(f"camera 5200K {tint}")
    assert caught.value.what == f'"{tint}" is not a tint'
    assert caught.value.where == f"camera 5200K {tint}"
    assert caught.value.remedy == (
        'Write the camera\'s tint as "4 toward magenta", "4 toward green" or "none": how far the '
        "camera moved its picture to make this light neutral."
    )


def test_the_kind_picks_the_spectra_of_a_reading() -> None:
    """Also where it is dimmed or dialled; a camera's reading too."""
    for text in ("4000K+0.003", "camera 4000K", "4000K+0.003 at 4300K"):
        tube, led = (light_of(text, kind=kind) for kind in ("three-band tube", "phosphor LED"))
        assert (tube.kind, led.kind) == ("three-band tube", "phosphor LED")
        assert np.corrcoef(tube.power, led.power)[0, 1] < 0.9
    assert light_of("3100K+0.001 -1stop", kind="tungsten").kind == "tungsten"


def test_a_built_in_light_keeps_its_own_kind() -> None:
    """A wider word for it is right; another kind is a contradiction."""
    assert light_of("FL2", kind="tube").kind == "halophosphate tube"
    assert light_of("FL2", kind="halophosphate tube").kind == "halophosphate tube"
    for text in ("FL2", "FL2 at 4300K"):
        with pytest.raises(EvencastError) as caught:
            light_of(text, kind="tungsten")
        assert caught.value.what == (
            "cool white tube FL2 is of the kind halophosphate tube, not tungsten"
        )
        assert caught.value.where == "kind"
        assert caught.value.remedy == (
            "Leave the kind out, or give the light by its reading or its spectrum."
        )


def test_a_kind_of_lamp_named_in_place_of_a_lamp_is_told_how_to_be_written() -> None:
    """HMI and LED are kinds, of which no single spectrum is built in."""
    for word, kind in (("hmi", "HMI"), ("LED", "phosphor LED"), ("tube", "tube")):
        with pytest.raises(EvencastError) as caught:
            light_of(word)
        hint = f"read yours, and write 5600K+0.003 with the kind {kind}. `evencast lights`"
        assert hint in caught.value.remedy
    with pytest.raises(EvencastError) as caught:
        light_of("low-pressure sodium x")
    assert "kind of lamp" not in caught.value.remedy
