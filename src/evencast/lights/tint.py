"""A camera's tint in words, since makers' signs differ: "4 toward magenta"."""

from __future__ import annotations

import re

TINT_FORMS = '"4 toward magenta", "4 toward green" or "none"'
TINT_PATTERN = r"(\d+(?:\.\d+)?) +toward +(magenta|green)"

_TINT = re.compile(TINT_PATTERN)


def parse_tint(text: str) -> float | None:
    """Steps that the camera moves its picture toward magenta; negative toward green.

    text : in small letters; "none" is 0
    Returns None for anything else
    """
    if text == "none":
        return 0.0
    found = _TINT.fullmatch(text)
    if found is None:
        return None
    return float(found[1]) if found[2] == "magenta" else -float(found[1])


def say_tint(steps: float) -> str:
    """As it is written: "4 toward magenta", "none"."""
    if steps == 0:
        return "none"
    return f"{abs(steps):g} toward {'magenta' if steps > 0 else 'green'}"
