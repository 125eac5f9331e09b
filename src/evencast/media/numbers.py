"""The numbers of a photometric file, one after another, however its lines are broken."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np

from evencast.quantities import Floats
from evencast.spectra.samples import fail, number, shown

EXPORT = "Export the file again from where it came."
MOST_CHARACTERS = 16_000_000
FARTHEST_DEG = 360.0
CLOSEST_DEG = 1e-4
"""No goniometer tells angles apart that are closer."""


def text_of(content: bytes | str, *, where: str) -> str:
    """The text of a file: UTF-8, else Latin-1, which older programs write.

    Raises  EvencastError where it is larger than any photometric file
    """
    if len(content) > MOST_CHARACTERS:
        fail(
            f"is larger than {MOST_CHARACTERS // 1_000_000} MB",
            where,
            "Photometric files are far smaller: check that this is the right file.",
        )
    if isinstance(content, str):
        return content.removeprefix("\ufeff")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")


class Numbers:
    """Takes numbers off a text in turn and knows the line of each."""

    def __init__(
        self, lines: Sequence[str], *, first_line: int, where: str, separators: str = r"[\s,]+"
    ) -> None:
        """first_line : number of the first of the lines; separators : pattern between numbers"""
        self.where = where
        self.texts: list[str] = []
        self.lines: list[int] = []
        between = re.compile(separators)
        for at, line in enumerate(lines, first_line):
            pieces = [piece for piece in between.split(line) if piece]
            self.texts += pieces
            self.lines += [at] * len(pieces)
        self.next = 0
        self.last_line = first_line + max(len(lines) - 1, 0)

    @property
    def left(self) -> int:
        """How many numbers have not been taken."""
        return len(self.texts) - self.next

    def place(self, at: int) -> str:
        """Where a number stands, for errors; of one beyond the end, the last line."""
        line = self.lines[at] if at < len(self.lines) else self.last_line
        return f"{self.where}, line {line}"

    def take(self, count: int, what: str) -> Floats:
        """The next numbers. [(count,)]

        what : what they are, in the plural
        Raises  EvencastError where the file ends before, or something else stands there
        """
        if count > self.left:
            fail(
                f"the file ends too soon: {count} {what} belong here, {self.left} numbers are left",
                self.place(len(self.texts)),
                "Get the whole file again: it is cut short, or its counts are wrong.",
            )
        start, self.next = self.next, self.next + count
        return np.array([self._value(at, what) for at in range(start, self.next)], dtype=float)

    def one(self, what: str) -> float:
        """The next number; `what` in the plural."""
        return float(self.take(1, what)[0])

    def count(self, what: str, *, least: int) -> int:
        """The next number, which says how many of something follow."""
        at, value = self.next, self.one(what)
        if value != int(value) or value < least:
            fail(
                f'"{shown(self.texts[at])}" is no count of {what}',
                self.place(at),
                f"A whole number, {least} or more, belongs here. {EXPORT}",
            )
        return int(value)

    def rising(self, count: int, what: str) -> Floats:
        """The next numbers, angles in degrees, which must rise. [(count,)]"""
        start, values = self.next, self.take(count, what)
        wrong = np.flatnonzero(np.diff(values) < CLOSEST_DEG)
        if len(wrong):
            at = int(wrong[0])
            fail(
                f"the {what} do not rise: {values[at + 1]:g} after {values[at]:g}",
                self.place(start + at + 1),
                f"Each must be {CLOSEST_DEG:g} degrees above the one before, or more. {EXPORT}",
            )
        beyond = np.flatnonzero(np.abs(values) > FARTHEST_DEG)
        if len(beyond):
            at = int(beyond[0])
            fail(
                f"{values[at]:g} among the {what} is beyond {FARTHEST_DEG:g} degrees",
                self.place(start + at),
                EXPORT,
            )
        return values

    def check_end(self) -> None:
        """Raise an EvencastError where anything is left."""
        if self.left:
            fail(
                f'"{shown(self.texts[self.next])}" and {self.left - 1} more stand after the last '
                "candela",
                self.place(self.next),
                "The counts of angles do not fit the file, or a decimal comma split numbers in "
                f"two. {EXPORT}",
            )

    def _value(self, at: int, what: str) -> float:
        value = number(self.texts[at])
        if value is None:
            fail(
                f'"{shown(self.texts[at])}" is no number; it stands among the {what}',
                self.place(at),
                f"Numbers with a decimal point belong here. {EXPORT}",
            )
        return value
