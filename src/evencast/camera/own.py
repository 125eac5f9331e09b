"""A person's own camera, from the text of a CSV file."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evencast.camera.sensitivities import Sensitivities
from evencast.quantities import Floats, listed
from evencast.spectra.samples import NOISE, WIDEST_STEP_NM, fail, number, shown

COLUMNS = ("wavelength_nm", "r", "g", "b")
MUST_COVER_NM = (400.0, 680.0)
FARTHEST_NM = (300.0, 1200.0)
"""No camera of pictures sees beyond these: a wavelength outside is in another unit."""
FEWEST_SAMPLES, MOST_SAMPLES = 15, 10_000
SMALLEST_SHARE = 0.02
"""Least singular value of the three bands, each of length 1, against the largest. Camera B, whose
layers overlap strongly, has 0.1; two bands that differ by noise alone have less than this."""

_EXAMPLE = "Write wavelength_nm,r,g,b in the first line and rows such as 400,0.01,0.02,0.13"
_SEPARATORS = (";", "\t", ",")


@dataclass(frozen=True, slots=True, eq=False)
class _Rows:
    """The numbers of a file, wavelength, r, g, b; and the line each row stands on."""

    values: Floats
    lines: list[int]


def camera_of_text(text: str, *, where: str, name: str = "") -> Sensitivities:
    """A camera from CSV text with the columns wavelength_nm, r, g, b in any order.

    text  : comma, semicolon or tab between the columns; lines that begin with # are remarks; any
            step up to 20 nm, from 400 to 680 nm at least; responses on any scale
    where : name of the file, for errors
    name  : what the camera is called; `where` if it is empty
    Raises  EvencastError that names the line and what would be accepted
    """
    rows = _rows(text, where=where)
    _check_wavelengths(rows, where=where)
    _check_not_negative(rows, where=where)
    values = np.maximum(rows.values[:, 1:].T, 0.0)
    _check_bands(values, where=where)
    return Sensitivities(name or where, rows.values[:, 0], values / values.max())


def _rows(text: str, *, where: str) -> _Rows:
    lines = [
        (line, content)
        for line, content in enumerate(text.removeprefix("\ufeff").splitlines(), 1)
        if content.strip() and not content.lstrip().startswith("#")
    ]
    if not lines:
        fail("the file is empty", where, f"{_EXAMPLE}.")
    separator = next((each for each in _SEPARATORS if each in lines[0][1]), ",")
    order = _order(_cells(lines[0][1], separator), where=f"{where}, line {lines[0][0]}")
    found, at = [], []
    for line, content in lines[1:]:
        cells = _cells(content, separator)
        if len(cells) != len(order):
            _wrong_cells(cells, separator, where=f"{where}, line {line}")
        found.append([_number(cells[each], separator, f"{where}, line {line}") for each in order])
        at.append(line)
    if not FEWEST_SAMPLES <= len(found) <= MOST_SAMPLES:
        fail(
            f"{len(found)} samples, where {FEWEST_SAMPLES} to {MOST_SAMPLES} belong",
            where,
            "Give the sensitivities from 400 to 680 nm or further, every 5 or 10 nm.",
        )
    return _Rows(np.array(found), at)


def _cells(line: str, separator: str) -> list[str]:
    return [cell.strip().strip('"').strip() for cell in line.split(separator)]


def _order(heading: list[str], *, where: str) -> list[int]:
    """Where each of the four columns stands."""
    names = [name.casefold() for name in heading]
    names = ["wavelength_nm" if name in ("wavelength", "nm") else name for name in names]
    missing = [name for name in COLUMNS if name not in names]
    if missing:
        fail(
            f"the column{'s' if len(missing) > 1 else ''} {listed(missing)} "
            f"{'are' if len(missing) > 1 else 'is'} missing; the first line reads "
            f'"{shown(", ".join(heading))}"',
            where,
            f"{_EXAMPLE}: a camera has three bands, and the first line names them.",
        )
    if len(names) > len(COLUMNS):
        fail(
            f"{len(names)} columns where four belong",
            where,
            f"Keep {listed(COLUMNS)}, each once; give the mean of two greens as g.",
        )
    return [names.index(name) for name in COLUMNS]


def _wrong_cells(cells: list[str], separator: str, *, where: str) -> None:
    told = "Give every row a wavelength and three responses, and leave no cell empty."
    if separator == "," and len(cells) > len(COLUMNS):
        told = "Write decimal points, or semicolons between the columns of a file with commas."
    count = f"{len(cells)} cell{'' if len(cells) == 1 else 's'}"
    fail(f"{count} where {len(COLUMNS)} belong", where, told)


def _number(cell: str, separator: str, where: str) -> float:
    value = number(cell.replace(",", ".") if separator != "," else cell)
    if value is None:
        fail(f'"{shown(cell)}" is not a number', where, f"{_EXAMPLE}; leave no cell empty.")
    return value


def _check_wavelengths(rows: _Rows, *, where: str) -> None:
    nm, lines = rows.values[:, 0], rows.lines
    steps_nm = np.diff(nm)
    if (steps_nm <= 0).any():
        at = int(np.argmax(steps_nm <= 0))
        fail(
            f"{nm[at + 1]:g} nm comes after {nm[at]:g} nm",
            f"{where}, line {lines[at + 1]}",
            "Sort the rows so that wavelengths rise, and keep one row for each.",
        )
    if nm[0] < FARTHEST_NM[0] or nm[-1] > FARTHEST_NM[1]:
        at = 0 if nm[0] < FARTHEST_NM[0] else -1
        fail(
            f"{nm[at]:g} is no wavelength of visible light in nm",
            f"{where}, line {lines[at]}",
            f"Give wavelengths in nm, from {FARTHEST_NM[0]:g} to {FARTHEST_NM[1]:g}.",
        )
    low, high = MUST_COVER_NM
    if nm[0] > low or nm[-1] < high:
        fail(
            f"it reaches from {nm[0]:g} to {nm[-1]:g} nm: too short",
            where,
            f"Measure from {low:g} to {high:g} nm at least; where nothing is seen, write 0.",
        )
    if steps_nm.max() > WIDEST_STEP_NM:
        at = int(np.argmax(steps_nm))
        fail(
            f"nothing between {nm[at]:g} and {nm[at + 1]:g} nm",
            f"{where}, line {lines[at + 1]}",
            f"Leave no gap of more than {WIDEST_STEP_NM:g} nm.",
        )


def _check_not_negative(rows: _Rows, *, where: str) -> None:
    values = rows.values[:, 1:]
    too_low = values < -NOISE * np.abs(values).max()
    if too_low.any():
        row, band = (int(each) for each in np.argwhere(too_low)[0])
        fail(
            f"{values[row, band]:g} in {COLUMNS[band + 1]} is negative",
            f"{where}, line {rows.lines[row]}",
            "A response is 0 or more: correct it, or write 0 where only noise was measured.",
        )


def _check_bands(values: Floats, *, where: str) -> None:
    """Three bands that see something, each something else."""
    dark = [name for name, each in zip(COLUMNS[1:], values, strict=True) if not each.any()]
    if dark:
        fail(
            f"nothing is seen in {listed(dark)}",
            where,
            "Give three bands with responses above 0: fewer tell no colours apart.",
        )
    lengths = values / np.linalg.norm(values, axis=1, keepdims=True)
    spread = np.linalg.svd(lengths, compute_uv=False)
    if spread[-1] < SMALLEST_SHARE * spread[0]:
        fail(
            "two of the three bands are alike, so that no colours could be told apart",
            where,
            "Check that r, g and b are three different columns of the measurement.",
        )
