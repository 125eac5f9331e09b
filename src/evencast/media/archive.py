"""The description inside a GDTF archive, taken out without the dangers of archives and XML."""

from __future__ import annotations

import zlib
from io import BytesIO
from typing import TYPE_CHECKING, NoReturn

from evencast.spectra.samples import fail

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element, TreeBuilder
    from xml.parsers.expat import XMLParserType
    from zipfile import ZipFile

DESCRIPTION = "description.xml"
MOST_BYTES = 64 * 1024 * 1024
MOST_MEMBERS = 5_000
MOST_DESCRIPTION_BYTES = 16 * 1024 * 1024
DEEPEST = 50
MOST_ELEMENTS = 200_000
LINE = "_line"
"""Attribute under which the line of each element is kept."""

RIGHT_FILE = "Check that this is the right file; get it again if it is."


def description(content: bytes, *, where: str) -> Element:
    """The root of the description in an archive, each element with its line.

    Raises  EvencastError where it is no such archive, is too large, or holds a DOCTYPE
    """
    if len(content) > MOST_BYTES:
        fail(f"is larger than {MOST_BYTES >> 20} MiB", where, RIGHT_FILE)
    if content.count(b"PK\x01\x02") > MOST_MEMBERS:
        fail(f"holds more than {MOST_MEMBERS} files", where, RIGHT_FILE)
    text = _description_bytes(content, where)
    return _tree(text.rstrip(b"\x00"), f"{where}, {DESCRIPTION}")


def _description_bytes(content: bytes, where: str) -> bytes:
    import zipfile  # few questions read an archive

    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            return _member(archive, where)
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError):
        fail("is no archive, or one that is broken or cut short", where, RIGHT_FILE)
    except (RuntimeError, OSError, ValueError, OverflowError):
        fail(f"its {DESCRIPTION} is locked with a password, or broken", where, RIGHT_FILE)


def _member(archive: ZipFile, where: str) -> bytes:
    """The description, read no further than it may be long, whatever the archive says."""
    names = [each for each in archive.infolist() if each.filename == DESCRIPTION]
    if len(names) != 1:
        many = "no" if not names else "more than one"
        fail(f"holds {many} {DESCRIPTION}", where, f"A GDTF archive holds one. {RIGHT_FILE}")
    with archive.open(names[0]) as member:
        text = member.read(MOST_DESCRIPTION_BYTES + 1)
    if len(text) > MOST_DESCRIPTION_BYTES:
        fail(
            f"its {DESCRIPTION} is larger than {MOST_DESCRIPTION_BYTES >> 20} MiB",
            where,
            RIGHT_FILE,
        )
    return text


def _tree(text: bytes, where: str) -> Element:
    from xml.etree.ElementTree import TreeBuilder
    from xml.parsers import expat

    grower = _Grower(TreeBuilder(), where)
    parser = grower.parser = expat.ParserCreate(None, " ")
    parser.StartDoctypeDeclHandler = grower.refuse_doctype
    parser.StartElementHandler = grower.begin
    parser.EndElementHandler = grower.end
    try:
        parser.Parse(text, True)
    except expat.ExpatError as error:
        fail(
            f"is not well-formed XML: {expat.ErrorString(error.code)}",
            f"{where}, line {error.lineno}",
            RIGHT_FILE,
        )
    except (LookupError, ValueError):
        fail("is in an encoding that cannot be read", where, "Save it in UTF-8.")
    return grower.builder.close()


class _Grower:
    """Builds the tree as the parser meets it, and stops at what has no place in it."""

    def __init__(self, builder: TreeBuilder, where: str) -> None:
        self.builder = builder
        self.where = where
        self.parser: XMLParserType
        self.depth = 0
        self.count = 0

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        self.depth += 1
        self.count += 1
        if self.depth > DEEPEST:
            self._refuse(f"elements stand more than {DEEPEST} deep", RIGHT_FILE)
        if self.count > MOST_ELEMENTS:
            self._refuse(f"more than {MOST_ELEMENTS} elements", RIGHT_FILE)
        self.builder.start(name, attributes | {LINE: str(self.parser.CurrentLineNumber)})

    def end(self, name: str) -> None:
        """An element ends."""
        self.depth -= 1
        self.builder.end(name)

    def refuse_doctype(self, *_: object) -> None:
        """A document type, the place where entities are declared."""
        self._refuse(
            "holds a DOCTYPE, which is not read: it can make a file swell without end or "
            "reach for other files",
            "Take the DOCTYPE out; a GDTF description needs none.",
        )

    def _refuse(self, what: str, remedy: str) -> NoReturn:
        fail(what, f"{self.where}, line {self.parser.CurrentLineNumber}", remedy)
