"""What holds for any level, any meter and any light, on generated numbers."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencast.actions.exposures import Lit, exposures
from evencast.actions.levels import BareLevel, Shot, over_shot
from evencast.actions.taking import Taking
from evencast.lights.level import Level, Unit, moving_stops
from evencast.lights.softness import shadow_edge_at_m, shadow_edge_m
from evencast.results.exposure import SceneExposure

amounts = st.floats(1e-6, 1e9)
distances = st.floats(0.01, 10_000.0)
units: st.SearchStrategy[Unit] = st.sampled_from(["lux", "meter"])
stops = st.floats(0.0, 12.0)
cameras = st.builds(
    lambda index, time_s, low, high: Taking(index, time_s, 24.0, (low, max(low, high)), None),
    st.floats(25.0, 25_600.0),
    st.floats(1e-4, 1 / 24),
    st.floats(240.0, 400.0),
    st.floats(240.0, 540.0),
)


@st.composite
def levels(draw: st.DrawFn) -> Level:
    """A level between two ends, in either unit, somewhere."""
    low = draw(amounts)
    return Level(low, low * draw(st.floats(1.0, 20.0)), draw(units), draw(distances))


bare = levels().map(lambda level: BareLevel(level, "read", [], (0.0, 0.0)))


def scene(lights: dict[str, BareLevel], hung: list[Lit], camera: Taking) -> SceneExposure:
    return exposures(hung, lights, camera=camera, shot=Shot(4.0, "f/4"))


@given(level=levels(), there=distances)
def test_moved_there_and_back_it_is_the_same(level: Level, there: float) -> None:
    """And on the way it changed by what moving says."""
    moved = level.moved(there)
    assert level.distance_m is not None
    changed = math.log2(moved.low / level.low)
    assert changed == pytest.approx(moving_stops(from_m=level.distance_m, to_m=there), abs=1e-9)
    back = moved.moved(level.distance_m)
    assert (back.low, back.high) == pytest.approx((level.low, level.high), rel=1e-9)


@given(level=levels(), camera=cameras, count=st.integers(1, 9))
def test_twice_as_many_are_one_stop_more(level: Level, camera: Taking, count: int) -> None:
    """Over any shot, at either end."""
    few, many = (over_shot(level.times(n), camera, 4.0) for n in (count, 2 * count))
    assert [b - a for a, b in zip(few, many, strict=True)] == pytest.approx([1.0, 1.0], abs=1e-9)


@given(level=levels(), camera=cameras, loss=stops)
def test_what_is_lost_is_lost_over_the_shot(level: Level, camera: Taking, loss: float) -> None:
    before, after = (over_shot(each, camera, 2.8) for each in (level, level.losing(loss, loss)))
    assert after == pytest.approx([each - loss for each in before], abs=1e-9)


@given(one=levels(), other=levels(), camera=cameras)
def test_above_and_below_are_one(one: Level, other: Level, camera: Taking) -> None:
    """What the one has over the other the other has under it; read in one unit, no meter counts."""
    low, high = camera.stops_above(one, other)
    assert low <= high + 1e-12
    back = camera.stops_above(other, one)
    assert back == pytest.approx((-high, -low), abs=1e-9)
    if one.unit == other.unit:
        another = Taking(100.0, 0.01, 24.0, (250.0, 250.0), None)
        assert another.stops_above(one, other) == pytest.approx((low, high), abs=1e-9)


@given(
    lights=st.lists(st.tuples(bare, st.sampled_from(["key", "fill"])), min_size=1, max_size=5),
    camera=cameras,
    further=bare,
)
def test_adding_lights_never_darkens(
    lights: list[tuple[BareLevel, str]], camera: Taking, further: BareLevel
) -> None:
    """Nor is the sum less than any of its parts."""
    levels = {str(number): level for number, (level, _) in enumerate(lights)}
    hung = [
        Lit(str(number), "key" if role == "key" else "fill")
        for number, (_, role) in enumerate(lights)
    ]
    told = scene(levels, hung, camera)
    more = scene(levels | {"further": further}, [*hung, Lit("further", "fill")], camera)
    assert told.subject is not None
    assert more.subject is not None
    for before, after in zip(told.subject.f_number, more.subject.f_number, strict=True):
        assert after >= before * (1 - 1e-5)
    for each in told.lights:
        assert told.subject.f_number[0] >= each.f_number[0] * (1 - 1e-5)
        assert told.subject.f_number[1] >= each.f_number[1] * (1 - 1e-5)


@given(key=bare, fill=bare, camera=cameras, aim=st.floats(-6.0, 2.0))
def test_a_gap_and_a_ratio_say_the_same(
    key: BareLevel, fill: BareLevel, camera: Taking, aim: float
) -> None:
    """Key to fill in stops is the fill's gap less its aim; the sum to fill is one more, to one."""
    hung = [Lit("key", "key"), Lit("fill", "fill", aim_stops=aim)]
    told = scene({"key": key, "fill": fill}, hung, camera)
    gap = told.lights[1].gap_stops
    assert gap is not None
    assert told.subject is not None
    ratio, summed = told.subject.key_to_fill, told.subject.sum_to_fill
    assert ratio is not None
    assert summed is not None
    assert [each - aim for each in gap] == pytest.approx(ratio.stops, abs=1e-3)
    assert summed.to_one == pytest.approx([each + 1 for each in ratio.to_one], rel=1e-4)
    low, middle, high = gap
    assert low <= middle + 1e-4
    assert middle <= high + 1e-4
    assert middle - low == pytest.approx(high - middle, abs=1e-3)


