"""What single charts show: each light inside or told at the edge, tolerances, bands, scales."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from evencast.colour import uv_of_mired_duv
from evencast.colour.difference import upvp_of_uv
from evencast.handouts.charts import (
    ColoursChart,
    LadderChart,
    LightsChart,
    LossesChart,
    ResidualsChart,
    SpectraChart,
    rows,
    svg,
)
from evencast.handouts.charts.colours import PlacedLight
from evencast.handouts.charts.ladder import Rung
from evencast.handouts.charts.losses import SheetPoint
from evencast.handouts.charts.moves import Colour, LightMove, say
from evencast.handouts.charts.residuals import Residual
from evencast.handouts.charts.spectra import MOST_CURVES, Curve
from evencast.handouts.charts.values import Tolerance
from tests.charts import DATA, TOLERANCES, colours_charts, lights_charts
from tests.drawings import Drawing, drawing, inside

SLOW = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
KEY, PRACTICAL = TOLERANCES[0], TOLERANCES[3]


def light(
    bare: tuple[float, float],
    hung: tuple[float, float] | None,
    *,
    tolerance: Tolerance = KEY,
    number: int = 1,
) -> LightMove:
    return LightMove(
        number=number,
        name=f"lamp {number}",
        bare=Colour(*bare, DATA),
        hung=None if hung is None else Colour(*hung, DATA),
        changed=hung not in (None, bare),
        band_mired=None,
        band_duv=None,
        aim_mired=0.0,
        aim_duv=0.0,
        tolerance=tolerance,
        inside=True,
    )


def lights(*every: LightMove) -> LightsChart:
    return LightsChart("lights", "4300K", 4300.0, every)


def circles(read: Drawing) -> list[tuple[float, float]]:
    """Round marks inside the field, each once."""
    found = [(float(each.attrib["cx"]), float(each.attrib["cy"])) for each in read.all("circle")]
    return list(dict.fromkeys(each for each in found if each[1] >= read.panel.top - 0.1))


def arrows(read: Drawing) -> list[ET.Element]:
    """Filled triangles of data."""
    return [
        each
        for each in read.all("path")
        if each.get("fill") == DATA and each.attrib["d"].count("L") == 2
    ]


@SLOW
@given(chart=lights_charts())
def test_every_light_is_in_the_field_or_told_at_its_edge(chart: LightsChart) -> None:
    """As many marks as places, or as arrows whose value stands beside them in words."""
    read = drawing(svg(chart))
    shown = [
        colour
        for each in chart.lights
        for colour in (each.bare, each.hung if each.changed else None)
        if colour is not None and colour.mired is not None and colour.duv is not None
    ]
    rings = len({(each.get("cx"), each.get("cy"), each.get("r")) for each in read.all("circle")})
    assert rings <= len(shown) + 2
    for x, y in circles(read):
        assert read.panel.left - 0.1 <= x <= read.panel.right + 0.1
        assert y <= read.panel.bottom + 0.1
    words = {text for text, _ in read.texts()}
    outside = [each for each in shown if abs(each.mired or 0.0) > 150.0]
    assert len(arrows(read)) >= len(outside)
    for each in outside:
        assert set(say(each).split(", ")) <= words


@SLOW
@given(chart=colours_charts())
def test_every_colour_is_in_the_field_or_an_arrow_at_its_edge(chart: ColoursChart) -> None:
    read = drawing(svg(chart))
    for x, y in circles(read):
        assert read.panel.left - 0.1 <= x <= read.panel.right + 0.1
        assert y <= read.panel.bottom + 0.1
    if chart.window is None:
        assert arrows(read) == []


def test_places_of_lights_follow_the_scales() -> None:
    """Equal steps of mired and Duv are equal ways: to the right warmer, up greener."""
    read = drawing(svg(lights(light((-40.0, 0.0), (0.0, 0.0)), light((40.0, 0.004), (0.0, 0.002)))))
    (cool, centre, warm, middle) = circles(read)
    assert centre[0] - cool[0] == pytest.approx(warm[0] - centre[0], abs=0.2)
    assert cool[1] == centre[1]
    assert centre[1] - warm[1] == pytest.approx(2 * (centre[1] - middle[1]), abs=0.2)
    assert warm[1] < centre[1]


def test_a_lopsided_tolerance_is_drawn_where_it_lies() -> None:
    """0 to 60 mired warm: from the balance's line to the right, as high as wide it is allowed."""
    read = drawing(svg(lights(light((90.0, 0.0), (30.0, 0.0), tolerance=PRACTICAL))))
    centre = _line_of_zero(read)
    (outline,) = [
        each
        for each in read.all("path")
        if each.get("stroke-dasharray") and read.panel.top < float(_corner(each)[1])
    ]
    left = min(x for x, _ in _corners(outline))
    right = max(x for x, _ in _corners(outline))
    (hung,) = [each for each in circles(read) if each[0] < (left + right) / 2 + 1.0]
    assert left == pytest.approx(centre, abs=0.11)
    assert hung[0] == pytest.approx((left + right) / 2, abs=0.11)


