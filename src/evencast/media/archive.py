"""The description inside a GDTF archive, taken out without the dangers of archives and XML."""

from __future__ import annotations

import zlib
from io import BytesIO
from typing import TYPE_CHECKING

from evencast.spectra.safe_xml import Bounds, walk
from evencast.spectra.samples import fail

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element, TreeBuilder
    from zipfile import ZipFile

DESCRIPTION = "description.xml"
MOST_BYTES = 64 * 1024 * 1024
MOST_MEMBERS = 5_000
MOST_DESCRIPTION_BYTES = 16 * 1024 * 1024
LINE = "_line"
"""Attribute under which the line of each element is kept."""

RIGHT_FILE = "Check that this is the right file; get it again if it is."
_BOUNDS = Bounds(
    deepest=50,
    most_elements=200_000,
    encoding=None,
    again=RIGHT_FILE,
    right=RIGHT_FILE,
    needs_no="a GDTF description",
)


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

    grower = _Grower(TreeBuilder())
    try:
        walk(text, grower, bounds=_BOUNDS, where=where)
    except (LookupError, ValueError):
        fail("is in an encoding that cannot be read", where, "Save it in UTF-8.")
    return grower.builder.close()


class _Grower:
    """Builds the tree; text is nothing that a fixture needs."""

    def __init__(self, builder: TreeBuilder) -> None:
        self.builder = builder

    def begin(self, name: str, attributes: dict[str, str], line: int) -> None:
        """An element begins."""
        self.builder.start(name, attributes | {LINE: str(line)})

    def end(self, name: str) -> None:
        """An element ends."""
        self.builder.end(name)

    def read(self, text: str) -> None:
        """Text inside an element."""
