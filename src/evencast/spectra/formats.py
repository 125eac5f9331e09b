"""Files of a spectrum: CSV and IES TM-27, told apart by what is in them."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from evencast.errors import EvencastError
from evencast.spectra.spectrum import Quantity, Spectrum

if TYPE_CHECKING:  # quick questions read no file
    from evencast.spectra.samples import SpectrumFile


_USUAL_LETTERS = 100_000
"""Longer texts are not kept: 64 of the largest that are read would be a gigabyte."""


def read_spectrum(text: str, *, quantity: Quantity, where: str) -> SpectrumFile:
    """The spectrum of a file's text, with what was made out about it.

    text     : IES TM-27 where it begins with "<" or the name ends in .spdx, else CSV
    quantity : power of a light, any scale, or transmittance of a filter
    where    : name of the file, for errors
    Raises  EvencastError that names the line and what would be accepted
    """
    read = _read_before if len(text) <= _USUAL_LETTERS else _read
    return read(text, quantity=quantity, where=where)


def _read(text: str, *, quantity: Quantity, where: str) -> SpectrumFile:
    if text[:1000].lstrip("\ufeff \t\r\n").startswith("<") or _is_spdx(where):
        from evencast.spectra.tm27 import parse_tm27

        return parse_tm27(text, quantity=quantity, where=where)
    from evencast.spectra.csv_text import parse_csv

    return parse_csv(text, quantity=quantity, where=where)


_read_before = lru_cache(64)(_read)
"""A plan is read anew after every edit, and with it the files that it names."""


def spectrum_text(
    spectrum: Spectrum, *, quantity: Quantity, where: str, description: str, created: str
) -> str:
    """A spectrum as the text of a file: CSV or IES TM-27, by the ending of its name.

    where       : name of the file
    description : what it is, for a format that can say so
    created     : date as year-month-day, likewise
    Raises  EvencastError for any other ending
    """
    if _is_spdx(where):
        from evencast.spectra.tm27 import tm27_of

        return tm27_of(spectrum, quantity=quantity, description=description, created=created)
    if where.casefold().endswith(".csv"):
        from evencast.spectra.csv_text import csv_of

        return csv_of(spectrum, quantity=quantity)
    raise EvencastError(
        "a spectrum is written as .csv or .spdx",
        where=where,
        remedy="End the name in .csv, or in .spdx for IES TM-27.",
    )


def _is_spdx(name: str) -> bool:
    return name.casefold().endswith(".spdx")
