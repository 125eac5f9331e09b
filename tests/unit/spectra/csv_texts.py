"""CSV texts to read, and what is said of them."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from evencast.errors import EvencastError
from evencast.spectra import Quantity, Spectrum, read_spectrum

FIVE_NM = list(range(400, 705, 5))


def sampled(wavelengths: Iterable[float], value: str = "0.5", separator: str = ",") -> str:
    """One line per wavelength, all with the same value."""
    return "".join(f"{nm:g}{separator}{value}\n" for nm in wavelengths)


GOOD = sampled(FIVE_NM)
"""Line 1 is 400 nm, line 2 is 405 nm and so on; 61 lines."""


def with_line(number: int, line: str) -> str:
    """The good spectrum with one line changed."""
    lines = GOOD.splitlines()
    lines[number - 1] = line
    return "\n".join(lines)


def read(text: str, quantity: Quantity = "power") -> Spectrum:
    return read_spectrum(text, quantity=quantity, where="lamp.csv").spectrum


def refusal(text: str, quantity: Quantity = "power") -> tuple[str, str, str]:
    """What, where and remedy of the error that a text meets."""
    with pytest.raises(EvencastError) as caught:
        read(text, quantity)
    return caught.value.what, caught.value.where, caught.value.remedy


def slope(
    separator: str,
    *,
    comma: bool = False,
    swapped: bool = False,
    suffix: str = "",
    scale: float = 1.0,
) -> str:
    """A rising spectrum as text."""
    rows = ((f"{nm}", f"{(nm - 300) / 500 * scale:.4f}{suffix}") for nm in range(380, 785, 5))
    text = "".join(separator.join(row[:: -1 if swapped else 1]) + "\n" for row in rows)
    return text.replace(".", ",") if comma else text
