"""What a lesson can be set to: sliders and choices, read from the address of its page."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from evencast.errors import EvencastError
from evencast.quantities import listed
from evencast.results.lessons import Control, Option

LONGEST = 60
"""Letters of a value that a failure repeats."""


@dataclass(frozen=True, slots=True)
class Slider:
    """A number between two ends.

    start : where it stands when nothing is asked
    say   : the number for people
    """

    name: str
    label: str
    low: float
    high: float
    step: float
    start: float
    say: Callable[[float], str]

    def read(self, asked: Mapping[str, str]) -> float:
        """The number asked for, on the nearest step.

        Raises  EvencastError for what is no number, or beyond the ends
        """
        if self.name not in asked:
            return self.start
        text = asked[self.name].strip()
        try:
            number = float(text) if len(text) <= LONGEST else math.nan
        except ValueError:
            number = math.nan
        if not self.low <= number <= self.high:
            raise EvencastError(
                f'"{text[:LONGEST]}" is no place on this slider',
                where=f"{self.name}, {self.label.lower()}",
                remedy=f"Give a number from {self.low:g} to {self.high:g}.",
            )
        steps = round((number - self.low) / self.step)
        return round(self.low + steps * self.step, 6) + 0.0

    def control(self, number: float) -> Control:
        """The slider as it stands."""
        return Control(
            name=self.name,
            label=self.label,
            kind="slider",
            value=f"{number:g}",
            shown=self.say(number),
            low=self.low,
            high=self.high,
            step=self.step,
        )


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few.

    options : in their order; the key is what stands in the address
    """

    name: str
    label: str
    options: tuple[Option, ...]
    start: str

    def read(self, asked: Mapping[str, str]) -> str:
        """The key asked for.

        Raises  EvencastError for one that is not there
        """
        text = asked.get(self.name, self.start).strip()
        keys = [each.key for each in self.options]
        if text not in keys:
            raise EvencastError(
                f'"{text[:LONGEST]}" is none of the choices',
                where=f"{self.name}, {self.label.lower()}",
                remedy=f"Choose {listed(keys, 'or')}.",
            )
        return text

    def text(self, key: str) -> str:
        """The words of an option."""
        return next(each.text for each in self.options if each.key == key)

    def control(self, key: str) -> Control:
        """The choice as it stands."""
        return Control(
            name=self.name,
            label=self.label,
            kind="choice",
            value=key,
            shown=self.text(key),
            options=list(self.options),
        )
