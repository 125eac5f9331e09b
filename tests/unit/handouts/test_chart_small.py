"""The lights chart for a page that says itself what is drawn."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from evencast.handouts.charts.lights import svg
from evencast.handouts.charts.moves import Colour, LightMove, LightsChart
from evencast.handouts.charts.values import Tolerance

SVG = "{http://www.w3.org/2000/svg}"
MOVE = LightMove(
    number=3,
    name="bench lamp",
    bare=Colour(40.0, 0.002, "#c08040"),
    hung=Colour(2.0, 0.0005, "#808080"),
    changed=True,
    band_mired=(-1.0, 5.0),
    band_duv=None,
    aim_mired=0.0,
    aim_duv=0.0,
    tolerance=Tolerance("fill", -12.0, 12.0, 0.003),
    inside=True,
)
CHART = LightsChart("All of it", "4300K", 4300.0, (MOVE,))


def words(picture: str) -> str:
    return " ".join("".join(each.itertext()) for each in ET.fromstring(picture).iter(f"{SVG}text"))


def test_it_is_lower_and_leaves_the_rest_to_the_page() -> None:
    whole, small = svg(CHART, width=480.0), svg(CHART, width=480.0, small=True)
    heights = [float(ET.fromstring(each).get("height", "0")) for each in (whole, small)]
    assert heights[1] < 0.75 * heights[0]
    for told in ("All of it", "as it hangs", "nine in ten", "Across: mired"):
        assert told in words(whole)
        assert told not in words(small)
    assert "3 bench lamp" in words(small)
    assert "the balance" in words(small)
    assert "<title>All of it</title>" in small
