"""From text to plain values, and what to say where the text is not TOML.

The standard library's parser decides what a document says; tomlkit only rewrites. Its
messages are put into plain words, since a person who has never heard of TOML reads them.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from functools import lru_cache
from typing import Any

from evencast.errors import Problem
from evencast.plan.digits import Written
from evencast.plan.place import printable

BYTE_ORDER_MARK = "\ufeff"
LATEST_TEXTS = 16
"""Documents that are remembered as they were read: one change of a plan reads a text often."""

_AT = re.compile(r"\(at line (\d+), column (\d+)\)")

_FAULTS: tuple[tuple[str, str, str], ...] = (
    # part of the parser's message, what is wrong, what would be accepted
    ("twice", "a heading is written twice", "Keep one of them, or double its brackets."),
    ("overwrite", "a key is written twice", "Keep one of the two."),
    ("duplicate", "a key is written twice", "Keep one of the two."),
    ("redefine", "a table is written in two places", "Write all of it in one place."),
    ("mutate", "a table written in { } is added to", "Write all of it inside the braces."),
    ("expected '='", 'a key without "="', 'Write key = value, as in name = "kitchen".'),
    ("table declaration", "a heading without its closing bracket", "Write [camera] or [[light]]."),
    ("array declaration", "a heading without its closing brackets", "Write [[light]]."),
    ("unclosed array", "a list that is not closed", 'Close it, as in moves = ["filter", "dim"].'),
    (
        "key part",
        "a key that does not begin with a letter, or braces not closed on their line",
        "Write key = value, each on one line, as in aim = { mired = 30, duv = 0.001 }.",
    ),
    (
        "inline table",
        "a table in { } that is not closed on its line",
        "Close it, as in aim = { mired = 30, duv = 0.001 }.",
    ),
    ("'\\n'", "text without its closing quote", 'Close it, as in name = "kitchen".'),
    ("unterminated", "text without its closing quote", 'Close it, as in name = "kitchen".'),
    (
        "escape",
        "a backslash that means nothing",
        "Put the text in single quotes, or write each backslash twice.",
    ),
    (
        "hex value",
        "a backslash that means nothing",
        "Put the text in single quotes, or write each backslash twice.",
    ),
    ("date", "no such date or time", "Write year-month-day, as in 2031-05-04."),
    (
        "newline or end of document",
        "something after the value",
        "Write one key to a line, a decimal point and no comma in numbers, no zero in front, "
        "and # before a remark.",
    ),
    ("illegal character", "a character that may not stand here", "Delete or retype it."),
    ("invalid character", "a character that may not stand here", "Delete or retype it."),
    ("invalid statement", "neither a key, a heading nor a remark", "Put # before a remark."),
    (
        "invalid value (at end of document)",
        "a list or value that is not finished",
        'Finish it, as in moves = ["filter", "dim"].',
    ),
    (
        "invalid value",
        "a value that is neither text, number nor list",
        'Put text in quotes, as in name = "kitchen"; write true and false in small letters.',
    ),
)
_OTHER = ("this cannot be read", 'Write key = value, as in name = "kitchen".')


def split_mark(text: str) -> tuple[str, str]:
    """The byte order mark a text begins with, or "", and the rest."""
    if text.startswith(BYTE_ORDER_MARK):
        return BYTE_ORDER_MARK, text.removeprefix(BYTE_ORDER_MARK)
    return "", text


def parsed(text: str, *, where: str) -> dict[str, Any] | Problem:
    """What a document says, numbers with a decimal point as `Written`; or why it cannot be read.

    Returns  values that are shared with whoever reads the same text: to be looked at only
    """
    found = _parsed(split_mark(text)[1])
    return replace(found, where=where + found.where) if isinstance(found, Problem) else found


@lru_cache(LATEST_TEXTS)
def _parsed(body: str) -> dict[str, Any] | Problem:
    """As `parsed`; places go behind the document's name."""
    try:
        return tomllib.loads(body, parse_float=Written)
    except tomllib.TOMLDecodeError as error:
        return _unreadable(body, str(error))
    except RecursionError:
        return Problem(
            "error",
            "",
            "lists or tables are nested too deep to be read",
            "Write them a few levels deep at most.",
        )
    except ValueError:
        return Problem(
            "error",
            "",
            "a number is thousands of digits long",
            "Write a number a person would write.",
        )


def _unreadable(body: str, message: str) -> Problem:
    """The parser's message in plain words, with the line it stopped at."""
    lines = body.replace("\r\n", "\n").rstrip().split("\n")
    found = _AT.search(message)
    line, column = (int(found[1]), int(found[2])) if found else (len(lines), len(lines[-1]) + 1)
    wrong, remedy = next(
        ((wrong, remedy) for part, wrong, remedy in _FAULTS if part in message.casefold()), _OTHER
    )
    shown = printable(lines[line - 1]) if line <= len(lines) else ""
    return Problem(
        "error",
        f", line {line}, column {column}",
        f"{wrong}: {shown}" if shown else wrong,
        remedy,
    )
