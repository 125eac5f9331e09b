"""What each lesson makes of a setting, before its question and its place are put to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol

from evencast.handouts.charts.ground import Ground
from evencast.results.lessons import Control, LessonTable, Preset


class Chart(Protocol):
    """A picture of numbers."""

    def svg(self, *, ground: Ground = "paper", wall: bool = False) -> str:
        """The picture; for a `wall` with larger letters, and its parts beside each other."""


@dataclass(frozen=True, slots=True)
class Told:
    """One setting of a lesson: as `LessonAnswer`, and the numbers as they are drawn."""

    controls: list[Control]
    text: Sequence[str]
    sentence: str
    table: LessonTable
    numbers: dict[str, float | None]
    look_for: Sequence[str]
    tries: Sequence[Preset]
    chart: Chart
    notes: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
