"""What is told about a CSV file, and what is written."""

from __future__ import annotations

import time

import numpy as np
import pytest

from evencast.errors import EvencastError
from evencast.spectra import Quantity, Spectrum, read_spectrum, spectrum_text
from tests.unit.spectra.csv_texts import GOOD, read, refusal, slope, with_line

SAMPLING = "81 samples, 380 to 780 nm, 5 nm apart"
SHARES = "values as shares of 1, since none is above 1"


@pytest.mark.parametrize(
    ("text", "quantity", "remarks"),
    [
        (slope(","), "power", [SAMPLING]),
        (slope(","), "transmittance", [SAMPLING, SHARES]),
        (
            "nm;T\n" + slope(";", comma=True),
            "transmittance",
            [
                'columns "nm" and "T"',
                "a semicolon between the columns",
                "decimal comma",
                SAMPLING,
                SHARES,
            ],
        ),
        (
            slope("\t", scale=100),
            "transmittance",
            ["a tab between the columns", SAMPLING, "values in percent, since 96 is above 1.5"],
        ),
        (
            slope(" ", scale=100, suffix="%"),
            "transmittance",
            ["spaces between the columns", SAMPLING, "values in percent, since each has the sign"],
        ),
        (
            "X,Y\nnm,T (%)\n" + slope(",", scale=1),
            "transmittance",
            [
                'columns "nm" and "T (%)"',
                "1 other line of words passed over",
                SAMPLING,
                'values in percent, since the heading says "T (%)", though the highest is 0.96: '
                "take the percent away if it is a share of 1",
            ],
        ),
        (
            "T,nm\n" + slope(",", swapped=True),
            "power",
            ['columns "nm" and "T"', "the wavelength stands second", SAMPLING],
        ),
        (
            "\n".join(slope(",").splitlines()[::-1]),
            "power",
            ["written from red to blue", SAMPLING],
        ),
        (
            with_line(7, "430,-0.0002") + "\n708.5,-0.0001",
            "power",
            [
                "62 samples, 400 to 708.5 nm, 5 to 8.5 nm apart",
                "2 values are a little below zero, read as 0",
            ],
        ),
    ],
)
def test_what_was_made_out_is_told(text: str, quantity: Quantity, remarks: list[str]) -> None:
    """Columns, separator, decimal mark, sampling, percent or share and by what, noise."""
    assert list(read_spectrum(text, quantity=quantity, where="lamp.csv").remarks) == remarks


def test_a_heading_is_shown_without_what_a_terminal_would_obey() -> None:
    """Escape sequences and endless names stay in the file."""
    text = f"nm,\x1b[2Jx{'y' * 99}\n{GOOD}"
    (columns, _) = read_spectrum(text, quantity="power", where="lamp.csv").remarks
    assert columns == f'columns "nm" and "\ufffd[2Jx{"y" * 34}…"'


@pytest.mark.parametrize("quantity", ["power", "transmittance"])
def test_written_csv_reads_back_to_the_same_samples(quantity: Quantity) -> None:
    """Digit for digit, at odd wavelengths and odd values."""
    rng = np.random.default_rng(5)
    nm = np.cumsum(np.append(379.7, rng.uniform(0.5, 3, 250)))
    spectrum = Spectrum(nm, rng.uniform(0, 1, len(nm)) ** 9)
    text = spectrum_text(
        spectrum, quantity=quantity, where="x.CSV", description="x", created="2031-05-04"
    )
    again = read(text, quantity)
    np.testing.assert_array_equal(again.wavelengths_nm, spectrum.wavelengths_nm)
    np.testing.assert_array_equal(again.values, spectrum.values)


def test_any_other_ending_is_not_written() -> None:
    """What would be accepted is named."""
    with pytest.raises(EvencastError) as caught:
        spectrum_text(
            read(GOOD), quantity="power", where="x.xml", description="x", created="2031-05-04"
        )
    assert (caught.value.what, caught.value.where, caught.value.remedy) == (
        "a spectrum is written as .csv or .spdx",
        "x.xml",
        "End the name in .csv, or in .spdx for IES TM-27.",
    )


def test_endless_digits_are_answered_at_once() -> None:
    """A pattern that tries every split of a run of digits would take hours."""
    started = time.process_time()
    assert refusal(with_line(7, "430," + "1" * 1_000_000 + "x"))[1] == "lamp.csv, line 7"
    assert time.process_time() - started < 10.0


def test_more_samples_than_any_meter_gives() -> None:
    """Refused before any sum takes long."""
    assert refusal("400,1\n" * 300_000) == (
        "more than 100000 samples: too many for a spectrum",
        "lamp.csv",
        "Check that this is the right file; one sample for each nm is plenty.",
    )
