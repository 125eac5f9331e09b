"""A thing as a key: what was made of it is found again as long as it is that very thing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True, eq=False)
class Itself(Generic[T]):
    """Equals none but what holds the same object; for what can not be changed, and is too large
    to be compared."""

    held: T

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Itself) and other.held is self.held

    def __hash__(self) -> int:
        return id(self.held)
