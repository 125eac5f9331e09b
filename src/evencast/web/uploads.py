"""What is sent here is what it says it is, or it is not taken.

A file of a kind that this program knows must be of that kind; what it does not know is kept as
bytes and only ever handed out as a download.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePosixPath

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.media.apart import frame_apart
from evencast.store.library.kinds import entry_of

PHOTOGRAPHS = frozenset((".png", ".jpg", ".jpeg", ".tif", ".tiff"))
KNOWN = PHOTOGRAPHS | {".toml", ".csv", ".spdx", ".ies", ".ldt", ".gdtf", ".exr"}
XML = frozenset((".spdx",))
SMALL_PX = 64


def check_uploads(files: Mapping[str, bytes], *, where: str) -> None:
    """Raises DocumentErrors with every file that is not what its ending says."""
    problems = [
        Problem("error", name, fault.what, fault.remedy)
        for name, content in files.items()
        if (fault := _fault(name, content)) is not None
    ]
    if problems:
        raise DocumentErrors(where, problems)


def _fault(name: str, content: bytes) -> EvencastError | None:
    ending = PurePosixPath(name).suffix.casefold()
    try:
        if ending in PHOTOGRAPHS:
            frame_apart(content, where=name, widest_px=SMALL_PX)
        elif ending in XML and b"<!doctype" in content.lower():
            raise EvencastError(
                "holds a DOCTYPE, which can make a few bytes into very many",
                where=name,
                remedy="Export the spectrum again without it, or as CSV.",
            )
        elif ending in KNOWN and ending != ".toml" and entry_of(name, content).kind == "other":
            raise EvencastError(
                f"is no {ending} file inside",
                where=name,
                remedy="Check that it is the right file, and that it is whole.",
            )
        elif ending == ".toml":
            content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return EvencastError(
            "is not text in UTF-8", where=name, remedy="Save it as UTF-8 text, and send it again."
        )
    except EvencastError as error:
        return error
    return None
