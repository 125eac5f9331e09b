"""Photometric files in EULUMDAT (.ldt).

Source  the format as publicly described after A. W. Stockmar (1990), "EULUMDAT - ein
        Leuchtendatenformat für den europäischen Beleuchtungsplaner", Licht '90, 641-644: one value
        a line, candelas per 1000 lumens of the lamps. A number of lamps below 0 for absolute
        photometry is common practice.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evencast.media.numbers import EXPORT, Numbers, text_of
from evencast.media.photometry import (
    SAME_DEG,
    Opening,
    Photometry,
    Symmetry,
    all_round,
    scaled,
)
from evencast.quantities import Floats
from evencast.spectra.samples import fail, number, shown

LINES_BEFORE_LAMPS = 26
LINES_PER_SET = 6
UTILISATION_FACTORS = 10
MOST_SETS = 20
_SYMMETRIES: tuple[Symmetry, ...] = (
    "none",
    "round",
    "halves about 0-180",
    "halves about 90-270",
    "quarters",
)
_KEYWORDS = {1: "COMPANY", 8: "REPORT", 9: "LUMINAIRE", 10: "NUMBER", 11: "FILE", 12: "DATE"}


@dataclass(frozen=True, slots=True)
class _Lines:
    """The lines of a file, counted from 1 as the format does."""

    lines: Sequence[str]
    where: str

    def text(self, line: int, what: str) -> str:
        """One line, without blanks at its ends."""
        if line > len(self.lines):
            fail(
                f"the file ends too soon: line {line}, the {what}, is missing",
                f"{self.where}, line {max(len(self.lines), 1)}",
                "Get the whole file again: it is cut short.",
            )
        return self.lines[line - 1].strip()

    def number(self, line: int, what: str, *, least: float = 0.0, most: float = 1e9) -> float:
        """A number on a line of its own; nothing stands for 0, and a comma for the point."""
        text = self.text(line, what)
        value = number(text.replace(",", ".")) if text else 0.0
        if value is None or not least <= value <= most:
            fail(
                f'"{shown(text)}" is no {what}',
                f"{self.where}, line {line}",
                f"A number from {least:g} to {most:g} belongs here. {EXPORT}",
            )
        return value

    def whole(self, line: int, what: str, *, least: int, most: int) -> int:
        """A whole number on a line of its own."""
        value = self.number(line, what, least=least, most=most)
        if value != int(value):
            fail(
                f'"{shown(self.text(line, what))}" is no {what}',
                f"{self.where}, line {line}",
                f"A whole number from {least} to {most} belongs here. {EXPORT}",
            )
        return int(value)


def parse_eulumdat(content: bytes | str, *, where: str) -> Photometry:
    """What a file in EULUMDAT says. Of several sets of lamps the first one is taken.

    where : name of the file, for errors
    Raises  EvencastError that names the line and what would be accepted
    """
    lines = _Lines(re.split(r"\r\n|\n|\r", text_of(content, where=where)), where)
    symmetry = _SYMMETRIES[lines.whole(3, "symmetry", least=0, most=4)]
    count_c = lines.whole(4, "number of C planes", least=1, most=10_000)
    count_g = lines.whole(6, "number of angles in a plane", least=2, most=10_000)
    factor = lines.number(24, "conversion factor", least=1e-9)
    sets = lines.whole(26, "number of sets of lamps", least=1, most=MOST_SETS)
    lamps = lines.whole(27, "number of lamps", least=-10_000, most=10_000)
    lumens = lines.number(29, "flux of the lamps", least=1e-6)
    watts = lines.number(32, "wattage of the lamps")
    if lamps == 0:
        fail(
            "there are 0 lamps in the first set",
            f"{where}, line 27",
            "Give the number of lamps, below 0 for absolute photometry.",
        )
    start = LINES_BEFORE_LAMPS + LINES_PER_SET * sets
    planes, vertical, candelas = _table(lines, start, symmetry, count_c, count_g)
    candelas = scaled(candelas, factor * lumens / 1000.0, where=where)
    horizontal, candelas = all_round(planes, candelas, symmetry)
    return Photometry(
        standard="EULUMDAT",
        name=shown(lines.text(9, "name"), most=80),
        vertical_deg=vertical,
        horizontal_deg=horizontal,
        candelas=candelas,
        symmetry=symmetry,
        lamps=abs(lamps),
        lumens_per_lamp=None if lamps < 0 else lumens / lamps,
        input_w=watts or None,
        opening=_opening(lines),
        keywords=_keywords(lines),
        remarks=_remarks(lines, sets, lamps, vertical),
    )


def _keywords(lines: _Lines) -> tuple[tuple[str, str], ...]:
    found = [(key, shown(lines.text(at, key.lower()), most=80)) for at, key in _KEYWORDS.items()]
    return tuple((key, text) for key, text in found if text)


def _remarks(lines: _Lines, sets: int, lamps: int, vertical: Floats) -> tuple[str, ...]:
    said = []
    if sets > 1:
        said.append(f"{sets} sets of lamps, the first one taken")
    if lamps < 0:
        said.append("absolute photometry")
    if vertical[-1] not in (90.0, 180.0):
        said.append(f"the angles in a plane end at {vertical[-1]:g}, beyond which it is dark")
    tilt_deg = lines.number(25, "tilt", least=-360, most=360)
    if tilt_deg:
        said.append(f"measured at a tilt of {tilt_deg:g} degrees")
    return tuple(said)


def _opening(lines: _Lines) -> Opening:
    """The luminous area; a width of 0 stands for a round one."""
    length_m, width_m = (lines.number(at, "luminous area", most=1e6) / 1000 for at in (16, 17))
    heights = [lines.number(at, "height of the luminous area", most=1e6) for at in range(18, 22)]
    if width_m == 0 and length_m > 0:
        return Opening(length_m, length_m, max(heights) / 1000, is_round=True)
    return Opening(width_m, length_m, max(heights) / 1000)


def _table(
    lines: _Lines, start: int, symmetry: Symmetry, count_c: int, count_g: int
) -> tuple[Floats, Floats, Floats]:
    """Planes that the file holds, angles in a plane, and its values, not yet in candelas."""
    lines.text(start + UTILISATION_FACTORS, "last utilisation factor")
    rest = list(lines.lines[start:])
    while rest and not rest[-1].strip(" \t\x00\x1a"):
        rest.pop()
    points = [each.replace(",", ".") for each in rest]
    points[-1:] = [each.rstrip(" \t\x00\x1a") for each in points[-1:]]
    numbers = Numbers(points, first_line=start + 1, where=lines.where, separators=r"\s+")
    numbers.take(UTILISATION_FACTORS, "utilisation factors")
    first = numbers.next
    every = numbers.rising(count_c, "C planes")
    planes = _held(every, symmetry, place=numbers.place(first))
    first = numbers.next
    vertical = numbers.rising(count_g, "angles in a plane")
    if vertical[0] not in (0.0, 90.0) or vertical[-1] > 180:
        fail(
            f"the angles in a plane run from {vertical[0]:g} to {vertical[-1]:g}",
            numbers.place(first),
            f"They begin at 0 (straight down) or 90 and end at 180 at the latest. {EXPORT}",
        )
    values = numbers.take(len(planes) * count_g, "luminous intensities")
    numbers.check_end()
    return planes, vertical, values.reshape(len(planes), count_g)


def _held(every: Floats, symmetry: Symmetry, *, place: str) -> Floats:
    """The planes of which the file holds values, in their order; those behind 0 below it."""
    if symmetry == "round":
        return every[:1]
    if symmetry == "none":
        _check_ends(every, (0.0, 360.0 - float(np.diff(every).max(initial=0.0))), every, place)
        return every
    if symmetry == "halves about 90-270":
        signed = np.where(every >= 270 - SAME_DEG, every - 360, every)
        signed = np.sort(signed[(signed >= -90 - SAME_DEG) & (signed <= 90 + SAME_DEG)])
        _check_ends(signed, (-90.0, 90.0), every, place)
        return signed
    last = 90.0 if symmetry == "quarters" else 180.0
    planes = every[every <= last + SAME_DEG]
    _check_ends(planes, (0.0, last), every, place)
    return planes


def _check_ends(planes: Floats, ends: tuple[float, float], every: Floats, place: str) -> None:
    """Raise an EvencastError where planes do not reach to both ends, or there are too few."""
    reach = len(planes) > 1 and planes[0] <= ends[0] + SAME_DEG and planes[-1] >= ends[1] - SAME_DEG
    if not reach or every[-1] > 360 + SAME_DEG:
        fail(
            f"the C planes run from {every[0]:g} to {every[-1]:g}, which does not fit the symmetry",
            place,
            "All C planes from 0 to 360 are listed, also where only a part of their values "
            f"follows, and 0, 90, 180 and 270 among them as the symmetry needs. {EXPORT}",
        )
