"""Photometric files after IES LM-63: 1986, 1991, 1995, 2002 and 2019.

Source  ANSI/IESNA LM-63-02 and the earlier editions as publicly described (I. Ashdown, "Parsing
        the IESNA LM-63 photometric data file", 1998); what 2019 changed from public descriptions
        only, unchecked against the standard: its first line, the "file generation type" in the
        place of the second factor, and no tilt tables in other files.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from evencast.media.numbers import EXPORT, Numbers, text_of
from evencast.media.photometry import (
    SAME_DEG,
    Opening,
    Photometry,
    Symmetry,
    Tilt,
    all_round,
    scaled,
)
from evencast.quantities import Floats
from evencast.spectra.samples import fail, shown

METRES_PER_FOOT = 0.3048
EDITIONS = (1986, 1991, 1995, 2002, 2019)
_FACTOR_COUNTS_UNTIL = 1991
"""Until then the second factor is the ballast's on the lamp; then it is kept for later use."""

_TILT = re.compile(r"\s*TILT\s*=\s*(.*?)\s*", re.IGNORECASE)
_EDITION = re.compile(r"\s*IES(?:NA)?\s*:?\s*(?:LM-?63-?)?(\d{4}|\d{2})\s*", re.IGNORECASE)
_KEYWORD = re.compile(r"\s*\[\s*([^\]]{1,60}?)\s*\]\s*(.*?)\s*")
_TYPES = {2: "B", 3: "A"}
_NO_EDITION: tuple[str, ...] = ("no first line names the edition, read after LM-63-1986",)
_NAMES = ("LUMINAIRE", "LUMCAT", "LAMP")


@dataclass(frozen=True, slots=True)
class _Head:
    """What stands above the numbers."""

    edition: int
    name: str
    tilt: str
    keywords: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]


def parse_lm63(content: bytes | str, *, where: str) -> Photometry:
    """What a file after IES LM-63 says.

    Only type C photometry is read. Candelas include the multiplier and the ballast factor, and
    until 1991 the ballast-lamp factor; they leave the tilt table out.

    where : name of the file, for errors
    Raises  EvencastError that names the line and what would be accepted
    """
    lines = re.split(r"\r\n|\n|\r", text_of(content, where=where))
    at = next((at for at, line in enumerate(lines) if _TILT.fullmatch(line)), None)
    if at is None:
        fail(
            "has no line TILT=NONE or TILT=INCLUDE: is no photometric file after IES LM-63",
            where,
            "Give a file in IES LM-63 (.ies).",
        )
    head = _head(lines[:at], lines[at])
    while len(lines) > at + 1 and not lines[-1].strip(" \t\x00\x1a"):
        lines.pop()
    lines[-1] = lines[-1].rstrip(" \t\x00\x1a")
    numbers = Numbers(lines[at + 1 :], first_line=at + 2, where=where)
    return _light(head, numbers, _tilt(head, numbers, at + 1))


def _head(lines: list[str], tilt_line: str) -> _Head:
    found = _TILT.fullmatch(tilt_line)
    written = [line for line in lines if line.strip()]
    edition = _EDITION.fullmatch(written[0]) if written else None
    year, remarks = EDITIONS[0], _NO_EDITION
    if edition:
        year, remarks = _edition(int(edition.group(1)))
        written = written[1:]
    keywords, labels = _keywords(written)
    named = dict(reversed(keywords))
    name = next((named[key] for key in _NAMES if named.get(key)), labels[0] if labels else "")
    return _Head(year, name, found.group(1) if found else "", keywords, remarks)


def _edition(year: int) -> tuple[int, tuple[str, ...]]:
    """The edition that rules a year, and what to say of it."""
    if year < 100:
        year += 1900 if year > 80 else 2000
    ruling = max((each for each in EDITIONS if each <= year), default=EDITIONS[0])
    if ruling == year:
        return ruling, ()
    return ruling, (f"names an edition of {year}, read after LM-63-{ruling}",)


def _keywords(lines: list[str]) -> tuple[tuple[tuple[str, str], ...], list[str]]:
    """Keywords with their texts, and lines that have none; MORE carries the one before on."""
    keywords: list[tuple[str, str]] = []
    labels = []
    for line in lines:
        found = _KEYWORD.fullmatch(line)
        if not found:
            labels.append(shown(line, most=80))
            continue
        key, text = shown(found.group(1).upper()), shown(found.group(2), most=256)
        if key == "MORE" and keywords:
            before, said = keywords[-1]
            keywords[-1] = (before, f"{said} {text}".strip())
        else:
            keywords.append((key, text))
    return tuple(keywords), labels


