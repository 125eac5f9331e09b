"""Half-shadows by similar triangles, drawn by hand."""

from __future__ import annotations

import pytest

from evencast.lights.softness import seen_deg, shadow_edge_at_m, shadow_edge_m, shining_size_m


def traced_m(size_m: float, to_edge_m: float, beyond_m: float) -> float:
    """By two rays, from either rim of the light over the edge at height 0 to the surface."""
    hits = []
    for rim_m in (-size_m / 2, size_m / 2):
        slope = (0.0 - rim_m) / to_edge_m
        hits.append(rim_m + slope * (to_edge_m + beyond_m))
    return abs(hits[1] - hits[0])


@pytest.mark.parametrize(
    ("size_m", "to_edge_m", "beyond_m"), [(0.15, 2.7, 0.3), (1.2, 0.9, 0.3), (0.3, 0.3, 3.0)]
)
def test_a_half_shadow_is_what_the_rays_of_both_rims_leave(
    size_m: float, to_edge_m: float, beyond_m: float
) -> None:
    width_m = shadow_edge_m(size_m, light_to_edge_m=to_edge_m, edge_to_surface_m=beyond_m)
    assert width_m == pytest.approx(traced_m(size_m, to_edge_m, beyond_m), rel=1e-12)


def test_the_example_of_a_hand_before_the_face() -> None:
    """0.15 m of lens at 3 m: 0.15 x 0.3 / 2.7 is 17 mm; 1.2 m of frost eight times that."""
    assert shadow_edge_at_m(0.15, distance_m=3.0) == pytest.approx(0.016667, abs=1e-6)
    assert shadow_edge_at_m(1.2, distance_m=3.0) == pytest.approx(0.13333, abs=1e-5)


@pytest.mark.parametrize("distance_m", [0.1, 0.3])
def test_a_light_nearer_than_the_edge_throws_none(distance_m: float) -> None:
    assert shadow_edge_at_m(0.15, distance_m=distance_m) is None


def test_the_angle_it_is_seen_under() -> None:
    """As wide as it is far: 53.13 degrees, by 3, 4 and 5."""
    assert seen_deg(2.0, distance_m=2.0) == pytest.approx(53.1301, abs=1e-4)


@pytest.mark.parametrize(("frosted", "size_m"), [(False, 0.3), (True, 1.2)])
def test_the_frost_is_what_shines(frosted: bool, size_m: float) -> None:
    assert shining_size_m(0.3, frost_size_m=1.2, frosted=frosted) == size_m


def test_how_large_frost_shines_is_not_guessed() -> None:
    assert shining_size_m(0.3, frost_size_m=None, frosted=True) is None
