"""What is written is read: LM-63 in every layout, edition and symmetry."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from evencast.media.lm63 import parse_lm63
from evencast.quantities import Floats
from tests.photometric_files import Written, lm63

SPANS = {
    "round": (0.0, 0.0),
    "quarters": (0.0, 90.0),
    "halves about 0-180": (0.0, 180.0),
    "halves about 90-270": (90.0, 270.0),
    "none": (0.0, 360.0),
}
CANDELA = st.floats(1e-6, 1e6) | st.integers(0, 100_000).map(float)


def angles(low: float, high: float) -> st.SearchStrategy[Floats]:
    """Both ends and whatever lies between, uneven, in hundredths of a degree."""
    inside = st.sets(st.integers(round(100 * low) + 1, round(100 * high) - 1), max_size=6)
    return inside.map(lambda found: np.array([low, *(each / 100 for each in sorted(found)), high]))


@st.composite
def written_files(draw: st.DrawFn) -> tuple[str, Written]:
    symmetry = draw(st.sampled_from(sorted(SPANS)))
    low, high = SPANS[symmetry]
    vertical = draw(st.sampled_from([(0.0, 90.0), (0.0, 180.0), (90.0, 180.0)]))
    vertical_deg = draw(angles(*vertical))
    planes_deg = np.array([low]) if low == high else draw(angles(low, high))
    rows = st.lists(CANDELA, min_size=len(vertical_deg), max_size=len(vertical_deg))
    candelas = np.array([draw(rows) for _ in planes_deg])
    candelas[0, 0] = 1.0
    return symmetry, Written(
        vertical_deg,
        planes_deg,
        candelas,
        first_line=draw(st.sampled_from(["IESNA91", "IESNA:LM-63-2002", "IES:LM-63-2019"])),
        lamps=draw(st.integers(1, 9)),
        lumens=draw(st.sampled_from([-1.0, 1200.0, 0.5])),
        multiplier=draw(st.sampled_from([1.0, 0.25, 17.5])),
        units=draw(st.sampled_from([1, 2])),
        factors=(draw(st.sampled_from([1.0, 0.9])), 1.0),
        watts=draw(st.sampled_from([0.0, 650.0])),
        end=draw(st.sampled_from(["\n", "\r\n", "\r"])),
    )


@given(
    found=written_files(), per_line=st.integers(1, 12), separator=st.sampled_from([" ", ",", ", "])
)
def test_what_is_written_is_read(found: tuple[str, Written], per_line: int, separator: str) -> None:
    """Every angle, candela and number; and the file is a part of the round it stands for."""
    symmetry, written = found
    light = parse_lm63(lm63(written, per_line=per_line, separator=separator), where="x.ies")
    assert light.symmetry == symmetry
    np.testing.assert_array_equal(light.vertical_deg, written.vertical_deg)
    factor = written.multiplier * written.factors[0] * written.factors[1]
    if symmetry == "round":
        np.testing.assert_array_equal(light.horizontal_deg, [0.0])
        np.testing.assert_array_equal(light.candelas, written.candelas * factor)
    else:
        at = [int(np.abs(light.horizontal_deg - each).argmin()) for each in written.planes_deg]
        np.testing.assert_allclose(light.horizontal_deg[at], written.planes_deg, atol=1e-9)
        np.testing.assert_array_equal(light.candelas[at], written.candelas * factor)
        _check_mirrored(light.horizontal_deg, light.candelas, symmetry)
    assert light.lamps == written.lamps
    assert light.lumens_per_lamp == (None if written.lumens == -1 else written.lumens)
    assert light.input_w == (written.watts or None)
    metres = 0.3048 if written.units == 1 else 1.0
    assert light.opening.width_m == written.opening[0] * metres
    assert light.opening.length_m == written.opening[1] * metres


def _check_mirrored(planes_deg: Floats, candelas: Floats, symmetry: str) -> None:
    """0 to 360 with both ends, and alike on both sides of each plane of symmetry."""
    assert planes_deg[0] == 0.0
    assert planes_deg[-1] == 360.0
    assert (np.diff(planes_deg) > 0).all()
    sums = {"quarters": (360.0, 180.0), "halves about 0-180": (360.0,), "none": ()}
    for total in sums.get(symmetry, (180.0,)):
        for plane, values in zip(planes_deg[1:-1], candelas[1:-1], strict=True):
            other = (total - plane) % 360.0
            at = int(np.abs(planes_deg - other).argmin())
            assert abs(planes_deg[at] - other) < 1e-6
            np.testing.assert_array_equal(candelas[at], values)


@given(found=written_files())
def test_the_multiplier_only_scales(found: tuple[str, Written]) -> None:
    """Twice the multiplier, twice every candela."""
    _, written = found
    once = parse_lm63(lm63(written), where="x.ies")
    twice = parse_lm63(lm63(replace(written, multiplier=2 * written.multiplier)), where="x.ies")
    np.testing.assert_array_equal(twice.candelas, 2 * once.candelas)