def _tilt(head: _Head, numbers: Numbers, line: int) -> Tilt | None:
    said = head.tilt.strip('"').upper()
    if said == "NONE":
        return None
    if said != "INCLUDE":
        fail(
            f'the tilt table is in another file, "{shown(head.tilt)}", which is not read',
            f"{numbers.where}, line {line}",
            "Put the table in after TILT=INCLUDE, or write TILT=NONE if the lamp gives the same "
            "light at any tilt.",
        )
    at, lamp = numbers.next, numbers.one("kinds of lamp position")
    if lamp not in (1, 2, 3):
        fail(
            f'"{shown(numbers.texts[at])}" is no lamp position',
            numbers.place(at),
            "Give 1 (upright), 2 (level) or 3 (level, tilting along).",
        )
    pairs = numbers.count("tilt angles", least=1)
    angles = numbers.rising(pairs, "tilt angles")
    at, factors = numbers.next, numbers.take(pairs, "tilt factors")
    for place, factor in enumerate(factors):
        if not 0 <= factor <= 100:
            fail(
                f"{factor:g} is no tilt factor",
                numbers.place(at + place),
                "Give the light at that tilt as a share of the light at 0, such as 0.95.",
            )
    return Tilt(int(lamp), angles, factors)


def _light(head: _Head, numbers: Numbers, tilt: Tilt | None) -> Photometry:
    """The thirteen numbers of the light, its angles and its candelas."""
    lamps = numbers.count("lamps", least=1)
    lumens, said_lumens = _lumens(numbers)
    multiplier = _factor(numbers, "candela multipliers")
    count_v = numbers.count("vertical angles", least=2)
    count_h = numbers.count("horizontal angles", least=1)
    _check_type(numbers)
    opening = _opening(numbers)
    ballast = _factor(numbers, "ballast factors")
    second, said_second = _second_factor(head.edition, numbers)
    input_w = _input_w(numbers)
    expected = float(count_v) + count_h + float(count_v) * count_h
    if expected > numbers.left:
        fail(
            f"the file ends too soon: {count_v:.10g} vertical and {count_h:.10g} horizontal angles "
            f"and their candelas make {expected:.10g} numbers, {numbers.left} are left",
            numbers.place(len(numbers.texts)),
            "Get the whole file again: it is cut short, or its counts are wrong.",
        )
    vertical = _vertical(numbers, count_v)
    planes, symmetry, said_planes = _planes(numbers, count_h)
    candelas = numbers.take(count_v * count_h, "candelas").reshape(count_h, count_v)
    numbers.check_end()
    candelas = scaled(candelas, multiplier * ballast * second, where=numbers.where)
    horizontal, candelas = all_round(planes, candelas, symmetry)
    return Photometry(
        standard=f"IES LM-63-{head.edition}",
        name=head.name,
        vertical_deg=vertical,
        horizontal_deg=horizontal,
        candelas=candelas,
        symmetry=symmetry,
        lamps=lamps,
        lumens_per_lamp=lumens,
        input_w=input_w,
        opening=opening,
        tilt=tilt,
        keywords=head.keywords,
        remarks=(*head.remarks, *said_lumens, *said_second, *_ends(vertical), *said_planes),
    )


def _lumens(numbers: Numbers) -> tuple[float | None, tuple[str, ...]]:
    at, lumens = numbers.next, numbers.one("lumens per lamp")
    if lumens == -1:
        return None, ("absolute photometry",)
    if lumens == 0:
        return None, ("lumens per lamp are 0, taken as not given",)
    if lumens < 0:
        fail(
            f"{lumens:g} lumens per lamp are less than none",
            numbers.place(at),
            "Give the lumens of one lamp, or -1 for absolute photometry.",
        )
    return lumens, ()


def _factor(numbers: Numbers, what: str) -> float:
    at, value = numbers.next, numbers.one(what)
    if not 0 < value <= 1e9:
        fail(
            f"{value:g} is none of the {what}",
            numbers.place(at),
            "Give a factor above 0; 1 leaves the candelas as they are.",
        )
    return value


