"""What holds of every chart, whatever it is of."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evencast.handouts.charts import (
    GROUNDS,
    Chart,
    Ground,
    ResidualsChart,
    described,
    rows,
    svg,
    with_shapes,
)
from evencast.handouts.charts.letters import clean
from evencast.handouts.charts.residuals import Residual
from tests.charts import (
    DATA,
    TOLERANCES,
    any_chart,
    colours_charts,
    ladder_charts,
    lights_charts,
    losses_charts,
    residuals_charts,
    spectra_charts,
)
from tests.drawings import Drawing, drawing, is_grey

SLOW = settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
widths = st.sampled_from((480.0, 760.0, 1200.0))
grounds = st.sampled_from(GROUNDS)


def _checked(chart: Chart, ground: Ground, width: float) -> Drawing:
    made = svg(chart, ground=ground, width=width)
    assert made == svg(chart, ground=ground, width=width)
    read = drawing(made)
    assert read.size.right == width
    assert read.faults() == []
    assert all(each == DATA or is_grey(each) for each in read.paints()), read.paints()
    return read


@SLOW
@given(chart=lights_charts(), ground=grounds, width=widths)
def test_lights_are_drawn_within_the_frame_and_apart(
    chart: Chart, ground: Ground, width: float
) -> None:
    """The picture parses, holds nothing but shapes and words, comes out the same twice; no text
    leaves it or lies over another; all but data is grey. So of every chart below."""
    _checked(chart, ground, width)


@SLOW
@given(chart=residuals_charts(), ground=grounds, width=widths)
def test_residuals(chart: Chart, ground: Ground, width: float) -> None:
    _checked(chart, ground, width)


@SLOW
@given(chart=losses_charts(), ground=grounds, width=widths)
def test_losses(chart: Chart, ground: Ground, width: float) -> None:
    _checked(chart, ground, width)


@SLOW
@given(chart=colours_charts(), ground=grounds, width=widths)
def test_colours(chart: Chart, ground: Ground, width: float) -> None:
    _checked(chart, ground, width)


@SLOW
@given(chart=ladder_charts(), ground=grounds, width=widths)
def test_ladders(chart: Chart, ground: Ground, width: float) -> None:
    _checked(chart, ground, width)


@SLOW
@given(chart=spectra_charts(), ground=grounds, width=widths)
def test_spectra(chart: Chart, ground: Ground, width: float) -> None:
    _checked(chart, ground, width)


@SLOW
@given(chart=any_chart())
def test_every_chart_is_told_as_a_table_and_in_sentences(chart: Chart) -> None:
    """As many cells as headings; the sentences are those of the picture."""
    table = rows(chart)
    assert all(len(row) == len(table.headers) for row in table.rows)
    told = ET.fromstring(svg(chart, ground="screen"))[1].text
    assert clean(told or "") == clean(described(chart))


@pytest.mark.parametrize("width", [479.0, 2401.0, float("nan")])
def test_a_width_that_no_layout_can_use_is_refused(width: float) -> None:
    with pytest.raises(ValueError, match="480 to 2400 px"):
        svg(_plain(), width=width)


def test_a_colour_that_is_none_is_refused() -> None:
    """Nothing is written into the picture that is no colour."""
    chart = _plain()
    bad = replace(chart, lights=(replace(chart.lights[0], fill='red" onload="x'),))
    with pytest.raises(ValueError, match="is no colour"):
        svg(bad)


def test_what_fonts_for_paper_lack_is_a_code_point_on_paper_alone() -> None:
    chart = _plain()
    named = replace(chart, lights=(replace(chart.lights[0], name="🎬 bar"),))
    assert "[U+1F3AC] bar" in svg(named)
    assert "🎬 bar" in svg(named, ground="screen")
    assert with_shapes(with_shapes(named)) == with_shapes(named)
    assert with_shapes(chart) == chart


def _plain() -> ResidualsChart:
    lamp = Residual(1, "lamp", 3.0, 0.001, None, None, TOLERANCES[0], True, False, DATA)
    return ResidualsChart("what is left", (lamp,))
