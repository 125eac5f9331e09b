"""A spectrum as CSV text: two columns, wavelength in nm and a value.

Blank lines, lines that start with # and lines of words before the numbers are passed over.
The first row of numbers tells what stands between the columns: semicolon, tab, comma or
spaces. The decimal mark is a point or a comma, the same all through the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from evencast.spectra.samples import (
    MOST_SAMPLES,
    Samples,
    SpectrumFile,
    checked,
    fail,
    number,
    shown,
)
from evencast.spectra.spectrum import Quantity, Spectrum

_SEPARATORS = {";": "a semicolon", "\t": "a tab", ",": "a comma", " ": "spaces"}
_WAVELENGTH = re.compile(r"wave|lambda|λ|\bnm\b|_nm")
_OTHER_UNIT = re.compile(r"micro|[µμ]m|\bum\b|_um\b|[aå]ngstr|_m\b|cm-?1|wavenumber")
_NOT_A_LIGHT = re.compile(r"transm|reflect|absor")
_NOT_A_SHEET = re.compile(r"power|radian|flux|reflect|absor|density")
_GROUPED = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:[.,][0-9]{3})+")
_LONGEST_QUOTED = 100_000
"""The library reads no longer cells; a line of this length is refused for its numbers."""
_EXAMPLE = "Write one wavelength in nm and one value per line, such as 400,0.123"


@dataclass(frozen=True, slots=True)
class _Row:
    """A line of the file: its number and its cells, at least one."""

    line: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class _Table:
    """A file taken apart.

    separator : what stands between the columns
    words     : the lines of words before the numbers
    rows      : the numbers, two cells each, wavelength first
    swapped   : whether the file has them the other way round
    """

    separator: str
    words: list[_Row]
    rows: list[_Row]
    swapped: bool

    @property
    def heading(self) -> list[str]:
        """The names of the columns, wavelength first; none where no line gives two."""
        for row in reversed(self.words):
            if len(row.cells) > 1:
                return row.cells[1::-1] if self.swapped else row.cells[:2]
        return []


def parse_csv(text: str, *, quantity: Quantity, where: str) -> SpectrumFile:
    """A spectrum from CSV text, with remarks on what was made out.

    quantity : power is relative, any scale; transmittance is 0 to 1, or 0 to 100
               percent where a percent sign, the heading or a value above 1.5 says so
    Raises  EvencastError that names the line and what would be accepted
    """
    table = _table(text, where=where)
    _check_unit_in_words(table, where=where)
    _check_quantity_in_words(table, quantity, where=where)
    decimal = _decimal_mark(table.rows, where=where)
    _check_grouping(table.rows, where=where)
    samples = Samples(
        np.array([_value(row.cells[0]) for row in table.rows], dtype=float),
        np.array([_value(_bare(row.cells[1])) for row in table.rows], dtype=float),
        [row.line for row in table.rows],
        percent=_percent(table, where=where),
        remarks=tuple(_remarks(table, decimal)),
    )
    return checked(samples, quantity=quantity, where=where)


def csv_of(spectrum: Spectrum, *, quantity: Quantity) -> str:
    """CSV text that reads back to the same samples, digit for digit."""
    rows = zip(spectrum.wavelengths_nm.tolist(), spectrum.values.tolist(), strict=True)
    return f"wavelength_nm,{quantity}\n" + "".join(f"{nm!r},{value!r}\n" for nm, value in rows)


def _table(text: str, *, where: str) -> _Table:
    lines = list(_lines(text))
    separator = _separator(lines)
    words: list[_Row] = []
    rows: list[_Row] = []
    for line, content in lines:
        cells = _cells(content, separator)
        if not rows and _value(_bare(cells[0])) is None:
            words.append(_Row(line, cells))
        else:
            rows.append(_Row(line, _two_numbers(cells, where=f"{where}, line {line}")))
        if len(rows) > MOST_SAMPLES:
            break
    if len(words) > 1 and not rows:
        _two_numbers(words[-1].cells, where=f"{where}, line {words[-1].line}")
    swapped = _says_swapped(words) or _looks_swapped(rows)
    if swapped:
        rows = [_Row(row.line, row.cells[::-1]) for row in rows]
    return _Table(separator, words, rows, swapped)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """What counts, with its line number."""
    for line, content in enumerate(text.removeprefix("\ufeff").splitlines(), 1):
        if content.strip() and not content.lstrip().startswith("#"):
            yield line, content


def _separator(lines: Sequence[tuple[int, str]]) -> str:
    """What stands between the first two numbers of a line; a comma where none has two."""
    for _, content in lines:
        for separator in _SEPARATORS:
            cells = _cells(content, separator)
            if len(cells) > 1 and all(_value(_bare(cell)) is not None for cell in cells[:2]):
                return separator
    return ","


def _cells(line: str, separator: str) -> list[str]:
    """The cells of a line, quotes taken off; empty ones at its end are dropped."""
    if '"' in line and separator != " " and len(line) < _LONGEST_QUOTED:
        import csv  # few files quote their cells

        cells = next(csv.reader([line], delimiter=separator, skipinitialspace=True))
    else:
        cells = line.split() if separator == " " else line.split(separator)
    cells = [cell.strip().strip('"') for cell in cells]
    while len(cells) > 1 and not cells[-1]:
        cells.pop()
    return cells


def _bare(cell: str) -> str:
    """A cell without its percent sign."""
    return cell.removesuffix("%").rstrip()


def _value(cell: str) -> float | None:
    return number(cell.replace(",", "."))


def _two_numbers(cells: list[str], *, where: str) -> list[str]:
    if len(cells) == 1:
        fail("1 column where two belong", where, f"{_EXAMPLE}.")
    if len(cells) > 2:
        fail(
            f"{len(cells)} columns where two belong",
            where,
            "Keep the wavelength and the one value you want, and a point as decimal mark where "
            "a comma stands between the columns.",
        )
    for cell in cells:
        if _value(_bare(cell)) is None:
            fail(
                f'"{shown(cell)}" is not a number',
                where,
                f"{_EXAMPLE}; leave no cell empty.",
            )
    return cells


def _says_swapped(words: Sequence[_Row]) -> bool:
    """Whether a heading names the wavelength second."""
    return any(
        len(row.cells) > 1
        and _WAVELENGTH.search(row.cells[1].casefold()) is not None
        and _WAVELENGTH.search(row.cells[0].casefold()) is None
        for row in words[-2:]
    )


def _looks_swapped(rows: Sequence[_Row]) -> bool:
    """Whether the second column alone looks like wavelengths in nm."""
    if len(rows) < 2:
        return False
    first, second = (
        np.array([_value(_bare(row.cells[each])) for row in rows], dtype=float) for each in (0, 1)
    )
    steps = np.diff(second)
    in_order = bool((steps > 0).all() or (steps < 0).all())
    return in_order and 300 <= np.median(second) <= 900 and not 200 <= np.median(first) <= 1200


def _check_unit_in_words(table: _Table, *, where: str) -> None:
    """A heading, or the line of units under it, that names another unit than nm is believed."""
    for row in table.words[-2:]:
        name = row.cells[-1 if table.swapped else 0]
        if _OTHER_UNIT.search(name.casefold()) and "nm" not in name.casefold():
            fail(
                f'"{shown(name)}" is not in nanometres',
                f"{where}, line {row.line}",
                "Convert the wavelengths to nm.",
            )


def _check_quantity_in_words(table: _Table, quantity: Quantity, *, where: str) -> None:
    """A heading that names what cannot be the light or the filter it is to be is believed."""
    name = table.heading[1] if table.heading else ""
    wrong = _NOT_A_SHEET if quantity == "transmittance" else _NOT_A_LIGHT
    if wrong.search(name.casefold()):
        thing, wanted = (
            ("filter", "transmittance") if quantity == "transmittance" else ("light", "power")
        )
        fail(
            f'the heading says "{shown(name)}": that is not the {wanted} of a {thing}',
            where,
            f'Correct the heading if the values are that: write "{wanted}".',
        )


def _decimal_mark(rows: Sequence[_Row], *, where: str) -> str:
    """The mark that numbers have, a point or a comma; "" for whole numbers alone."""
    seen = ""
    for row in rows:
        for cell in row.cells:
            marks = {mark for mark in ".," if mark in cell}
            if marks - {seen} and seen:
                fail(
                    f'"{shown(cell)}" has another decimal mark than the lines before it',
                    f"{where}, line {row.line}",
                    "Write one decimal mark all through the file and no mark between thousands.",
                )
            seen = seen or "".join(marks)
    return seen


def _check_grouping(rows: Sequence[_Row], *, where: str) -> None:
    """Values such as 1,204 beside 998 may be thousands or thousandths: nobody can tell."""
    marked = [row for row in rows if "," in row.cells[1] or "." in row.cells[1]]
    whole = [row for row in rows if row not in marked and _value(_bare(row.cells[1]))]
    if marked and whole and all(_GROUPED.fullmatch(_bare(row.cells[1])) for row in marked):
        cell = shown(marked[0].cells[1])
        fail(
            f'"{cell}" may be thousands or thousandths, beside values such as '
            f'"{shown(whole[0].cells[1])}"',
            f"{where}, line {marked[0].line}",
            "Write the values without a mark between thousands.",
        )


def _percent(table: _Table, *, where: str) -> str:
    """By what the file says that its values are percent; "" if it does not."""
    signed = ["%" in row.cells[1] for row in table.rows]
    for row, sign in zip(table.rows, signed, strict=True):
        if "%" in row.cells[0] or sign != signed[0]:
            fail(
                "some numbers have a percent sign and others none",
                f"{where}, line {row.line}",
                "Write the sign behind every value or behind none.",
            )
    if any(signed):
        return "each has the sign"
    for row in table.words[-2:]:
        name = row.cells[0 if table.swapped else -1] if len(row.cells) > 1 else ""
        if ("%" in name or "percent" in name.casefold()) and _value(_bare(name)) is None:
            return f'the heading says "{shown(name)}"'
    return ""


def _remarks(table: _Table, decimal: str) -> Iterator[str]:
    heading = table.heading
    if heading:
        yield "columns " + " and ".join(f'"{shown(name)}"' for name in heading)
    if table.swapped:
        yield "the wavelength stands second"
    others = len(table.words) - bool(heading)
    if others > 0:
        yield f"{others} other line{'' if others == 1 else 's'} of words passed over"
    if table.separator != ",":
        yield f"{_SEPARATORS[table.separator]} between the columns"
    if decimal == ",":
        yield "decimal comma"
