"""Names as they may stand in a picture, and how much room they take.

A chart is laid out without a font at hand, so widths come from a table of the typeface that
charts ask for; other scripts are taken a little too wide rather than too narrow.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

ELLIPSIS = "…"

_ASCII = (
    *(281, 278, 403, 631, 638, 812, 639, 222, 362, 362, 500, 659, 280, 460, 276, 357),
    *(650, 650, 650, 650, 650, 650, 650, 650, 650, 650, 276, 280, 659, 659, 659, 507),
    *(936, 676, 651, 727, 719, 598, 587, 743, 740, 264, 543, 652, 562, 889, 753, 761),
    *(635, 761, 639, 638, 642, 741, 676, 949, 642, 665, 625, 362, 357, 362, 469, 452),
    *(497, 564, 621, 558, 621, 582, 361, 609, 591, 237, 237, 544, 237, 869, 585, 597),
    *(609, 609, 372, 523, 364, 581, 557, 812, 540, 557, 541, 362, 327, 362, 659),
)
"""Advance widths from space to tilde, in thousandths of the size, read from the regular cut of
Inter 4.0 (SIL Open Font License); digits as wide as its tabular ones."""
_WIDE, _OTHER = 1050, 800
_SLACK, _BOLD = 1.02, 1.05
_NO_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_DIRECTING = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
_ISOLATE, _END = "\u2068", "\u2069"
_JOINER = "\u200d"


@dataclass(frozen=True, slots=True)
class Fitted:
    """A text broken into lines.

    lines : at least one
    cut   : whether something was left out, so that the whole belongs in a title
    """

    lines: tuple[str, ...]
    cut: bool


def clean(name: str) -> str:
    """A name on one line, without what XML refuses and what would turn the text around it."""
    return " ".join(_DIRECTING.sub("", harmless(name)).split()) or "(no name)"


def harmless(text: str) -> str:
    """A text without what XML refuses."""
    return _NO_XML.sub("\ufffd", text)


def isolated(name: str) -> str:
    """A cleaned name to be put beside other words: one that runs from right to left is kept from
    turning them around."""
    shown = clean(name)
    turns = any(unicodedata.bidirectional(letter) in ("R", "AL", "AN") for letter in shown)
    return f"{_ISOLATE}{shown}{_END}" if turns else shown


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """How wide a text is at most. [px]"""
    thousandths = sum(_width_of_letter(letter) for letter in text)
    return thousandths * size / 1000 * _SLACK * (_BOLD if bold else 1.0)


def fitted(text: str, width: float, size: float, *, most_lines: int = 1) -> Fitted:
    """A text in lines no wider than that, shortened where it takes more lines.

    text : cleaned; isolating marks are kept around each line
    """
    inner = text.strip(_ISOLATE + _END) if text.startswith(_ISOLATE) else text
    lines: list[str] = []
    rest = inner
    while rest and len(lines) < most_lines:
        line, rest = _line(rest, width, size)
        lines.append(line)
    if rest:
        lines[-1] = _shortened(f"{lines[-1]} {rest}", width, size)
    around = (lambda line: f"{_ISOLATE}{line}{_END}") if inner is not text else str
    return Fitted(tuple(around(line) for line in lines), bool(rest))


def _width_of_letter(letter: str) -> int:
    code = ord(letter)
    if 32 <= code < 127:
        return _ASCII[code - 32]
    if letter in "–−×±·′’°…":
        return 700
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me", "Cf"):
        return 0
    if unicodedata.east_asian_width(letter) in "WF":
        return _WIDE
    return 1300 if unicodedata.category(letter) == "So" else _OTHER


def _line(text: str, width: float, size: float) -> tuple[str, str]:
    """As many words as fit, or as much as fits of a word that is too long; and the rest."""
    words = text.split(" ")
    taken = 0
    while taken < len(words) and width_of(" ".join(words[: taken + 1]), size) <= width:
        taken += 1
    if taken:
        return " ".join(words[:taken]), " ".join(words[taken:])
    end = _fits(text, width, size)
    return text[:end], text[end:].lstrip()


def _shortened(text: str, width: float, size: float) -> str:
    end = _fits(text, width - width_of(ELLIPSIS, size), size)
    return text[:end].rstrip() + ELLIPSIS


def _fits(text: str, width: float, size: float) -> int:
    """How many letters fit, at least one with all that belongs to it, none parted from its
    marks."""
    end = _letter_end(text, 0)
    while end < len(text):
        following = _letter_end(text, end)
        if width_of(text[:following], size) > width:
            break
        end = following
    return end


def _letter_end(text: str, start: int) -> int:
    """Where the letter that begins there ends, with its marks and what is joined to it."""
    end = start + 1
    while end < len(text) and (_clings(text[end]) or text[end - 1] == _JOINER):
        end += 1
    return end


def _clings(letter: str) -> bool:
    return unicodedata.category(letter) in ("Mn", "Mc", "Me", "Cf")
