"""Reads a spectrum from CSV text: two columns, wavelength in nm and a value.

Lines that start with # and blank lines are passed over; a heading line is optional. The
columns are separated by comma, semicolon, tab or spaces; with semicolon or tab a decimal
comma is understood.
"""

from __future__ import annotations

import re
from typing import Literal, NoReturn

import numpy as np

from evencast.errors import EvencastError
from evencast.quantities import Floats
from evencast.spectra.spectrum import Spectrum

Quantity = Literal["power", "transmittance"]

MUST_COVER_NM = (400.0, 700.0)
WIDEST_STEP_NM = 20.0
FEWEST_SAMPLES = 16
LARGEST_POWER = 1e100
NOISE = 0.001
"""A meter's noise may go this far below zero, as a share of the peak; it is read as zero."""

_EXAMPLE = "Write one wavelength in nm and one value per line, such as 400,0.123"


def parse_spectrum(text: str, *, quantity: Quantity, where: str) -> Spectrum:
    """A spectrum from CSV text.

    quantity : power is relative, any scale; transmittance is 0 to 1, or 0 to 100
               percent where a percent sign, the heading or a value above 1.5 says so
    Raises  EvencastError that names the line and what would be accepted
    """
    wavelengths_nm, values, lines, percent = _columns(text, where=where)
    _check_wavelengths(wavelengths_nm, values, lines, where=where)
    if quantity == "transmittance":
        percent = percent or bool(values.max() > 1.5)
        values = _check_transmittance(values, lines, percent=percent, where=where)
    else:
        _check_not_negative(values, lines, where=where)
        values = np.maximum(values, 0.0)
        if not values.any():
            _fail(
                "every value is zero: there is no light in it", where, "Give the lamp's spectrum."
            )
        if values.max() > LARGEST_POWER:
            _fail(
                f"{values.max():g} is too large for a measurement",
                where,
                f"Relative power will do: give values up to {LARGEST_POWER:g}.",
            )
    return Spectrum(wavelengths_nm, values)


def _fail(what: str, where: str, remedy: str) -> NoReturn:
    raise EvencastError(what, where=where, remedy=remedy)


def _columns(text: str, *, where: str) -> tuple[Floats, Floats, list[int], bool]:
    """Both columns as numbers, the line each row stands on, and whether it says percent."""
    rows: list[tuple[float, float]] = []
    lines: list[int] = []
    heading_allowed, percent = True, False
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        percent = percent or "%" in line or (heading_allowed and "percent" in line.casefold())
        cells = _cells(line)
        numbers = [_number(cell) for cell in cells]
        if heading_allowed and all(each is None for each in numbers):
            _check_heading(cells, where=f"{where}, line {number}")
            heading_allowed = False
            continue
        heading_allowed = False
        rows.append(_row(cells, numbers, where=f"{where}, line {number}"))
        lines.append(number)
    if len(rows) < FEWEST_SAMPLES:
        _fail(
            f"only {len(rows)} samples: too few for a spectrum",
            where,
            f"Give at least {FEWEST_SAMPLES}, from 400 to 700 nm, no more than "
            f"{WIDEST_STEP_NM:g} nm apart.",
        )
    columns = np.array(rows)
    return columns[:, 0], columns[:, 1], lines, percent


def _cells(line: str) -> list[str]:
    for separator in (";", "\t", ","):
        if separator in line:
            return [cell.strip().strip('"') for cell in line.split(separator)]
    return line.split()


def _number(cell: str) -> float | None:
    plain = cell.replace(",", ".").removesuffix("%").strip()
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?", plain):
        return None
    return float(plain)


def _check_heading(cells: list[str], *, where: str) -> None:
    """A heading that names its unit must name nanometres and put wavelength first."""
    first = cells[0].casefold()
    if (
        len(cells) > 1
        and re.search(r"wave|\bnm\b|_nm", cells[1].casefold())
        and "wave" not in first
    ):
        _fail("the columns are swapped", where, "Put the wavelength first, then the value.")
    if re.search(r"micro|µm|μm|\bum\b|_um\b|angstrom|_m\b|cm-?1|wavenumber", first):
        _fail(f'"{cells[0]}" is not in nanometres', where, "Convert the wavelengths to nm.")


