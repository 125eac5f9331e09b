"""The sentences on quality of light; the limits behind them are common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evencast.actions.quality import in_words
from evencast.actions.reading import reading
from evencast.lights import Light, builtin, builtin_names, light_of, of_spectrum
from evencast.results.light import LightReading
from evencast.spectra import GRID_NM, Spectrum, planckian


def words(light: Light) -> list[str]:
    return in_words(light, reading(light))


def shown(**changed: float | str | None) -> LightReading:
    """A reading of 5600 K that scores 100 in all, but for what is changed."""
    best = LightReading(
        state="ok",
        cct_k=5600.0,
        duv=0.0032,
        mired=178.571,
        green_duv=0.0,
        x=0.33,
        y=0.34,
        kind="phosphor LED",
        assumed=False,
        ra=100.0,
        r9=100.0,
        rf=100.0,
        rg=100.0,
        rcs_h1=0.0,
        ssi=100.0,
        ssi_reference="CIE daylight 5600 K",
    )
    return replace(best, **changed)  # type: ignore[arg-type]  # each of its own field's type


PANEL = Light(name="panel", kind="phosphor LED", power=np.ones(81))

TOLD = {
    "tungsten": [
        "Colours are true (Rf 100).",
        "Reds and skin are as they should be (R9 100).",
        "On any camera it cuts with tungsten light of 3200 K as if it were that (SSI 100).",
    ],
    "FL2": [
        "Many colours are off (Rf 70), on the whole washed out (Rg 86).",
        "Reds are badly dulled and skin turns grey (R9 -84, reds 25 % less saturated).",
        "Do not trust it to cut with daylight of 4224 K (SSI 62): cameras differ on it, so test "
        "yours on a face.",
    ],
    "LED-B3": [
        "Most colours come out well, some are off (Rf 85).",
        "Reds are dulled and skin turns flat and pale (R9 24, reds 10 % less saturated).",
        "Do not trust it to cut with daylight of 4103 K (SSI 72): cameras differ on it, so test "
        "yours on a face.",
    ],
    "neodymium bulb": [
        "Most colours come out well, some are off (Rf 87), on the whole overdone (Rg 109).",
        "Reds are overdone and skin turns ruddy (R9 15, reds 11 % more saturated).",
        "It cuts with tungsten light of 2757 K if a test frame agrees (SSI 84).",
    ],
    "FL11": [
        "Most colours come out well, some are off (Rf 80).",
        "Reds are dulled and skin turns flat and pale (R9 25, reds 8 % less saturated).",
        "It will not cut with tungsten light brought to 3999 K (SSI 37): every camera sees it "
        "its own way, and no filter mends that.",
    ],
    "FL5": [
        "Too green for a white, which the indices are made for: take them with care. Correct it "
        "first, then judge what is left.",
        "Many colours are off (Rf 78), on the whole washed out (Rg 87).",
        "Reds are badly dulled and skin turns grey (R9 -68, reds 23 % less saturated).",
        "Do not trust it to cut with daylight of 6345 K (SSI 73): cameras differ on it, so test "
        "yours on a face.",
    ],
    "low-pressure sodium": [
        "Too green for a white, which the indices are made for: take them with care.",
        "Colours are badly off (Rf 0), on the whole washed out (Rg 0).",
        "Reds are badly dulled and skin turns grey (R9 -500, reds 100 % less saturated).",
        "It will not cut with tungsten light brought to 1718 K (SSI -135): every camera sees it "
        "its own way, and no filter mends that.",
    ],
}


@pytest.mark.parametrize("name", TOLD)
def test_what_is_said_of_a_lamp(name: str) -> None:
    """Colours, skin, cutting; first of all, whether the indices hold for it."""
    assert words(builtin(name)) == TOLD[name]


def test_every_built_in_light_is_judged_in_three_sentences_or_four() -> None:
    """Four where it is too far from white; never one on its samples, which all reach 380 nm."""
    for name in builtin_names():
        said = words(builtin(name))
        assert len(said) == 3 + said[0].startswith("Too "), name
        assert all(each.endswith(".") for each in said), name


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"rf": 94.6}, "Colours are true (Rf 95)."),
        ({"rf": 94.4}, "Colours are close to true (Rf 94)."),
        ({"rf": 89.4}, "Most colours come out well, some are off (Rf 89)."),
        ({"rf": 79.4}, "Many colours are off (Rf 79)."),
        ({"rf": 69.4}, "Colours are badly off (Rf 69)."),
        ({"rg": 96.6}, "Colours are true (Rf 100)."),
        ({"rg": 96.4}, "Colours are true (Rf 100), on the whole washed out (Rg 96)."),
        ({"rg": 103.6}, "Colours are true (Rf 100), on the whole overdone (Rg 104)."),
        ({"rg": None}, "Colours are true (Rf 100)."),
        ({"r9": 90.0, "rcs_h1": -9.0}, "Reds and skin are as they should be (R9 90)."),
        (
            {"r9": 60.0, "rcs_h1": -4.0},
            "Reds are a little dulled and skin turns a little flat (R9 60, reds 4 % less "
            "saturated).",
        ),
        (
            {"r9": 60.0, "rcs_h1": 4.0},
            "Reds are a little overdone and skin turns ruddy (R9 60, reds 4 % more saturated).",
        ),
        ({"r9": 20.0, "rcs_h1": 1.9}, "Reds are off in hue, and skin with them (R9 20)."),
        ({"ssi": 94.4}, "It cuts safely with daylight of 5600 K (SSI 94)."),
        ({"ssi": 89.4}, "It cuts with daylight of 5600 K if a test frame agrees (SSI 89)."),
    ],
)
def test_the_limits(changed: dict[str, float | None], sentence: str) -> None:
    """Each is kept by the whole number that is shown."""
    assert sentence in in_words(PANEL, shown(**changed))


def test_where_there_is_nothing_to_judge_it_says_why() -> None:
    """An assumed spectrum, no colour temperature, and bluer than any daylight there is."""
    assert words(light_of("5400K+0.0065")) == [
        "How it shows colours is not known: only a reading is, and lamps that read alike may "
        "differ widely."
    ]
    line = of_spectrum("line", Spectrum(GRID_NM, (GRID_NM == 520.0).astype(float)))
    assert words(line) == ["It is too far from white for any index of quality."]
    assert words(light_of("30000K")) == [
        "Above 25 000 K the indices of quality have nothing to compare it with."
    ]


def test_a_measurement_that_is_too_short_is_told() -> None:
    """A meter that starts at 400 nm makes any light look unlike tungsten."""
    nm = np.arange(400.0, 701.0, 10.0)
    said = words(of_spectrum("meter", Spectrum(nm, planckian(3200.0, nm))))
    assert said[-1] == (
        "It was measured from 400 to 700 nm alone; the SSI takes the rest of 375 to 675 nm as dark."
    )
