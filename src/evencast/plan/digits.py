"""How finely a declared number was rounded, read from the digits it was written with.

A sheet's printed 5600 K stands for anything from 5550 to 5650, its 0.67 stop for two
thirds. The written digits are the only evidence of that, so numbers with a decimal point
are read as `Written`, which keeps them.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

COARSEST_ZEROS = 2
"""Kelvins are printed to the nearest 100 at the coarsest: 5000 stands for 4950 to 5050."""

HALF_HUNDREDS_K = 50
"""And those that end in 50 to the nearest 50: nobody prints a sheet to ten kelvin."""


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
    """Half the rounding step of a colour temperature: 5600 gives 50, 5550 gives 25, 5560
    gives 5. [K]"""
    number = _decimal(value)
    if number is None:
        return None
    if number % 100 == HALF_HUNDREDS_K:
        return HALF_HUNDREDS_K / 2
    exponent = _exponent(number)
    if exponent == 0:
        digits = str(abs(number))
        exponent = min(len(digits) - len(digits.rstrip("0")), COARSEST_ZEROS)
    return 0.5 * 10.0**exponent


def rounding_stops(value: object) -> float | None:
    """Half the rounding step of a loss: thirds give 1/6, others half their last digit. [stop]

    Thirds are whole numbers and what thirds look like when rounded: 0.3, 0.33, 0.67, 1.3.
    """
    number = _decimal(value)
    if number is None:
        return None
    third = Decimal(round(number * 3)) / 3
    return 1 / 6 if third.quantize(number) == number else rounding_last_digit(value)


def rounding_last_digit(value: object) -> float | None:
    """Half a unit of the last written digit: 0.31 gives 0.005, 61 gives 0.5."""
    number = _decimal(value)
    return None if number is None else 0.5 * 10.0 ** _exponent(number)


def _decimal(value: object) -> Decimal | None:
    """The number as written, to 12 decimals at most; None for what is no usable number."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 10**9:
        return None
    text = value.text if isinstance(value, Written) else repr(value)
    try:
        number = Decimal(text.replace("_", ""))
    except InvalidOperation:  # an exponent of twenty digits, as of 1e-99999999999999999999
        return None
    return number if _exponent(number) >= -12 else number.quantize(Decimal("1e-12"))


def _exponent(number: Decimal) -> int:
    """Decimal place of the last written digit: -2 for 0.31, 0 for 5600."""
    exponent = number.as_tuple().exponent
    assert isinstance(exponent, int), "finite numbers have one"
    return exponent
