"""Texts made fit for paper: no character without a shape, no word that does not break.

A name may hold anything. What the packaged fonts cannot show is printed as its code point,
`[U+1F3AC]`, and told; what has no shape and only steers (controls, overrides of the writing
direction) is left out.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

import numpy as np

from evencast.quantities import Floats
from evencast.tables import read

LONGEST_WORD = 24
"""Letters after which a word may break anywhere: the width of a narrow column in large type."""

BREAK = "\u200b"
"""Zero-width space: a place where a line may end."""

_KEPT = "\n\u200c\u200d"
"""Controls that lines and words are made of: line feed and the joiners."""

_LEFT_TO_RIGHT = "\u200e"

_RTL = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff]"
_RTL_RUN = re.compile(f"{_RTL}(?:[^A-Za-z0-9]*{_RTL})*")


def has_shape(character: str) -> bool:
    """Whether the packaged fonts can show it."""
    ranges = _coverage()
    place = int(np.searchsorted(ranges[:, 0], ord(character), side="right")) - 1
    return place >= 0 and ord(character) <= ranges[place, 1]


def printable(text: str) -> tuple[str, list[str]]:
    """A text that can be printed, and the characters of it that have no shape here.

    Returns the text with these as code points, with long words made breakable, and with
            right-to-left names closed off, so that a number after one stays after it
    """
    if text.isascii():
        return breakable("".join(each for each in text if not _steers(each))), []
    kept = [each for each in unicodedata.normalize("NFC", text) if not _steers(each)]
    missing = {each: None for each in kept if each != "\n" and not has_shape(each)}
    shown = "".join(code_point(each) if each in missing else each for each in kept)
    closed = _RTL_RUN.sub(lambda run: run.group() + _LEFT_TO_RIGHT, shown)
    return breakable(closed), list(missing)


def plain(text: str) -> str:
    """A text in which everything but Latin, Greek and Cyrillic stands as its code point: the
    last resort where the shapes of a script do not come together."""
    return "".join(each if ord(each) < 0x530 else code_point(each) for each in text)


def code_point(character: str) -> str:
    """A character by its number: "[U+1F3AC]"."""
    return f"[U+{ord(character):04X}]"


def breakable(text: str) -> str:
    """The text with places to break in every word longer than a narrow column."""
    return " ".join(_broken(word) for word in text.split(" "))


def every_text(said: Any, change: Callable[[str], str]) -> Any:
    """A content with `change` applied to each of its texts.

    said : dataclasses, dictionaries, lists, texts, numbers, None; pictures, which are texts
           that begin with "<svg", stay as they are
    """
    if isinstance(said, str):
        return said if said.startswith("<svg") else change(said)
    if is_dataclass(said) and not isinstance(said, type):
        return {each.name: every_text(getattr(said, each.name), change) for each in fields(said)}
    if isinstance(said, dict):
        return {key: every_text(value, change) for key, value in said.items()}
    if isinstance(said, list | tuple):
        return [every_text(each, change) for each in said]
    return said


def _broken(word: str) -> str:
    if len(word) <= LONGEST_WORD:
        return word
    cuts = [at for at in range(0, len(word), LONGEST_WORD // 2) if _may_break(word, at)]
    return BREAK.join(word[at:end] for at, end in zip(cuts, [*cuts[1:], len(word)], strict=True))


def _may_break(word: str, at: int) -> bool:
    """Whether a letter begins there, and not a mark on the letter before."""
    return at == 0 or not unicodedata.category(word[at]).startswith("M")


def _steers(character: str) -> bool:
    """Whether it has no shape by nature: control, format character or half of a pair."""
    return unicodedata.category(character) in ("Cc", "Cf", "Cs") and character not in _KEPT


@cache
def _coverage() -> Floats:
    return read("font_coverage").values
