"""From values to places, and marks at round values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.handouts.charts.frame import clipped
from evencast.handouts.charts.placing import Box
from evencast.handouts.charts.scale import Scale, multiples, round_step, window

values = st.floats(-500.0, 500.0)


def test_ends_middle_and_beyond() -> None:
    up = Scale(-2.0, 2.0, 300.0, 100.0)
    assert [up.at(each) for each in (-2.0, 0.0, 2.0)] == [300.0, 200.0, 100.0]
    assert [up.clamped(each) for each in (-9.0, 9.0)] == [300.0, 100.0]
    assert [up.beyond(each) for each in (-2.1, 2.0, 2.1)] == [-1, 0, 1]
    assert up.ends(None, 1.0) == (300.0, 150.0)
    assert up.ends(-1.0, None) == (250.0, 100.0)


@given(span=st.floats(1e-6, 1e6), most=st.integers(1, 20))
def test_a_round_step_goes_into_the_span_at_most_so_often(span: float, most: int) -> None:
    """And the next finer one of 1, 2 and 5 would go into it more often."""
    step = round_step(span, most)
    mantissa = float(f"{step:.9e}".split("e")[0])
    assert mantissa in (1.0, 2.0, 5.0)
    assert span / step <= most * (1 + 1e-6)
    finer = {1.0: 0.5, 2.0: 0.5, 5.0: 0.4}[mantissa]
    assert span / (step * finer) > most * (1 - 1e-6)


def test_no_span_has_no_step() -> None:
    for span in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(ValueError, match="is no span"):
            round_step(span, 5)


def test_thirds_meet_their_ends() -> None:
    """A third is no number of base two: both ends are there all the same."""
    marks = multiples(-1.0, 2.0, 1 / 3)
    assert len(marks) == 10
    assert marks[0] == pytest.approx(-1.0)
    assert marks[-1] == pytest.approx(2.0)


@given(data=st.lists(values))
def test_a_window_holds_what_it_may_and_ends_at_a_mark(data: list[float]) -> None:
    (low, high), step = window(
        data, least=(-20.0, 20.0), most=(-150.0, 150.0), steps=(5.0, 10.0, 25.0, 50.0)
    )
    assert low <= -20.0
    assert high >= 20.0
    assert all(low <= each <= high for each in data if abs(each) <= 150.0)
    assert low >= -150.0
    assert high <= 150.0
    for end in (low, high):
        assert end / step == pytest.approx(round(end / step))
    assert (high - low) / step <= 11.0


BOX = Box(0.0, 0.0, 100.0, 50.0)
points = st.tuples(st.floats(-200.0, 300.0), st.floats(-200.0, 300.0))


@given(line=st.lists(points, min_size=2, max_size=6))
def test_what_is_left_of_a_line_lies_inside(line: list[tuple[float, float]]) -> None:
    """And each end of a piece is a point of the line, or on the edge."""
    for piece in clipped(line, BOX):
        for x, y in piece:
            assert -1e-6 <= x <= 100.0 + 1e-6
            assert -1e-6 <= y <= 50.0 + 1e-6
            on_edge = min(abs(x), abs(x - 100.0), abs(y), abs(y - 50.0)) < 1e-6
            assert on_edge or (x, y) in line


def test_a_line_through_a_corner_region_is_cut_where_it_crosses() -> None:
    assert clipped([(-50.0, 25.0), (150.0, 25.0)], BOX) == [[(0.0, 25.0), (100.0, 25.0)]]
    assert clipped([(-10.0, 60.0), (110.0, 60.0)], BOX) == []
    inside = [(10.0, 10.0), (20.0, 20.0), (30.0, 10.0)]
    assert clipped(inside, BOX) == [inside]
