"""What a document is, by its bytes and its ending, and what of it goes into the index."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import Any, Final, Literal, get_args

Kind = Literal["plan", "kit", "spectrum", "photometric", "frame", "other"]
KINDS: Final[tuple[Kind, ...]] = get_args(Kind)

LONGEST_TITLE = 200
MOST_HELD = 1000

_BEGINNINGS: dict[str, tuple[bytes, ...]] = {
    ".png": (b"\x89PNG\r\n\x1a\n",),
    ".jpg": (b"\xff\xd8\xff",),
    ".jpeg": (b"\xff\xd8\xff",),
    ".tif": (b"II*\x00", b"MM\x00*"),
    ".tiff": (b"II*\x00", b"MM\x00*"),
    ".exr": (b"v/1\x01",),
    ".gdtf": (b"PK\x03\x04",),
}
"""How files of an ending begin, where the format fixes it."""

_BY_ENDING: dict[str, Kind] = {
    **dict.fromkeys((".csv", ".spdx"), "spectrum"),
    **dict.fromkeys((".ies", ".ldt", ".gdtf"), "photometric"),
    **dict.fromkeys((".png", ".jpg", ".jpeg", ".tif", ".tiff", ".exr"), "frame"),
    **dict.fromkeys(
        (".arw", ".cr2", ".cr3", ".crw", ".dng", ".iiq", ".nef", ".orf", ".pef", ".raf", ".rw2"),
        "frame",  # raw files of cameras; a decoder says whether it can read them
    ),
}
_TEXTS = {".csv", ".spdx", ".ies", ".ldt"}

_PLAN_LINE = re.compile(r"^\s*(\[\[\s*light\b|\[\s*camera\b|kit\s*=)", re.MULTILINE)
_KIT_LINE = re.compile(r"^\s*\[\[\s*filter\b", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Entry:
    """What the index keeps of a document, made from its bytes alone.

    title, holds : see `Document`
    """

    kind: Kind
    title: str = ""
    holds: tuple[str, ...] = ()


def entry_of(name: str, content: bytes) -> Entry:
    """The entry in the index of a document of that name with these bytes."""
    ending = PurePosixPath(name).suffix.casefold()
    if ending == ".toml":
        return _of_toml(content)
    beginnings = _BEGINNINGS.get(ending)
    if beginnings is not None and not content.startswith(beginnings):
        return Entry("other")
    if ending in _TEXTS and b"\x00" in content:
        return Entry("other")
    return Entry(_BY_ENDING.get(ending, "other"))


def _of_toml(content: bytes) -> Entry:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return Entry("other")
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return Entry(_kind_of_broken(text))
    kind = _kind(data)
    if kind == "other":
        return Entry("other")
    parts = data.get("light" if kind == "plan" else "filter")
    return Entry(kind, _name(data.get("name")), _names(parts))


def _kind(data: dict[str, Any]) -> Kind:
    """A plan needs a kit and a camera; a kit may as yet hold no filter."""
    if "light" in data:
        return "plan"
    if "filter" in data:
        return "kit"
    if "kit" in data or "camera" in data:
        return "plan"
    return "kit" if "format" in data else "other"


def _kind_of_broken(text: str) -> Kind:
    """A document that cannot be read keeps its kind while its headings still tell it."""
    if _PLAN_LINE.search(text):
        return "plan"
    return "kit" if _KIT_LINE.search(text) else "other"


def _name(value: object) -> str:
    """Fit for a column of text: one line, without what a database refuses."""
    if not isinstance(value, str):
        return ""
    return " ".join(value.replace("\x00", " ").split())[:LONGEST_TITLE]


def _names(parts: object) -> tuple[str, ...]:
    if not isinstance(parts, list):
        return ()
    named = (_name(each.get("name")) for each in parts if isinstance(each, dict))
    return tuple(name for name in named if name)[:MOST_HELD]
