"""XML read without its dangers: no document types, so no entities; no depth, no bulk."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NoReturn, Protocol

from evencast.spectra.samples import fail


class Taker(Protocol):
    """What takes the elements down as they are met."""

    def begin(self, name: str, attributes: dict[str, str], line: int) -> None:
        """An element begins; a name in a namespace comes after it and a space."""

    def end(self, name: str) -> None:
        """An element ends."""

    def read(self, text: str) -> None:
        """Text inside an element."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a kind of file may hold, and what is said where it holds more.

    encoding : that of the content; None for what the file itself says
    again    : remedy for a file that is broken or too deep
    right    : remedy for one of too many elements
    needs_no : what needs no DOCTYPE, such as "a spectrum"
    """

    deepest: int
    most_elements: int
    encoding: str | None
    again: str
    right: str
    needs_no: str


def walk(content: bytes, taker: Taker, *, bounds: Bounds, where: str) -> None:
    """Hand every element of an XML text to `taker`, in the order of the text.

    Raises  EvencastError where it is no well-formed XML, holds a DOCTYPE, or is out of bounds;
            ValueError and LookupError for an encoding that Python does not know
    """
    from xml.parsers import expat  # 3 ms, and few questions read XML

    parser = expat.ParserCreate(bounds.encoding, " ")
    depth = count = 0

    def refuse(what: str, remedy: str) -> NoReturn:
        fail(what, f"{where}, line {parser.CurrentLineNumber}", remedy)

    def begin(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth, count
        depth += 1
        count += 1
        if depth > bounds.deepest:
            refuse(f"elements stand more than {bounds.deepest} deep", bounds.again)
        if count > bounds.most_elements:
            refuse(f"more than {bounds.most_elements} elements", bounds.right)
        taker.begin(name, attributes, parser.CurrentLineNumber)

    def end(name: str) -> None:
        nonlocal depth
        depth -= 1
        taker.end(name)

    def doctype(*_: object) -> None:
        refuse(
            "holds a DOCTYPE, which is not read: it can make a file swell without end or "
            "reach for other files",
            f"Take the DOCTYPE out; {bounds.needs_no} needs none.",
        )

    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = doctype
    parser.StartElementHandler = begin
    parser.EndElementHandler = end
    parser.CharacterDataHandler = taker.read
    try:
        parser.Parse(content, True)
    except expat.ExpatError as error:
        fail(
            f"is not well-formed XML: {expat.ErrorString(error.code)}",
            f"{where}, line {error.lineno}",
            bounds.again,
        )
