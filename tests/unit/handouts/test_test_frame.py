from __future__ import annotations

import re
from xml.etree import ElementTree

from evencast.camera.patches import Patch, names
from evencast.handouts.test_frame import (
    HEIGHT,
    WIDTH,
    frame_svg,
    has_limited,
    pair_of_frames_svg,
    photograph_svg,
)

PATCHES = [Patch(name, f"#{number:02x}4050", False) for number, name in enumerate(names())]


def colours(svg: str) -> list[str]:
    ElementTree.fromstring(svg)  # well formed
    return re.findall(r'fill="(#\w+)"', svg)


def test_a_frame_holds_each_patch_once_in_its_colour() -> None:
    """Card, two skins, and the 24 of the chart."""
    assert colours(frame_svg(PATCHES)) == [each.hex for each in PATCHES]
    assert colours(frame_svg(PATCHES, chart=False)) == [each.hex for each in PATCHES[:3]]


def test_a_pair_is_bare_on_the_left() -> None:
    other = [Patch(each.name, "#ffffff", False) for each in PATCHES]
    svg = pair_of_frames_svg(PATCHES, other)
    assert colours(svg) == [*(each.hex for each in PATCHES[:3]), *["#ffffff"] * 3]


def test_nothing_lies_outside_the_frame() -> None:
    limited = [Patch(each.name, each.hex, True) for each in PATCHES]
    for mark in re.findall(r'cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"', frame_svg(limited)):
        x, y, radius = map(float, mark)
        assert radius <= x <= WIDTH - radius
        assert radius <= y <= HEIGHT - radius
    for left, top, wide, high in re.findall(
        r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', frame_svg(limited)
    ):
        assert float(left) + float(wide) <= WIDTH
        assert float(top) + float(high) <= HEIGHT


def test_what_the_display_cannot_show_is_marked_without_colour() -> None:
    marked = [Patch("grey", "#123456", True), *PATCHES[1:]]
    svg = frame_svg(marked)
    assert svg.count('stroke="#000000"') == svg.count('stroke="#ffffff"') == 1
    assert "#000000" not in frame_svg(PATCHES)
    assert has_limited(marked)
    chart = [*PATCHES[:-1], Patch("black 2", "#000000", True)]
    assert has_limited(chart)
    assert not has_limited(chart, chart=False)


def test_a_photograph_keeps_its_bytes_and_size() -> None:
    svg = photograph_svg(b"\xff\xd8jpeg", width_px=600, height_px=400)
    root = ElementTree.fromstring(svg)
    assert root.attrib["viewBox"] == "0 0 600 400"
    assert root[0].attrib["href"] == "data:image/jpeg;base64,/9hqcGVn"
