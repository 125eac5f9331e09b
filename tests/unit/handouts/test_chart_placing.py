"""Labels keep clear of marks and of each other, and inside their field."""

from __future__ import annotations

import math
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.handouts.charts.placing import Box, Mark, place

FIELD = Box(0.0, 0.0, 600.0, 400.0)
AVOIDED = (Box(280.0, 180.0, 320.0, 220.0),)
marks_ = st.lists(
    st.builds(
        Mark,
        x=st.floats(0.0, 600.0),
        y=st.floats(0.0, 400.0),
        radius=st.just(6.0),
        width=st.floats(10.0, 140.0),
        height=st.sampled_from((15.0, 30.0)),
    ),
    max_size=25,
)


@settings(deadline=None)
@given(marks=marks_)
def test_no_label_lies_over_another_or_over_a_mark(marks: list[Mark]) -> None:
    """None leaves the field, and what has no leader stands beside its mark."""
    places = place(marks, within=FIELD, avoid=AVOIDED)
    assert len(places) == len(marks)
    found = [each for each in places if each is not None]
    boxes = [each.box for each in found]
    dots = [Box(each.x - 6.0, each.y - 6.0, each.x + 6.0, each.y + 6.0) for each in marks]
    assert not any(one.overlaps(other) for one, other in combinations(boxes, 2))
    assert not any(box.overlaps(dot) for box in boxes for dot in (*dots, *AVOIDED))
    assert all(FIELD.holds(box) for box in boxes)
    for mark, placed in zip(marks, places, strict=True):
        if placed is not None and placed.leader is None:
            box = placed.box
            x, y = min(max(mark.x, box.left), box.right), min(max(mark.y, box.top), box.bottom)
            assert math.hypot(x - mark.x, y - mark.y) - mark.radius <= 9.0


@settings(deadline=None)
@given(marks=marks_)
def test_a_leader_runs_from_its_mark_to_its_label(marks: list[Mark]) -> None:
    for mark, placed in zip(marks, place(marks, within=FIELD), strict=True):
        if placed is not None and placed.leader is not None:
            (x1, y1), (x2, y2) = placed.leader
            assert abs(math.hypot(x1 - mark.x, y1 - mark.y) - mark.radius) < 1e-6
            box = placed.box
            assert box.left - 1e-6 <= x2 <= box.right + 1e-6
            assert box.top - 1e-6 <= y2 <= box.bottom + 1e-6


def test_few_labels_always_find_a_place() -> None:
    """Even all on one point: the first stand beside it, the others are led to it."""
    marks = [Mark(300.0, 200.0, 6.0, 100.0, 15.0)] * 20
    places = place(marks, within=FIELD)
    assert all(each is not None for each in places)
    assert sum(each.leader is None for each in places if each) >= 2


def test_out_of_reach_is_nowhere() -> None:
    marks = [Mark(300.0, 200.0, 6.0, 100.0, 15.0)] * 20
    near = place(marks, within=FIELD, reach_px=20.0)
    assert 2 <= sum(each is not None for each in near) < 20


def test_a_label_keeps_off_a_line_where_it_can() -> None:
    """The place to the right comes first, unless a line runs through it."""
    mark = Mark(300.0, 200.0, 6.0, 60.0, 15.0)
    (free,) = place([mark], within=FIELD)
    (other,) = place([mark], within=FIELD, lines=[((300.0, 200.0), (500.0, 200.0))])
    assert free is not None
    assert other is not None
    assert free.box.left > 300.0
    assert other.box.right < 300.0


def test_a_label_wider_than_the_field_has_no_place() -> None:
    assert place([Mark(300.0, 200.0, 6.0, 700.0, 15.0)], within=FIELD) == [None]
