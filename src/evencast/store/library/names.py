"""Names that every laptop and phone can hold: of bundles, and of documents inside them."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable

from evencast.errors import EvencastError

LONGEST_NAME = 180
LONGEST_PART = 100
MOST_PARTS = 8
LONGEST_BUNDLE = 60

_RESERVED = (
    {"con", "prn", "aux", "nul", "conin$", "conout$"}
    | {f"com{digit}" for digit in "0123456789¹²³"}
    | {f"lpt{digit}" for digit in "0123456789¹²³"}
)
_SIGNS = '<>:"|?*\\'
_UNSEEN = {"Cc", "Cs", "Cn", "Zl", "Zp"}
_TURNING = set("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")
"""Characters that turn the direction of writing, and can so disguise an ending."""


def document_name(text: str) -> str:
    """The name of a document inside its bundle, accents put together.

    text : relative, with forward slashes
    Raises  EvencastError where it is no such name on every system
    """
    name = unicodedata.normalize("NFC", text)
    parts = name.split("/")
    if name.startswith("/"):
        _refuse(text, "is an absolute path", "Name it from inside its bundle, without a / first.")
    if any(part in ("", ".", "..") for part in parts):
        _refuse(
            text,
            'has an empty part, "." or ".." in it',
            "A name leads down inside its bundle only, such as kit.toml or spectra/lamp.csv.",
        )
    if len(name) > LONGEST_NAME or len(parts) > MOST_PARTS:
        _refuse(
            text,
            f"is longer than {LONGEST_NAME} characters or more than {MOST_PARTS} folders deep",
            "Shorten it.",
        )
    for part in parts:
        _check_part(text, part)
    return name


def bundle_name(text: str) -> str:
    """The name of a bundle, which is one of a folder; white space around it goes.

    Raises  EvencastError where it is no such name on every system
    """
    name = unicodedata.normalize("NFC", text).strip()
    if not name or name in (".", ".."):
        _refuse(text, "is no name of a bundle", "Give it one, such as night bindery.")
    if "/" in name:
        _refuse(text, "holds a /", "A bundle is one folder: name it without / and \\.")
    if len(name) > LONGEST_BUNDLE:
        _refuse(text, f"is longer than {LONGEST_BUNDLE} characters", "Shorten it.")
    _check_part(text, name)
    return name


def line_of_text(text: str, *, what: str, longest: int) -> str:
    """A remark or a person's name as one line.

    what : what it is, for errors
    Raises  EvencastError where it is too long or holds what no line of text does
    """
    line = " ".join(text.split())
    if len(line) > longest:
        _refuse(what, f"is longer than {longest} characters", "Shorten it.")
    if any(unicodedata.category(each) in {"Cc", "Cs"} for each in line):
        _refuse(what, "holds control characters", "Write it without them.")
    return line


def folded(name: str) -> str:
    """Equal for names that one folder of Windows or a Mac cannot hold beside each other."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())


def clash(name: str, others: Iterable[str]) -> str | None:
    """That of the other names which cannot lie in one folder beside this; None where all can.

    Two names clash where they or folders of theirs differ in case only, or where one is the
    folder that the other lies in.
    """
    own = _way(name)
    for other in others:
        if other == name:
            continue
        for (mine, is_mine_whole), (theirs, is_theirs_whole) in zip(own, _way(other), strict=False):
            if folded(mine) != folded(theirs):
                break
            if mine != theirs or is_mine_whole or is_theirs_whole:
                return other
    return None


def _way(name: str) -> list[tuple[str, bool]]:
    """Each folder on the way, then the name itself, which is whole."""
    parts = name.split("/")
    return [(part, place == len(parts) - 1) for place, part in enumerate(parts)]


def check_clash(name: str, others: Collection[str]) -> None:
    """Raises EvencastError where `clash` finds one."""
    other = clash(name, others)
    if other is not None:
        _refuse(
            name,
            f'cannot lie beside "{other}": to some systems they are the same place',
            "Choose a name that differs in more than case, and is no folder of another.",
        )


def _check_part(text: str, part: str) -> None:
    if len(part) > LONGEST_PART or len(part.encode("utf-8", "replace")) > 240:
        _refuse(text, f"has a part longer than {LONGEST_PART} characters", "Shorten it.")
    if any(unicodedata.category(each) in _UNSEEN or each in _TURNING for each in part):
        _refuse(text, "holds control characters or unknown ones", "Write it without them.")
    bad = sorted(set(part) & set(_SIGNS))
    if bad:
        _refuse(
            text,
            f"holds {' '.join(bad)}, which not every system allows",
            "Use letters, digits, spaces, - and _; folders are parted by /.",
        )
    if part[0] == " " or part[-1] in " .":
        _refuse(
            text,
            "begins with a space or ends with a space or a dot",
            "Windows drops those: write it without them.",
        )
    if part.split(".")[0].rstrip().casefold() in _RESERVED:
        _refuse(
            text,
            f'"{part}" is reserved: on Windows it means a device',
            "Choose another, such as my-" + part,
        )


def _refuse(where: str, what: str, remedy: str) -> None:
    raise EvencastError(what, where=where, remedy=remedy)
