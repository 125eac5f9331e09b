"""What the fuzzers need to know of a reader."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Reader:
    """One reader.

    samples : sound texts to spoil
    tokens  : pieces that mean something to it
    read    : reads a text and asserts that the answer is right
    many    : cases of the full count
    longest_s : processor time within which any text must be answered
    """

    samples: Sequence[str]
    tokens: Sequence[str]
    read: Callable[[str], object]
    many: int = 100_000
    longest_s: float = 2.0
