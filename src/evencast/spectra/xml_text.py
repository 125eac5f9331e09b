"""XML taken apart without its dangers: no document types, so no entities; no depth, no bulk."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NoReturn

from evencast.spectra.samples import MOST_SAMPLES, fail

if TYPE_CHECKING:
    from xml.parsers.expat import XMLParserType


DEEPEST = 3
MOST_ELEMENTS = 2 * MOST_SAMPLES
EXPORT = "Export it again, or save the spectrum as CSV: wavelength in nm, then the value."


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
    from xml.parsers import expat  # 3 ms, and few questions read XML

    collector = _Collector(where)
    parser = collector.parser = expat.ParserCreate("utf-8", " ")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = collector.refuse_doctype
    parser.StartElementHandler = collector.begin
    parser.EndElementHandler = collector.end
    parser.CharacterDataHandler = collector.read
    try:
        parser.Parse(text.removeprefix("\ufeff").encode("utf-8", "surrogatepass"), True)
    except expat.ExpatError as error:
        fail(
            f"is not well-formed XML: {expat.ErrorString(error.code)}",
            f"{where}, line {error.lineno}",
            EXPORT,
        )
    return collector.elements


class _Collector:
    """Takes the elements down as the parser meets them, and stops at what has no place here."""

    def __init__(self, where: str) -> None:
        self.where = where
        self.parser: XMLParserType
        self.elements: list[Element] = []
        self.open: list[Element] = []

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        if len(self.open) == DEEPEST:
            self._refuse(f"elements stand more than {DEEPEST} deep", EXPORT)
        if len(self.elements) > MOST_ELEMENTS:
            self._refuse(
                f"more than {MOST_ELEMENTS} elements", "Check that this is the right file."
            )
        space = self.elements[0].name.rpartition(" ")[0] + " " if self.elements else ""
        parent = self.open[-1].name if self.open else ""
        element = Element(
            name.removeprefix(space) if self.elements else name,
            parent,
            self.parser.CurrentLineNumber,
            attributes,
        )
        self.elements.append(element)
        self.open.append(element)

    def end(self, name: str) -> None:
        """An element ends."""
        self.open.pop()

    def read(self, text: str) -> None:
        """Text inside an element."""
        self.open[-1].text.append(text)

    def refuse_doctype(self, *_: object) -> None:
        """A document type, the place where entities are declared."""
        self._refuse(
            "holds a DOCTYPE, which is not read: it can make a file swell without end or "
            "reach for other files",
            "Take the DOCTYPE out; a spectrum needs none.",
        )

    def _refuse(self, what: str, remedy: str) -> NoReturn:
        fail(what, f"{self.where}, line {self.parser.CurrentLineNumber}", remedy)