def _corners(element: ET.Element) -> list[tuple[float, float]]:
    numbers = element.attrib["d"].strip("MZ").split("L")
    return [(float(x), float(y)) for x, y in (each.split() for each in numbers)]


def _corner(element: ET.Element) -> tuple[float, float]:
    return _corners(element)[0]


def _line_of_zero(read: Drawing) -> float:
    (text,) = [box for text, box in read.texts() if text == "the balance"]
    return (text.left + text.right) / 2


def test_bare_is_open_and_what_hangs_is_filled_and_a_line_joins_them() -> None:
    read = drawing(svg(lights(light((80.0, 0.0), (2.0, 0.0)))))
    data = [each for each in read.all("circle") if DATA in (each.get("fill"), each.get("stroke"))]
    assert sorted((each.get("fill"), each.get("stroke")) for each in data) == [
        (DATA, "#161616"),
        ("none", DATA),
    ]
    places = sorted(circles(read))
    joined = [(float(each.attrib["x1"]), float(each.attrib["x2"])) for each in read.all("line")]
    assert any(sorted(ends) == [place[0] for place in places] for ends in joined)


def test_lights_without_a_colour_temperature_and_dark_ones_are_listed() -> None:
    sodium = replace(light((1.0, 0.0), None, number=2), bare=Colour(None, None, DATA))
    words = _words(svg(lights(light((10.0, 0.0), None), sodium)))
    assert "Switched off: 1 lamp 1 and 2 lamp 2." in words
    assert "Without a colour temperature when bare, so not in the chart: 2 lamp 2." in words


def _words(made: str) -> str:
    return " ".join(text for text, _ in drawing(made).texts())


def test_more_lights_than_can_be_named_are_numbered_and_named_below() -> None:
    many = [light((float(n), 0.0), (float(n) / 3, 0.001), number=n) for n in range(1, 31)]
    read = drawing(svg(lights(*many)))
    assert read.faults() == []
    below = [text for text, box in read.texts() if box.top > read.panel.bottom]
    within = [text for text, box in read.texts() if inside(read.panel, box)]
    assert {f"lamp {n}" for n in range(1, 31)} <= set(below)
    assert {str(n) for n in range(1, 31)} <= set(within)


def sheet(number: int, mired: float | None, stops: float | None, duv: float = 0.0) -> SheetPoint:
    return SheetPoint(number, f"sheet {number}", "correction", mired, duv, stops, None, None, DATA)


def test_three_hundred_sheets_are_all_in_the_list_and_none_over_another() -> None:
    """Where numbers have no room near their points the list finds them, by shift and loss."""
    spread = [sheet(n, -200.0 + 1.3 * n, 0.2 + (n * 7 % 30) / 10) for n in range(1, 301)]
    chart = LossesChart("kit", "In front of tungsten.", tuple(spread))
    read = drawing(svg(chart))
    assert read.faults() == []
    below = [text for text, box in read.texts() if box.top > read.panel.bottom]
    assert {f"sheet {n}" for n in range(1, 301)} <= set(below)
    assert any(text.startswith(("199 mired cooler", "198 mired cooler")) for text in below)
    assert len([each for each in circles(read) if each[1] <= read.panel.bottom]) == 300


def test_a_greener_sheet_points_up_and_a_magenta_one_down() -> None:
    chart = LossesChart("kit", "", (sheet(1, -50.0, 1.0, 0.01), sheet(2, 50.0, 1.0, -0.005)))
    read = drawing(svg(chart))
    thick = [each for each in read.all("line") if each.get("stroke-width") == "2"]
    ways = [
        float(each.attrib["y1"]) - float(each.attrib["y2"])
        for each in thick
        if float(each.attrib["y1"]) > read.panel.top
    ]
    assert ways == [pytest.approx(26.0, abs=0.11), pytest.approx(-13.0, abs=0.11)]


def test_what_lets_nothing_through_and_what_has_no_shift_is_told() -> None:
    words = _words(svg(LossesChart("kit", "", (sheet(1, None, None), sheet(2, None, 4.0)))))
    assert "Nothing of the light passes: 1 sheet 1." in words
    assert "so not in the chart: 2 sheet 2 (4 stops)." in words


def test_loss_is_gridded_in_thirds() -> None:
    chart = LossesChart("kit", "", (sheet(1, -130.0, 1.66),))
    words = [text for text, _ in drawing(svg(chart)).texts()]
    for mark in ("0 stop", "1/3 stop", "2/3 stop", "1 stop", "1 1/3 stop", "1 2/3 stop", "2 stops"):
        assert mark in words


