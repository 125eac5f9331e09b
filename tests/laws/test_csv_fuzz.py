"""Whatever a CSV text holds, it is read or it is refused in words."""

from __future__ import annotations

import string

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evencast.errors import EvencastError
from evencast.spectra import Spectrum, parse_spectrum
from evencast.spectra.csv_text import Quantity

cells = st.one_of(
    st.floats().map(repr),
    st.floats(-1.0, 120.0).map(lambda value: f"{value:.4f}"),
    st.integers().map(str),
    st.sampled_from(
        [
            "",
            " ",
            "nan",
            "NaN",
            "inf",
            "-inf",
            "1e999",
            "1e308",
            "-1e308",
            "1e-320",
            "5%",
            "#",
            "-",
            "0,5",
            "1.7976931348623157e308",
            "٣",
            "½",
            "0x1F",
            "1_0",
            "+",
            ".",
            "e5",
            '"',
            "µm",
        ]
    ),
    st.text(max_size=6),
)
separators = st.sampled_from([",", ";", "\t", " ", ", ", ",,", "|", "\u2028", "\x00"])
line_ends = st.sampled_from(["\n", "\r\n", "\r", "\n\n", "\x0b", "\x0c"])
quantities = st.sampled_from(["power", "transmittance"])


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A good spectrum with some cells, separators or lines spoiled."""
    step = draw(st.sampled_from([1, 2, 5, 10, 20]))
    first, last = draw(st.integers(360, 420)), draw(st.integers(680, 800))
    separator = draw(separators)
    rows = [
        [str(nm), draw(st.sampled_from(["0.5", "0.1", "0", "40"]))]
        for nm in range(first, last, step)
    ]
    for _ in range(draw(st.integers(0, 3))):
        row = draw(st.integers(0, len(rows) - 1))
        rows[row][draw(st.integers(0, len(rows[row]) - 1))] = draw(cells)
    for _ in range(draw(st.integers(0, 2))):
        row = draw(st.integers(0, len(rows) - 1))
        action = draw(st.sampled_from(["drop", "double", "swap", "lengthen"]))
        if action == "drop" and len(rows) > 1:
            del rows[row]
        elif action == "double":
            rows.insert(row, list(rows[row]))
        elif action == "swap":
            rows[row].reverse()
        else:
            rows[row].append(draw(cells))
    heading = draw(
        st.sampled_from(["", "nm,power", "power,nm", "wavelength (µm);x", "\ufeffnm\tT"])
    )
    end = draw(line_ends)
    return end.join([heading, *(separator.join(row) for row in rows)])


scaled = st.builds(
    lambda factor, value, step: "".join(
        f"{nm * factor!r},{value!r}\n" for nm in range(380, 785, step)
    ),
    st.sampled_from([1.0, 1e-3, 10.0, 1e-9, 1e-300, 1e300, -1.0, 0.0]),
    st.floats(),
    st.sampled_from([1, 2, 5, 10, 20, 25]),
)
noise = st.one_of(st.text(max_size=400), st.text(string.printable, max_size=400))
texts = st.one_of(mutated(), scaled, noise)


def outcome(text: str, quantity: Quantity) -> Spectrum | EvencastError:
    """The spectrum, or the error in its place; anything else that is raised fails the test."""
    try:
        return parse_spectrum(text, quantity=quantity, where="lamp.csv")
    except EvencastError as error:
        return error


def assert_read_or_refused(text: str, quantity: Quantity) -> None:
    """A finite spectrum, nowhere negative and somewhere more than nothing, or an error that says
    what, where and what to do."""
    read = outcome(text, quantity)
    if isinstance(read, EvencastError):
        assert read.what
        assert read.where.startswith("lamp.csv")
        assert read.remedy
        return
    assert np.isfinite(read.grid).all()
    assert (read.grid >= 0).all()
    assert (read.values > 0).any()
    assert (np.diff(read.wavelengths_nm) > 0).all()
    if quantity == "transmittance":
        assert read.grid.max() <= 1.0 + 1e-9


@given(text=texts, quantity=quantities)
@settings(max_examples=300, deadline=None)
def test_csv_text_is_read_or_refused(text: str, quantity: Quantity) -> None:
    """300 texts, mutated and made up."""
    assert_read_or_refused(text, quantity)


@pytest.mark.long
@given(text=texts, quantity=quantities)
@settings(max_examples=3000, deadline=None)
def test_csv_text_is_read_or_refused_at_length(text: str, quantity: Quantity) -> None:
    """Ten times as many."""
    assert_read_or_refused(text, quantity)