@given(level=bare, camera=cameras, scrim=stops, index=st.floats(1.0, 8.0))
def test_a_brighter_camera_closes_a_gap_by_as_much(
    level: BareLevel, camera: Taking, scrim: float, index: float
) -> None:
    """So many times the index, so many stops less missing; a scrim the other way."""
    faster = Taking(
        camera.index * index, camera.time_s, camera.frames_per_s, camera.constants, None
    )
    slow = scene({"key": level}, [Lit("key", "key")], camera).lights[0].gap_stops
    fast = scene({"key": level}, [Lit("key", "key")], faster).lights[0].gap_stops
    dark = (
        scene({"key": level}, [Lit("key", "key", scrim_stops=(scrim, scrim))], camera)
        .lights[0]
        .gap_stops
    )
    assert slow is not None
    assert fast is not None
    assert dark is not None
    assert fast == pytest.approx([each - math.log2(index) for each in slow], abs=1e-3)
    assert dark == pytest.approx([each + scrim for each in slow], abs=1e-3)


@given(
    size_m=st.floats(0.001, 10.0),
    to_edge_m=st.floats(0.01, 100.0),
    beyond_m=st.floats(0.0, 100.0),
    times=st.floats(0.1, 10.0),
)
def test_a_half_shadow_grows_with_size_and_not_with_scale(
    size_m: float, to_edge_m: float, beyond_m: float, times: float
) -> None:
    """Twice the light, twice the edge; a drawing of another scale keeps its shape."""

    def edge(scale: float, size: float) -> float:
        return shadow_edge_m(
            size * scale, light_to_edge_m=to_edge_m * scale, edge_to_surface_m=beyond_m * scale
        )

    assert edge(1.0, size_m * times) == pytest.approx(times * edge(1.0, size_m), rel=1e-9)
    assert edge(times, size_m) == pytest.approx(times * edge(1.0, size_m), rel=1e-9)


@given(size_m=st.floats(0.001, 10.0), near_m=st.floats(0.31, 50.0), further_m=st.floats(0.0, 50.0))
def test_further_away_is_never_softer(size_m: float, near_m: float, further_m: float) -> None:
    near, far = (shadow_edge_at_m(size_m, distance_m=each) for each in (near_m, near_m + further_m))
    assert near is not None
    assert far is not None
    assert far <= near * (1 + 1e-12)
