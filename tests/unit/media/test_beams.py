"""Candelas of a fixture by flux and angles, against integrals of beams that fall off otherwise."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from evencast.errors import EvencastError
from evencast.media.beams import beam_candela, solid_angle_sr
from evencast.media.gdtf import Fixture, parse_gdtf
from tests.gdtf_files import archive, beam, description

ASK = "Take its candelas off the data sheet, or read the light with a meter and give the reading."


def fixture(*beams: dict[str, Any]) -> Fixture:
    body = "".join(beam(f"lens {at}", **said) for at, said in enumerate(beams))
    return parse_gdtf(archive(description(body=body)), where="lamp.gdtf")


def ends(*beams: dict[str, Any]) -> tuple[float, float]:
    found = beam_candela(fixture(*beams), where="lamp.gdtf")
    return found.low_cd, found.high_cd


def flux_of(candela: float, share: Any) -> float:
    """Flux of a round beam by summing rings: 2 pi I sin t dt; `share` of the angle from its
    middle, in radians. [lm]"""
    edges = np.linspace(0.0, math.pi, 200_001)
    middle = (edges[:-1] + edges[1:]) / 2.0
    return float((2.0 * math.pi * candela * share(middle) * np.sin(middle)).sum() * edges[1])


@pytest.mark.parametrize(
    ("full_deg", "sr"), [(360.0, 4 * math.pi), (180.0, 2 * math.pi), (120.0, math.pi), (0.0, 0.0)]
)
def test_the_solid_angle_of_a_cone(full_deg: float, sr: float) -> None:
    """All round, half of it, and a quarter: 60 degrees off the middle."""
    assert solid_angle_sr(full_deg) == pytest.approx(sr, abs=1e-12)
    assert solid_angle_sr(1e-9) > 0


def test_both_angles_bound_it() -> None:
    """4200 lm in 19.5 and 31 degrees; a hard-edged beam of each width is one end, and a bell
    that is down to a half at the one lies between."""
    low, high = ends({"LuminousFlux": 4200, "BeamAngle": 19.5, "FieldAngle": 31})
    for candela, full_deg in ((high, 19.5), (low, 31.0)):
        edge = math.radians(full_deg) / 2.0
        assert flux_of(candela, lambda at, edge=edge: at <= edge) == pytest.approx(4200, rel=1e-3)
    half = math.radians(19.5) / 2.0
    bell = 4200.0 / flux_of(1.0, lambda at: 2.0 ** -((at / half) ** 2))
    assert low < bell < high
    swapped = ends({"LuminousFlux": 4200, "BeamAngle": 31, "FieldAngle": 19.5})
    assert swapped == (low, high)


@pytest.mark.parametrize("angles", [{"BeamAngle": 20}, {"BeamAngle": 20, "FieldAngle": 20}])
def test_one_beam_angle_reaches_from_an_even_beam_to_a_bell(angles: dict[str, float]) -> None:
    """The bell is down to a half at its edge; a field angle that says the same adds nothing."""
    low, high = ends({"LuminousFlux": 1000, **angles})
    edge = math.radians(20) / 2.0
    assert high == pytest.approx(1000 / solid_angle_sr(20))
    bell = 1000.0 / flux_of(1.0, lambda at: 2.0 ** -((at / edge) ** 2))
    assert low == pytest.approx(bell, rel=0.01)


def test_one_field_angle_reaches_from_an_even_beam_to_a_bell() -> None:
    """The bell is down to a tenth at its edge."""
    low, high = ends({"LuminousFlux": 1000, "FieldAngle": 30})
    edge = math.radians(30) / 2.0
    assert low == pytest.approx(1000 / solid_angle_sr(30))
    bell = 1000.0 / flux_of(1.0, lambda at: 10.0 ** -((at / edge) ** 2))
    assert high == pytest.approx(bell, rel=0.01)


def test_beams_add_up() -> None:
    """Six alike are six times one; two that differ each have their own, and that is told."""
    one = {"LuminousFlux": 500, "BeamAngle": 10, "FieldAngle": 20}
    other = {"LuminousFlux": 800, "FieldAngle": 40}
    assert ends(*[one] * 6) == pytest.approx([6 * each for each in ends(one)])
    assert ends(one, other) == pytest.approx(
        [this + that for this, that in zip(ends(one), ends(other), strict=True)]
    )
    told = beam_candela(fixture(one, one), where="lamp.gdtf").told
    assert told == (
        "1000 lm; at least as if all fell evenly inside its field angle of 20 degrees, at most as "
        "if inside its beam angle of 10 degrees; its 2 beams are taken to point one way"
    )
    told = beam_candela(fixture(one, other), where="lamp.gdtf").told
    assert "; each beam by its own flux and angles; " in told


def test_what_the_format_fills_in_is_told() -> None:
    """10 000 lm may have been written by a program that did not know."""
    told = beam_candela(fixture({"LuminousFlux": 10000, "BeamAngle": 25}), where="x").told
    assert told.endswith("10000 lm is what the format fills in by itself: check the data sheet")
    told = beam_candela(fixture({"LuminousFlux": 9000, "BeamAngle": 25}), where="x").told
    assert "fills in" not in told


@pytest.mark.parametrize(
    ("beams", "what"),
    [
        ([], "says nothing of beams, so nothing of how bright it is"),
        (
            [{"BeamAngle": 20, "FieldAngle": 30}],
            'does not say the flux of its beam "lens 0" (LuminousFlux)',
        ),
        (
            [{"LuminousFlux": 500, "BeamAngle": 20}, {"LuminousFlux": 500, "BeamAngle": 0}],
            'gives 500 lm for its beam "lens 1", and neither a beam angle nor a field angle '
            "(BeamAngle, FieldAngle): nothing says how far that spreads",
        ),
        (
            [{"LuminousFlux": 500, "BeamAngle": 1e-200, "FieldAngle": 30}],
            'gives its beam "lens 0" a width of 1e-200 degrees',
        ),
    ],
)
def test_what_is_missing_is_named(beams: list[dict[str, Any]], what: str) -> None:
    """With what to do instead."""
    with pytest.raises(EvencastError) as caught:
        beam_candela(fixture(*beams), where="lamp.gdtf")
    assert (caught.value.what, caught.value.where) == (what, "lamp.gdtf")
    assert caught.value.remedy == ASK
