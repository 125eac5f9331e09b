"""What was made to be printed: files kept for as long as the server runs, made once for each
state of a bundle and each wish.

One process makes them, another shows them; a folder stands between the two.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from evencast.errors import EvencastError, Problem

MOST_KEPT = 24
"""Sets of papers, each for one state and one wish; the longest unused go."""

_KEY = re.compile(r"[0-9a-f]{24}")
_LIST, _PAGES = "made.json", "pages.json"


@dataclass(frozen=True)
class Paper:
    """One file.

    pages : how many of its pages can be looked at as pictures; 0 where it has none, or until
            they are drawn
    """

    name: str
    bytes: int
    pages: int


@dataclass(frozen=True)
class PaperSet:
    """The files of one hand-out, and what they cannot show or lack."""

    kind: str
    files: list[Paper]
    problems: list[Problem]


def key_of(*wished: object) -> str:
    """The same for the same wishes; wishes can be told as JSON."""
    told = json.dumps(wished, sort_keys=True, default=str)
    return hashlib.sha256(told.encode()).hexdigest()[:24]


class Papers:
    """The papers of one server, gone when it ends."""

    def __init__(self) -> None:
        self._own = TemporaryDirectory(prefix="evencast-papers-", ignore_cleanup_errors=True)

    def folder(self, key: str) -> Path:
        """Where a set is kept; made where there is none, and the longest unused thinned out.

        Raises  EvencastError for what is no key
        """
        if not _KEY.fullmatch(key):
            raise gone()
        folder = Path(self._own.name) / key
        if not folder.is_dir():
            folder.mkdir()
            self._thin_out()
        return folder

    def made(self, key: str, kind: str) -> PaperSet | None:
        """What was made of a kind; None where it was not yet."""
        place = self._place(key, kind)
        if place is None:
            return None
        os.utime(place.parent)
        told = json.loads((place / _LIST).read_text("utf-8"))
        drawn = place / _PAGES
        pages = json.loads(drawn.read_text("utf-8")) if drawn.is_file() else {}
        return PaperSet(
            kind,
            [Paper(name, size, pages.get(name, 0)) for name, size in told["files"]],
            [Problem(**each) for each in told["problems"]],
        )

    def content(self, key: str, kind: str, name: str) -> bytes:
        """The bytes of a file.

        Raises  EvencastError where there is none, or no longer
        """
        found = self.made(key, kind)
        place = self._place(key, kind)
        if found is None or place is None or name not in [each.name for each in found.files]:
            raise gone()
        return (place / name).read_bytes()

    def page(self, key: str, kind: str, name: str, number: int) -> bytes:
        """A page of a file as PNG, numbered from 1.

        Raises  EvencastError where there is none, or no longer
        """
        found = self.made(key, kind)
        place = self._place(key, kind)
        files = {} if found is None else {each.name: each.pages for each in found.files}
        if place is None or not 1 <= number <= files.get(name, 0):
            raise gone()
        return (place / _page_name(name, number)).read_bytes()

    def close(self) -> None:
        """Put everything away."""
        self._own.cleanup()

    def _place(self, key: str, kind: str) -> Path | None:
        if not (_KEY.fullmatch(key) and kind.isalpha() and kind.isascii()):
            return None
        place = Path(self._own.name) / key / kind
        return place if (place / _LIST).is_file() else None

    def _thin_out(self) -> None:
        found = sorted(Path(self._own.name).iterdir(), key=lambda each: -each.stat().st_mtime)
        for each in found[MOST_KEPT:]:
            shutil.rmtree(each, ignore_errors=True)


def put(
    folder: Path, kind: str, files: Mapping[str, bytes], problems: Iterable[Problem] = ()
) -> None:
    """Keep the files of one hand-out; they are there all at once, or not at all.

    folder : of the set, from `Papers.folder`
    """
    building = folder / f".{kind}.part"
    shutil.rmtree(building, ignore_errors=True)
    building.mkdir(parents=True)
    for name, content in files.items():
        (building / name).write_bytes(content)
    told = {
        "files": [[name, len(content)] for name, content in files.items()],
        "problems": [asdict(each) for each in dict.fromkeys(problems)],
    }
    (building / _LIST).write_text(json.dumps(told), "utf-8")
    with suppress(OSError):  # where it is there already, it is the same
        building.rename(folder / kind)


def draw(folder: Path, kind: str, pages: Mapping[str, Sequence[bytes]]) -> None:
    """Keep the pages of its files as pictures, beside them."""
    place = folder / kind
    for name, every in pages.items():
        for number, page in enumerate(every, 1):
            (place / _page_name(name, number)).write_bytes(page)
    building = place / f".{_PAGES}"
    building.write_text(json.dumps({name: len(every) for name, every in pages.items()}), "utf-8")
    building.replace(place / _PAGES)


def _page_name(name: str, number: int) -> str:
    return f"{name}.{number}.png"


def gone() -> EvencastError:
    """What is said of a paper that is not there."""
    return EvencastError(
        "this paper is not there, or no longer",
        where="hand-outs",
        remedy="Go back to the hand-outs of the plan, or the reference of the kit, and make it "
        "again.",
    )
