"""Spoils texts: cuts, doublings, hostile numbers and tokens, the same ones for the same seed."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from random import Random

HOSTILE = (
    *("", "0", "-0", "-1", "1e999", "-1e999", "1e-999", "1e308", "5e-324", "nan", "NaN", "inf"),
    *(
        "INF",
        "-Infinity",
        "9" * 400,
        "0." + "0" * 400 + "1",
        "0x1F",
        "1_0",
        "٣",
        "½",
        "\uff11",
        "e5",
    ),
    *(".", ",", "+", "-", "--1", "1e", "1,000", "1.000,5", "50%", "%", "%%", "#", '"', "'", "''"),
    *("\0", "\ufeff", "\u2028", "\x1b[2J", "\x85", "\t", " ", "\n", "\r\n", "\r", "\xa0", "\u202e"),
    *("ﬀ", "İ", "ß", "e\u0301", "😀", "\\", "/", "{", "}", "[", "]", "<", ">", "&", ";", "=", "$"),
)
_NUMBER = re.compile(r"[-+]?\d[\d.]*")

Edit = Callable[[str, Random, Sequence[str]], str]


def _slice(text: str, draw: Random, longest: int = 30) -> tuple[int, int]:
    start = draw.randint(0, len(text))
    return start, min(len(text), start + draw.randint(0, longest))


def _cut(text: str, draw: Random, _: Sequence[str]) -> str:
    start, end = _slice(text, draw)
    return text[:start] + text[end:]


def _cut_short(text: str, draw: Random, _: Sequence[str]) -> str:
    return text[: draw.randint(0, len(text))]


def _double(text: str, draw: Random, _: Sequence[str]) -> str:
    start, end = _slice(text, draw)
    return text[:end] + text[start:end] + text[end:]


def _move(text: str, draw: Random, _: Sequence[str]) -> str:
    start, end = _slice(text, draw, 80)
    piece, rest = text[start:end], text[:start] + text[end:]
    at = draw.randint(0, len(rest))
    return rest[:at] + piece + rest[at:]


def _insert(text: str, draw: Random, tokens: Sequence[str]) -> str:
    at = draw.randint(0, len(text))
    return text[:at] + draw.choice(tokens) + text[at:]


def _repeat(text: str, draw: Random, tokens: Sequence[str]) -> str:
    at = draw.randint(0, len(text))
    return text[:at] + draw.choice(tokens)[:9] * draw.choice((2, 20, 300)) + text[at:]


def _replace(text: str, draw: Random, tokens: Sequence[str]) -> str:
    start, end = _slice(text, draw, 8)
    return text[:start] + draw.choice(tokens) + text[end:]


def _letter(text: str, draw: Random, _: Sequence[str]) -> str:
    at = draw.randint(0, len(text))
    return (
        text[:at]
        + chr(draw.choice((draw.randint(1, 127), draw.randint(1, 0xD7FF))))
        + text[at + 1 :]
    )


def _number(text: str, draw: Random, _: Sequence[str]) -> str:
    found = list(_NUMBER.finditer(text))
    if not found:
        return text
    hit = draw.choice(found)
    number = draw.choice((draw.choice(HOSTILE), repr(draw.gauss(0, 10 ** draw.uniform(-9, 9)))))
    return text[: hit.start()] + number + text[hit.end() :]


def _digit(text: str, draw: Random, _: Sequence[str]) -> str:
    at = [place for place, letter in enumerate(text) if letter in "0123456789"]
    if not at:
        return text
    here = draw.choice(at)
    return text[:here] + draw.choice("0123456789") + text[here + 1 :]


EDITS: tuple[Edit, ...] = (
    *(
        _cut,
        _cut_short,
        _double,
        _move,
        _insert,
        _repeat,
        _replace,
        _letter,
        _number,
        _digit,
        _digit,
        _digit,
    ),
)


def spoiled(samples: Sequence[str], tokens: Sequence[str], seed: str) -> str:
    """One of the samples after one to four edits.

    tokens : pieces that mean something to the reader; hostile ones are added
    """
    draw = Random(seed)
    text, every = draw.choice(samples), (*tokens, *HOSTILE)
    for _ in range(draw.choice((1, 1, 1, 1, 2, 3, 4))):
        text = draw.choice(EDITS)(text, draw, every)
    return text
