"""Sheets of adhesive labels: how they are described, and where each label lies."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from evencast.errors import EvencastError
from evencast.handouts.sizes import MM_PER_INCH
from evencast.handouts.typeset import Paper

PAPER_MM: Mapping[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}

USUAL: Mapping[Paper, str] = {
    "a4": "63.5 x 38.1 mm, 3 x 7, left 7.2, top 15.1, gap 2.5 x 0",
    "letter": "2.625 x 1 in, 3 x 10, left 0.1875, top 0.5, gap 0.125 x 0",
}
"""Taken where nothing is said."""

FORM = (
    'Write width x height with their unit (mm, cm or in), then how many across x down: "63.5 x '
    '38.1 mm, 3 x 7"; after that, where the sheet needs it and in the same unit, "left 7.2", '
    '"top 15.1" and "gap 2.5 x 0". Left out, the labels lie in the middle of the paper.'
)
LEAST_WIDTH_MM, LEAST_HEIGHT_MM = 25.0, 12.0
"""Room for mark, filter and size in type that can be read."""
SLACK_MM = 0.5
"""Sheets are described to a tenth or a sixteenth of an inch, and may so seem to overhang."""
MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}

_NUMBER = r"(\d{1,6}(?:\.\d{1,6})?)"
_PAIR = rf"{_NUMBER}\s*[x×]\s*{_NUMBER}"
_SIZE = re.compile(rf"{_PAIR}\s*(mm|cm|in)", re.IGNORECASE)
_GRID = re.compile(r"(\d{1,3})\s*[x×]\s*(\d{1,3})", re.IGNORECASE)
_ONE = re.compile(rf"(left|top)\s+{_NUMBER}", re.IGNORECASE)
_GAP = re.compile(rf"(gap)\s+{_PAIR}", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """One sheet of labels, all alike, in rows and columns.

    width_mm, height_mm         : of one label
    columns, rows               : how many there are across and down
    left_mm, top_mm             : from the paper's edges to the first
    gap_across_mm, gap_down_mm  : between two
    """

    width_mm: float
    height_mm: float
    columns: int
    rows: int
    left_mm: float
    top_mm: float
    gap_across_mm: float = 0.0
    gap_down_mm: float = 0.0

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    def place_mm(self, number: int) -> tuple[float, float]:
        """Left and upper edge of a label, counted from 0 along the rows."""
        down, across = divmod(number, self.columns)
        return (
            self.left_mm + across * (self.width_mm + self.gap_across_mm),
            self.top_mm + down * (self.height_mm + self.gap_down_mm),
        )


def label_sheet(text: str, paper: Paper) -> LabelSheet:
    """The sheet that a text describes: "63.5 x 38.1 mm, 3 x 7, left 7.2, top 15.1, gap 2.5 x 0".

    text : "" for the usual one of that paper
    Raises  EvencastError for what cannot be read, and for labels that do not lie on the paper
    """
    said = [each.strip() for each in (text.strip() or USUAL[paper]).split(",")]
    size, grid = _SIZE.fullmatch(said[0]), _GRID.fullmatch(said[1]) if len(said) > 1 else None
    if size is None or grid is None:
        wrong = said[0] if size is None else ", ".join(said[1:2]) or "no number of labels"
        raise _wrong(f'"{wrong}" is not {"a size of a label" if size is None else "a grid"}')
    per_unit = MM_PER_UNIT[size[3].lower()]
    more = _offsets(said[2:], per_unit)
    width_mm, height_mm = float(size[1]) * per_unit, float(size[2]) * per_unit
    columns, rows = int(grid[1]), int(grid[2])
    across_mm, down_mm = more.get("gap", (0.0, 0.0))
    wide_mm = columns * width_mm + (columns - 1) * across_mm
    high_mm = rows * height_mm + (rows - 1) * down_mm
    paper_mm = PAPER_MM[paper]
    left_mm = more["left"][0] if "left" in more else (paper_mm[0] - wide_mm) / 2.0
    top_mm = more["top"][0] if "top" in more else (paper_mm[1] - high_mm) / 2.0
    sheet = LabelSheet(width_mm, height_mm, columns, rows, left_mm, top_mm, across_mm, down_mm)
    _check(sheet, paper, wide_mm=wide_mm, high_mm=high_mm)
    return sheet


def checked_start(start: int, sheet: LabelSheet) -> int:
    """The number of the first label that is still on the sheet, from 1.

    Raises  EvencastError where the sheet has no such label
    """
    if 1 <= start <= sheet.count:
        return start
    raise EvencastError(
        f"there is no label {start} on a sheet of {sheet.count}",
        where="--label-start",
        remedy=f"Count along the rows from the upper left: 1 to {sheet.count}.",
    )


def _offsets(said: list[str], per_unit: float) -> dict[str, tuple[float, float]]:
    found: dict[str, tuple[float, float]] = {}
    for each in said:
        match = _ONE.fullmatch(each) or _GAP.fullmatch(each)
        if match is None:
            raise _wrong(f'"{each}" is none of left, top and gap')
        name = match[1].lower()
        if name in found:
            raise _wrong(f'"{name}" is said twice')
        second = match[3] if name == "gap" else "0"
        found[name] = (float(match[2]) * per_unit, float(second) * per_unit)
    return found


def _check(sheet: LabelSheet, paper: Paper, *, wide_mm: float, high_mm: float) -> None:
    if not sheet.count:
        raise _wrong(f"a sheet of {sheet.columns} x {sheet.rows} has no label")
    if sheet.width_mm < LEAST_WIDTH_MM or sheet.height_mm < LEAST_HEIGHT_MM:
        raise _wrong(
            f"labels of {sheet.width_mm:g} x {sheet.height_mm:g} mm are too small to read: "
            f"{LEAST_WIDTH_MM:g} x {LEAST_HEIGHT_MM:g} mm at least"
        )
    for side, begin_mm, length_mm, paper_mm in (
        ("right", sheet.left_mm, wide_mm, PAPER_MM[paper][0]),
        ("lower", sheet.top_mm, high_mm, PAPER_MM[paper][1]),
    ):
        if begin_mm < -SLACK_MM or begin_mm + length_mm > paper_mm + SLACK_MM:
            over_mm = max(begin_mm + length_mm - paper_mm, length_mm - paper_mm)
            raise _wrong(
                f"the labels reach {over_mm:.1f} mm beyond the {side} edge of {paper} paper, "
                f"which is {paper_mm:g} mm"
            )


def _wrong(what: str) -> EvencastError:
    return EvencastError(what, where="--labels", remedy=FORM)
