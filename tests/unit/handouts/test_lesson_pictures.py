"""Pictures of lessons: well-formed, within their edges, legible, and of grey but for the data."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

import pytest

from evencast.actions.lessons.lesson import LESSONS, lesson
from evencast.camera.patches import Patch
from evencast.handouts.charts.ground import GREYS, GROUNDS, Ground
from evencast.handouts.charts.letters import width_of
from evencast.handouts.lessons.rows import Half, PatchRow, PatchRows
from evencast.handouts.lessons.rulers import RulersChart, Slide
from evencast.handouts.lessons.sheet import WIDTH
from evencast.handouts.lessons.strokes import Strokes, StrokesChart
from evencast.handouts.pictures import COMPUTED

SVG = "{http://www.w3.org/2000/svg}"
SETTINGS = [
    (each.slug, values)
    for each in LESSONS
    for values in ({}, *(preset.values for preset in lesson(each.slug, {})[0].tries))
]
LONG = "a very long name of a lamp that goes on and on " * 4


def parsed(svg: str) -> ElementTree.Element:
    """The picture; a DOCTYPE or an entity would have no place in it."""
    assert "<!" not in svg
    return ElementTree.fromstring(svg)


def assert_inside(root: ElementTree.Element) -> None:
    """No letter and no mark beyond the edges."""
    _, _, wide, high = (float(each) for each in root.attrib["viewBox"].split())
    for each in root.iter(f"{SVG}text"):
        size = float(each.attrib.get("font-size", "13"))
        told = "".join(each.itertext())
        width = width_of(told, size, bold="font-weight" in each.attrib) / 1.02
        anchor = each.attrib.get("text-anchor", "start")
        left = float(each.attrib["x"]) - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        assert left >= 0.0, told
        assert left + width <= wide + 1.0, told
        assert 0.0 < float(each.attrib["y"]) <= high, told
    for each in root.iter(f"{SVG}rect"):
        place = {name: float(each.attrib.get(name, "0")) for name in ("x", "y", "width", "height")}
        assert place["x"] >= 0.0
        assert place["x"] + place["width"] <= wide + 0.1
        assert place["y"] + place["height"] <= high + 0.1


@pytest.mark.parametrize("wall", [False, True])
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize(("slug", "values"), SETTINGS)
def test_a_picture_is_whole_and_stays_inside(
    slug: str, values: dict[str, str], ground: Ground, wall: bool
) -> None:
    root = parsed(lesson(slug, values)[1].svg(ground=ground, wall=wall))
    assert_inside(root)
    assert root.attrib["role"] == "img"
    assert root.findtext(f"{SVG}title")
    assert len(root.findtext(f"{SVG}desc") or "") > 40
    assert not [each for each in root.iter() if "style" in each.attrib or "id" in each.attrib]


@pytest.mark.parametrize("slug", ["balance", "pair", "green", "cameras", "lamps", "contrast"])
def test_what_looks_like_a_photograph_says_that_it_is_none(slug: str) -> None:
    svg = lesson(slug, {})[1].svg()
    assert COMPUTED in re.sub(r"</text>\s*<text[^>]*>", " ", svg)


def test_all_but_patches_is_grey() -> None:
    """Pictures without patches hold no colour at all."""
    for slug in ("ruler", "doubt", "contrast"):
        for hex_ in re.findall(r"#([0-9a-f]{6})", lesson(slug, {})[1].svg(ground="screen")):
            assert hex_[:2] == hex_[2:4] == hex_[4:], slug


def test_letters_on_a_phone_are_no_smaller_than_nine_pixels() -> None:
    for slug, values in SETTINGS:
        for size in re.findall(r'font-size="([\d.]+)"', lesson(slug, values)[1].svg()):
            assert float(size) * 366.0 / WIDTH >= 9.0, slug


def test_long_labels_stand_above_their_patches() -> None:
    patch = Patch("grey", "#767676", False)
    row = PatchRow(LONG, [LONG], [Half(LONG, [patch]), Half("short", [patch])])
    for wall in (False, True):
        root = parsed(PatchRows("long", [row, row, row]).svg(wall=wall))
        assert_inside(root)
        fields = [
            float(each.attrib["y"])
            for each in root.iter(f"{SVG}rect")
            if each.attrib["fill"] == GREYS["paper"].allowed
        ]
        for each in root.iter(f"{SVG}text"):
            foot = float(each.attrib["y"])
            assert not any(top < foot < top + 80.0 for top in fields), "letters on patches"


def test_a_limited_patch_has_its_corner_cut_and_says_so() -> None:
    rows = PatchRows("x", [PatchRow("x", [], [Half("x", [Patch("grey", "#767676", True)])])])
    assert "Corner cut" in rows.svg()
    assert "beyond what this display shows" in rows.svg()


def test_beyond_the_ruler_there_is_an_arrow_at_the_blue_end() -> None:
    """To the right in Kelvin, to the left in mired."""
    svg = RulersChart("t", "s", (Slide("7500 K", 7500.0, None, "none", "none", live=True),)).svg()
    tips = [float(each) for each in re.findall(r'<path d="M([\d.]+) ', svg)]
    assert len(tips) == 2
    assert tips[0] > WIDTH * 0.9
    assert tips[1] < WIDTH * 0.1


def test_strokes_without_a_colour_temperature_leave_the_row_empty() -> None:
    svg = StrokesChart("t", [Strokes("h", "none", [], (None, None), None)]).svg()
    assert "nan" not in svg
    assert "<circle" not in svg
    assert_inside(parsed(svg))