def _second_factor(edition: int, numbers: Numbers) -> tuple[float, tuple[str, ...]]:
    """The number after the ballast factor: what to multiply with, and what to say of it."""
    if edition <= _FACTOR_COUNTS_UNTIL:
        return _factor(numbers, "ballast-lamp factors"), ()
    value = numbers.one("file generation types" if edition >= 2019 else "numbers for later use")
    if edition >= 2019:
        return 1.0, (f"file generation type {value:.5f}",)
    if value == 1:
        return 1.0, ()
    return 1.0, (f"a factor of {value:g} stands where LM-63-{edition} has none: left out",)


def _input_w(numbers: Numbers) -> float | None:
    at, value = numbers.next, numbers.one("input watts")
    if value < 0:
        fail(
            f"{value:g} W is less than none",
            numbers.place(at),
            "Give the watts that the light draws, or 0 where they are not known.",
        )
    return value or None


def _check_type(numbers: Numbers) -> None:
    at, kind = numbers.next, numbers.one("photometric types")
    if kind == 1:
        return
    if kind in _TYPES:
        fail(
            f"its angles are of type {_TYPES[int(kind)]}, and only type C is read",
            numbers.place(at),
            "Ask for the file in type C, or convert it.",
        )
    fail(
        f'"{shown(numbers.texts[at])}" is no photometric type',
        numbers.place(at),
        f"1 (type C) belongs here. {EXPORT}",
    )


def _opening(numbers: Numbers) -> Opening:
    """Width, length and height in metres; a round opening has a width or length below 0."""
    at, units = numbers.next, numbers.one("kinds of units")
    if units not in (1, 2):
        fail(
            f'"{shown(numbers.texts[at])}" is no kind of units',
            numbers.place(at),
            "Give 1 for feet or 2 for metres.",
        )
    start, sizes = numbers.next, numbers.take(3, "sizes of the opening")
    sizes = sizes * (METRES_PER_FOOT if units == 1 else 1.0)
    for place, size in enumerate(sizes):
        if abs(size) > 1000:
            fail(
                f"an opening of {abs(size):g} m is larger than any light",
                numbers.place(start + place),
                "Give its width, length and height in feet (units 1) or metres (units 2).",
            )
    width, length, height = (float(each) for each in np.abs(sizes))
    return Opening(width, length, height, is_round=bool((sizes[:2] < 0).any()))


def _vertical(numbers: Numbers, count: int) -> Floats:
    start, angles = numbers.next, numbers.rising(count, "vertical angles")
    if angles[0] not in (0.0, 90.0):
        fail(
            f"the vertical angles begin at {angles[0]:g}",
            numbers.place(start),
            f"In type C they begin at 0 (straight down) or at 90. {EXPORT}",
        )
    if angles[-1] > 180:
        fail(
            f"the vertical angles go to {angles[-1]:g}",
            numbers.place(start + count - 1),
            f"In type C they end at 180 (straight up) at the latest. {EXPORT}",
        )
    return angles


def _ends(vertical: Floats) -> tuple[str, ...]:
    if vertical[-1] in (90.0, 180.0):
        return ()
    return (f"the vertical angles end at {vertical[-1]:g}, beyond which it is taken as dark",)


def _planes(numbers: Numbers, count: int) -> tuple[Floats, Symmetry, tuple[str, ...]]:
    """Horizontal angles, the symmetry they stand for, and what to say of them."""
    start, angles = numbers.next, numbers.rising(count, "horizontal angles")
    first, last = float(angles[0]), float(angles[-1])
    if count == 1:
        said = f"one plane, at {first:g}: taken as the same all round"
        return angles, "round", () if first == 0 else (said,)
    for ends, symmetry in _SYMMETRIES.items():
        if abs(first - ends[0]) < SAME_DEG and abs(last - ends[1]) < SAME_DEG:
            return angles, symmetry, ()
    step = float(np.diff(angles).max())
    if first != 0 or last > 360 or 360 - last > 1.5 * step:
        fail(
            f"the horizontal angles run from {first:g} to {last:g}",
            numbers.place(start),
            f"In type C they run from 0 to 0, 90, 180 or 360, or from 90 to 270. {EXPORT}",
        )
    return angles, "none", (f"the last plane is at {last:g}; at 360 it is that of 0 again",)


_SYMMETRIES: dict[tuple[float, float], Symmetry] = {
    (0.0, 90.0): "quarters",
    (0.0, 180.0): "halves about 0-180",
    (90.0, 270.0): "halves about 90-270",
    (0.0, 360.0): "none",
}
