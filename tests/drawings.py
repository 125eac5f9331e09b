"""Reads a picture back: what is written where, which marks there are, which greys it uses."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from itertools import combinations

from evencast.handouts.charts.letters import width_of
from evencast.handouts.charts.placing import Box

NAMESPACE = "{http://www.w3.org/2000/svg}"
DRAWN = {"svg", "title", "desc", "g", "rect", "line", "path", "circle", "text"}
ATTRIBUTES = re.compile(r"^[a-z][a-zA-Z12-]*$")


@dataclass(frozen=True)
class Drawing:
    """A picture, parsed."""

    root: ET.Element

    @property
    def size(self) -> Box:
        """The picture's edges."""
        return Box(0.0, 0.0, float(self.root.attrib["width"]), float(self.root.attrib["height"]))

    @property
    def panel(self) -> Box:
        """The first field of data: the second rectangle."""
        return box_of(self.all("rect")[1])

    def all(self, tag: str) -> list[ET.Element]:
        return list(self.root.iter(f"{NAMESPACE}{tag}"))

    def texts(self) -> list[tuple[str, Box]]:
        """What is written, each line with the room it takes: from its foot up."""
        found = []
        for each in self.all("text"):
            text = written(each)
            size = float(each.get("font-size", "13"))
            wide = width_of(text, size, bold=each.get("font-weight") == "600")
            x, y = float(each.attrib["x"]), float(each.attrib["y"])
            left = {"start": x, "middle": x - wide / 2, "end": x - wide}[
                each.get("text-anchor", "start")
            ]
            found.append((text, Box(left, y - 0.62 * size, left + wide, y)))
        return found

    def faults(self) -> list[str]:
        """Texts that leave the picture, and texts that lie over each other."""
        texts = self.texts()
        left = [f'"{text}" leaves the picture' for text, box in texts if not inside(self.size, box)]
        over = [
            f'"{one}" lies over "{other}"'
            for (one, box), (other, other_box) in combinations(texts, 2)
            if box.overlaps(other_box)
        ]
        return left + over

    def paints(self) -> set[str]:
        """Every fill and stroke."""
        return {
            each.attrib[name]
            for each in self.root.iter()
            for name in ("fill", "stroke")
            if name in each.attrib and each.attrib[name] != "none"
        }


def drawing(svg: str) -> Drawing:
    """A picture as it was written; what no picture of ours may hold is refused."""
    root = ET.fromstring(svg)
    assert {each.tag.removeprefix(NAMESPACE) for each in root.iter()} <= DRAWN
    names = {name for each in root.iter() for name in each.attrib}
    assert not names & {"style", "class", "id", "href", "onload"}, names
    assert all(ATTRIBUTES.match(name) for name in names)
    assert "nan" not in svg
    assert "inf" not in " ".join(
        value for each in root.iter() for value in each.attrib.values() if each.tag != "text"
    ).replace("Inter", "")
    assert root.attrib["role"] == "img"
    assert [each.tag for each in root[:2]] == [f"{NAMESPACE}title", f"{NAMESPACE}desc"]
    return Drawing(root)


def written(element: ET.Element) -> str:
    """The words of a text, without its title."""
    return (element.text or "") + "".join(each.tail or "" for each in element)


def box_of(element: ET.Element) -> Box:
    """Of a rectangle."""
    x, y, width, height = (float(element.get(name, "0")) for name in ("x", "y", "width", "height"))
    return Box(x, y, x + width, y + height)


def inside(box: Box, other: Box, *, slack: float = 0.06) -> bool:
    """Whether it lies inside, but for the rounding of places."""
    return box.holds(
        Box(other.left + slack, other.top + slack, other.right - slack, other.bottom - slack)
    )


def is_grey(colour: str) -> bool:
    """Whether red, green and blue are the same; of a custom property, those it stands for."""
    hex_ = re.fullmatch(r"(?:var\(--chart-[a-z]+, )?#([0-9a-f]{6})\)?", colour)
    assert hex_, colour
    return hex_[1][:2] == hex_[1][2:4] == hex_[1][4:]