def _row(cells: list[str], numbers: list[float | None], *, where: str) -> tuple[float, float]:
    while cells and not cells[-1]:
        cells, numbers = cells[:-1], numbers[:-1]
    if len(cells) != 2:
        _fail(f"{len(cells)} columns where two belong", where, f"{_EXAMPLE}.")
    for cell, number in zip(cells, numbers, strict=True):
        if number is None or not np.isfinite(number):
            _fail(f'"{cell}" is not a number', where, f"{_EXAMPLE}; leave no cell empty.")
    return float(numbers[0] or 0.0), float(numbers[1] or 0.0)


def _check_wavelengths(nm: Floats, values: Floats, lines: list[int], *, where: str) -> None:
    _check_unit(nm, values, where=where)
    steps = np.diff(nm)
    if (steps <= 0).any():
        at = int(np.flatnonzero(steps <= 0)[0]) + 1
        again = "stands twice" if steps[at - 1] == 0 else f"comes after {nm[at - 1]:g} nm"
        _fail(
            f"{nm[at]:g} nm {again}",
            f"{where}, line {lines[at]}",
            "Sort the lines by rising wavelength, each wavelength once.",
        )
    if nm[0] > MUST_COVER_NM[0] or nm[-1] < MUST_COVER_NM[1]:
        _fail(
            f"it covers {nm[0]:g} to {nm[-1]:g} nm only",
            where,
            "Give at least 400 to 700 nm; 380 to 780 nm is better.",
        )
    inside = (nm[1:] > MUST_COVER_NM[0]) & (nm[:-1] < MUST_COVER_NM[1])
    usual = float(np.median(steps))
    gaps = np.flatnonzero(inside & (steps > max(min(3 * usual, WIDEST_STEP_NM), usual) + 1e-9))
    if usual > WIDEST_STEP_NM + 1e-9:
        _fail(
            f"the samples are {usual:g} nm apart: too coarse",
            where,
            f"Sample every {WIDEST_STEP_NM:g} nm or closer.",
        )
    if len(gaps):
        at = int(gaps[0])
        _fail(
            f"a gap: nothing between {nm[at]:g} and {nm[at + 1]:g} nm",
            f"{where}, line {lines[at + 1]}",
            f"Fill it in; elsewhere the samples are {usual:g} nm apart.",
        )


def _check_unit(nm: Floats, values: Floats, *, where: str) -> None:
    """Wavelengths that are no nanometres, and the two columns in the wrong order."""
    if 200 <= np.median(nm) <= 1200:
        return
    if 300 <= np.median(values) <= 900 and (np.diff(values) > 0).all():
        _fail("the columns are swapped", where, "Put the wavelength first, then the value.")
    for low, high, unit, factor in (
        (0.2, 1.2, "micrometres", "multiply by 1000"),
        (2000, 12000, "ångström", "divide by 10"),
        (2e-7, 1.2e-6, "metres", "multiply by 1e9"),
    ):
        if low <= np.median(nm) <= high:
            _fail(
                f"the wavelengths look like {unit}, not nm ({nm[0]:g} to {nm[-1]:g})",
                where,
                f"Convert them to nm: {factor}.",
            )
    _fail(
        f"the first column, {nm[0]:g} to {nm[-1]:g}, is no visible wavelength in nm",
        where,
        f"{_EXAMPLE}, from 400 to 700 nm at least.",
    )


def _check_not_negative(values: Floats, lines: list[int], *, where: str) -> None:
    below = np.flatnonzero(values < -NOISE * max(float(values.max()), 0.0))
    if len(below):
        at = int(below[0])
        _fail(
            f"{values[at]:g} is negative",
            f"{where}, line {lines[at]}",
            "Set noise to 0, or measure again: light cannot be less than none.",
        )


def _check_transmittance(values: Floats, lines: list[int], *, percent: bool, where: str) -> Floats:
    _check_not_negative(values, lines, where=where)
    highest = 100.0 if percent else 1.0
    if values.max() > highest:
        at = int(np.argmax(values))
        _fail(
            f"{values[at]:g} is above {highest:g}{' percent' if percent else ''}",
            f"{where}, line {lines[at]}",
            "A sheet cannot pass more light than falls on it: give 0 to 1, or 0 to 100 percent.",
        )
    if not values.any():
        _fail("every value is zero: nothing passes", where, "Give the sheet's transmittance.")
    return np.maximum(values, 0.0) / highest
