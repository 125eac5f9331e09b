"""A typed line, and what of it has been taken as something."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from evencast.errors import EvencastError
from evencast.results.editing import Ask, Understood

LONGEST_LINE = 500
"""Letters; a light is said in far fewer."""

TAKEN = "\0"
"""Stands for each letter that was taken; no pattern takes it for anything."""

NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
FRACTIONS = {"1/3": 1 / 3, "2/3": 2 / 3, "1/2": 0.5, "1/4": 0.25, "3/4": 0.75}

_SAME = str.maketrans({"×": "x", "–": "-", "—": "-", "−": "-", "′": "'", "’": "'", "″": '"'})
_SAME |= str.maketrans({"“": '"', "”": '"', "„": '"'})
_SIGNS = (("½", " 1/2"), ("⅓", " 1/3"), ("⅔", " 2/3"), ("¼", " 1/4"), ("¾", " 3/4"))
_ENDLESS = re.compile(r"\d{16,}")
_COMMA = re.compile(r"(?<![\w.,])(\d+),(\d+)(?![\d,])")


@dataclass(frozen=True, slots=True)
class Bit:
    """Something that the line says.

    begin : where its words begin in the line
    """

    value: Any
    words: str
    begin: int


@dataclass(slots=True)
class Line:
    """The line while it is read: rules take words out of it one after the other.

    text    : as typed, signs made alike
    left    : the same with `TAKEN` for every letter that was taken
    said    : by what it is: what the line says
    """

    text: str
    left: str
    said: dict[str, Bit] = field(default_factory=dict)
    understood: list[tuple[int, Understood]] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)

    def found(self, pattern: re.Pattern[str]) -> Iterator[re.Match[str]]:
        """What is left of the line and fits a pattern, from left to right; a match is there
        until it is taken."""
        at = 0
        while (match := pattern.search(self.left, at)) is not None:
            yield match
            at = match.start() + 1

    def take(self, match: re.Match[str], taken_as: str) -> str:
        """Takes the words of a match, and notes as what; gives them back."""
        begin, end = match.span()
        words = self.text[begin:end].strip(" ,;")
        self.left = self.left[:begin] + TAKEN * (end - begin) + self.left[end:]
        if taken_as:
            self.understood.append((begin, Understood(words, taken_as)))
        return words

    def say(self, what: str, value: Any, match: re.Match[str], taken_as: str) -> None:
        """Takes the words of a match as the value of something that is said once.

        Raises  EvencastError where the line has said something else about it
        """
        words = self.take(match, taken_as)
        before = self.said.get(what)
        if before is not None and before.value != value:
            raise EvencastError(
                f'it says two things about the {what}: "{before.words}" and "{words}"',
                where="the line",
                remedy="Leave one of them out.",
            )
        if before is None:
            self.said[what] = Bit(value, words, match.start())

    def value(self, what: str) -> Any:
        """What is said about something; None where nothing is."""
        bit = self.said.get(what)
        return None if bit is None else bit.value

    def ask(self, question: str, *accepted: str, instead_of: str = "") -> None:
        """Asks for what has to be said."""
        ask = Ask(question, list(accepted), instead_of)
        if ask not in self.asks:
            self.asks.append(ask)

    def query(self, match: re.Match[str], question: str, *accepted: str) -> None:
        """Takes the words of a match and asks what they mean."""
        words = self.take(match, "")
        self.ask(f'"{words}": {question}', *accepted, instead_of=words)

    def in_order(self) -> list[Understood]:
        """What was understood, in the order of the line."""
        return [each for _, each in sorted(self.understood, key=lambda pair: pair[0])]


def line_of(text: str) -> Line:
    """A line to be read.

    Raises  EvencastError for an empty or endless one, and for commas that may mean two things
    """
    plain = alike(text)
    if not plain:
        raise EvencastError(
            "nothing is written",
            where="the line",
            remedy='Write what it is and how it stands, as in "tungsten 650, 3 m, flood".',
        )
    if len(plain) > LONGEST_LINE:
        raise EvencastError(
            f"{len(plain)} letters are too many for one light",
            where="the line",
            remedy=f"Write at most {LONGEST_LINE}, as in "
            '"north window 3 panes 1.1 x 1.5 m fill 240 lux".',
        )
    endless = _ENDLESS.search(plain)
    if endless is not None:
        raise EvencastError(
            f"{len(endless[0])} digits are too many for one number",
            where="the line",
            remedy="Write a number such as 650 or 0.0065.",
        )
    plain = _COMMA.sub(_decimal, plain)
    return Line(plain, plain)


def alike(text: str) -> str:
    """A text on one line, signs that mean the same made one."""
    for sign, written in _SIGNS:
        text = text.replace(sign, written)
    text = "".join(each if each.isprintable() else " " for each in text.translate(_SAME))
    return " ".join(text.split())


@cache
def any_of(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of some words, the longest first; spaces in them may be several."""
    loose = [
        r"\s+".join(map(re.escape, each.split())) for each in sorted(words, key=len, reverse=True)
    ]
    return re.compile(rf"(?<![\w.-])(?:{'|'.join(loose)})(?![\w-])", re.IGNORECASE)


def number(text: str) -> float | int:
    """The number of such a text; whole numbers without a point are int."""
    return float(text) if "." in text else int(text)


def short(value: float) -> float | int:
    """4300 rather than 4300.0, and no more digits than anybody reads."""
    rounded = round(value, 6)
    return int(rounded) if rounded == int(rounded) else rounded


def _decimal(match: re.Match[str]) -> str:
    """A comma between digits, as a point where it can be nothing else."""
    whole, part = match.groups()
    if whole.strip("0") and (len(part) == 3 or len(whole) > 2):
        apart = f'"{whole}, {part}"'
        other = f'"{whole}{part}"' if len(part) == 3 else apart
        raise EvencastError(
            f'the comma in "{whole},{part}" may mean two things',
            where="the line",
            remedy=f'Write "{whole}.{part}" or {other}.',
        )
    return f"{whole}.{part}"
