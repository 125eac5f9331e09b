"""The elements of a short XML text, such as a spectrum's, as a list."""

from __future__ import annotations

from dataclasses import dataclass, field

from evencast.spectra.safe_xml import Bounds, walk
from evencast.spectra.samples import MOST_SAMPLES

EXPORT = "Export it again, or save the spectrum as CSV: wavelength in nm, then the value."
_BOUNDS = Bounds(
    deepest=3,
    most_elements=2 * MOST_SAMPLES,
    encoding="utf-8",
    again=EXPORT,
    right="Check that this is the right file.",
    needs_no="a spectrum",
)


@dataclass(frozen=True, slots=True)
class Element:
    """One element.

    name, parent : without the namespace where it is the root's own
    line         : where it begins
    """

    name: str
    parent: str
    line: int
    attributes: dict[str, str]
    text: list[str] = field(default_factory=list)

    @property
    def content(self) -> str:
        """Its text; "" also for the word None, which stands for nothing in some files."""
        text = "".join(self.text).strip()
        return "" if text == "None" else text


def elements_of(text: str, *, where: str) -> list[Element]:
    """Every element in the order in which they begin, the root first.

    Raises  EvencastError where it is no well-formed XML, or holds a DOCTYPE, elements more than
            three deep, or more of them than any spectrum needs
    """
    collector = _Collector()
    content = text.removeprefix("\ufeff").encode("utf-8", "surrogatepass")
    walk(content, collector, bounds=_BOUNDS, where=where)
    return collector.elements


class _Collector:
    """Takes the elements down in a list."""

    def __init__(self) -> None:
        self.elements: list[Element] = []
        self.open: list[Element] = []

    def begin(self, name: str, attributes: dict[str, str], line: int) -> None:
        """An element begins."""
        space = self.elements[0].name.rpartition(" ")[0] + " " if self.elements else ""
        parent = self.open[-1].name if self.open else ""
        own_name = name.removeprefix(space) if self.elements else name
        element = Element(own_name, parent, line, attributes)
        self.elements.append(element)
        self.open.append(element)

    def end(self, name: str) -> None:
        """An element ends."""
        self.open.pop()

    def read(self, text: str) -> None:
        """Text inside an element."""
        self.open[-1].text.append(text)