def test_u_and_v_have_one_scale_and_the_tolerance_is_where_mired_and_duv_say() -> None:
    """The outline's corner, read back through the marks of two lights, is that of the tolerance."""
    places = [(0.20, 0.48), (0.24, 0.50)]
    placed = [
        PlacedLight(number, "lamp", place, None, DATA, DATA, "")
        for number, place in enumerate(places, 1)
    ]
    chart = ColoursChart("lights", tuple(placed), None, "", ((232.558, 0.0, KEY),))
    read = drawing(svg(chart))
    one, other = circles(read)
    across, up = (other[0] - one[0]) / 0.04, (one[1] - other[1]) / 0.02
    assert across == pytest.approx(up, rel=0.005)
    u, v = upvp_of_uv(uv_of_mired_duv(np.array([227.558]), np.array([0.0015])))[0]
    expected = one[0] + (u - 0.20) * across, one[1] - (v - 0.48) * up
    (outline,) = [
        each
        for each in read.all("path")
        if each.get("stroke-dasharray") == "3 3" and each.attrib["d"].count("L") > 5
    ]
    assert _corner(outline) == pytest.approx(expected, abs=0.3)


def rung(number: int, over: tuple[float, float, float], **told: object) -> Rung:
    known: dict[str, object] = {"aim": None, "inside": None, "f_number": None, "kind": "light"}
    return Rung(number=number, name=f"lamp {number}", over=over, fill=DATA, **(known | told))  # type: ignore[arg-type]


def ladder(*rungs: Rung, f_number: float = 4.0) -> LadderChart:
    return LadderChart("levels", "the shot", f_number, rungs, (), ())


def test_f_numbers_stand_beside_their_stops() -> None:
    """Shot at f/4: a stop over is f/5.6, two under f/2."""
    read = drawing(svg(ladder(rung(1, (-2.0, -1.5, -1.0)), rung(2, (0.5, 0.7, 0.9)))))
    foot = {text: box.bottom for text, box in read.texts()}
    for stop, mark in (("1 stop over", "f/5.6"), ("the shot", "f/4"), ("2 stops under", "f/2")):
        assert foot[stop] == pytest.approx(foot[mark], abs=0.11)


def test_a_level_off_the_ladder_is_an_arrow_with_its_stops() -> None:
    read = drawing(svg(ladder(rung(1, (-12.0, -11.5, -11.0)), rung(2, (0.0, 0.0, 0.0)))))
    assert "11.5" in {text for text, _ in read.texts()}
    assert len(arrows(read)) == 1


def test_a_bar_spans_its_range() -> None:
    read = drawing(svg(ladder(rung(1, (-2.0, -1.0, 1.0)))))
    foot = {text: box.bottom for text, box in read.texts()}
    (bar,) = [each for each in read.all("rect") if each.get("fill") == DATA]
    top = float(bar.attrib["y"])
    stop = (foot["2 stops under"] - foot["1 stop over"]) / 3
    assert float(bar.attrib["height"]) == pytest.approx(3 * stop, abs=0.2)
    assert top == pytest.approx(foot["1 stop over"] - 4.0, abs=0.2)


def residual(mired: float | None, duv: float | None, *, off: bool = False) -> Residual:
    return Residual(1, "lamp", mired, duv, (-6.0, 2.0), (-0.001, 0.002), KEY, True, off, DATA)


def test_residuals_stand_on_the_side_of_their_sign() -> None:
    """Cool to the left and magenta to the left, in the field of each."""
    read = drawing(svg(ResidualsChart("left", (residual(-4.0, -0.001),))))
    bars = [each for each in read.all("rect") if each.get("fill") == DATA]
    zeros = [
        float(each.attrib["x1"]) for each in read.all("line") if each.get("stroke") == "#8a8a8a"
    ]
    assert len(bars) == len(zeros) == 2
    for bar, zero in zip(bars, zeros, strict=True):
        right = float(bar.attrib["x"]) + float(bar.attrib["width"])
        assert right == pytest.approx(zero, abs=0.11)


def test_nothing_is_drawn_of_what_is_switched_off() -> None:
    read = drawing(svg(ResidualsChart("left", (residual(None, None, off=True),))))
    assert [each for each in read.all("rect") if each.get("fill") == DATA] == []
    assert "switched off" in _words(svg(ResidualsChart("left", (residual(None, None, off=True),))))


def test_curves_differ_in_their_dashes() -> None:
    """So that they can be told apart without any colour; more than can be are refused."""
    flat = tuple([0.5] * 81)
    curves = [Curve(f"sheet {n}", flat, None, None, DATA) for n in range(MOST_CURVES)]
    nm = tuple(380.0 + 5.0 * place for place in range(81))
    chart = SpectraChart("sheets", "transmittance", nm, tuple(curves), "")
    read = drawing(svg(chart))
    drawn = [each for each in read.all("path") if each.attrib["d"].count("L") == 80]
    assert len({each.get("stroke-dasharray") for each in drawn}) == MOST_CURVES
    with pytest.raises(ValueError, match="more than 8"):
        svg(replace(chart, curves=(*curves, curves[0])))


def test_the_table_of_spectra_has_the_values() -> None:
    values = tuple(place / 100 for place in range(81))
    nm = tuple(380.0 + 5.0 * place for place in range(81))
    chart = SpectraChart("s", "power", nm, (Curve("a", values, None, None, DATA),), "")
    table = rows(chart)
    assert table.headers == ("nm", "a")
    assert table.rows[0] == ("380", "0.00")
    assert table.rows[-1] == ("780", "0.80")
    assert len(table.rows) == 21
