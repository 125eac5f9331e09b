"""How finely a declared number was rounded, read from the digits it was written with.

A sheet's printed 5600 K stands for anything from 5550 to 5650, its 0.67 stop for two
thirds. The written digits are the only evidence of that, so numbers with a decimal point
are read as `Written`, which keeps them.
"""

from __future__ import annotations

from decimal import Decimal

COARSEST_ZEROS = 2
"""Kelvins are printed to the nearest 100 at the coarsest: 5000 stands for 4950 to 5050."""

_FINEST = Decimal("1e-12")


class Written(float):
    """A number that remembers how it was written."""

    __slots__ = ("text",)

    text: str

    def __new__(cls, text: str) -> Written:
        """The number of a text such as `0.67`, `1_000.5` or `5.6e3`."""
        number = super().__new__(cls, text)
        number.text = text
        return number


def rounding_k(value: object) -> float | None:
    """Half the rounding step of a colour temperature: 5600 gives 50, 5550 gives 5. [K]"""
    number = _decimal(value)
    if number is None:
        return None
    _, digits, exponent = number.as_tuple()
    assert isinstance(exponent, int)
    if exponent == 0:
        zeros = len(digits) - len("".join(map(str, digits)).rstrip("0"))
        exponent = min(zeros, COARSEST_ZEROS)
    return 0.5 * 10.0**exponent


def rounding_stops(value: object) -> float | None:
    """Half the rounding step of a loss: thirds give 1/6, others half their last digit. [stop]

    Thirds are whole numbers and what thirds look like when rounded: 0.3, 0.33, 0.67, 1.3.
    """
    number = _decimal(value)
    if number is None:
        return None
    thirds = round(float(number) * 3)
    if (Decimal(thirds) / 3).quantize(number) == number:
        return 1 / 6
    return rounding_last_digit(value)


def rounding_last_digit(value: object) -> float | None:
    """Half a unit of the last written digit: 0.31 gives 0.005, 61 gives 0.5."""
    number = _decimal(value)
    if number is None:
        return None
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent


def _decimal(value: object) -> Decimal | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    text = value.text if isinstance(value, Written) else repr(value)
    number = Decimal(text.replace("_", ""))
    if not number.is_finite() or abs(number) >= 10**9:
        return None
    return max(number, number.quantize(_FINEST), key=lambda each: each.as_tuple().exponent)
