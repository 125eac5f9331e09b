"""One sheet on two rulers: Kelvin above, mired below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.scale import Scale
from evencast.handouts.charts.svg import arrow, dot, element, line, words
from evencast.handouts.lessons.sheet import MARGIN, PAGE, WALL, WIDTH, Letters, ended, lines

COOLEST_K, WARMEST_K = 20_000.0, 1800.0
_INDENT, _ROOM = 22.0, WIDTH - 2 * MARGIN
_KELVINS = (2000, 5000, 10_000, 15_000, 20_000)
_MIREDS = (100, 200, 300, 400, 500)


@dataclass(frozen=True, slots=True)
class Slide:
    """The sheet in front of one lamp.

    lamp_k, through_k : before and after; None for after where there is no colour temperature
    told_k, told_mired : how far it goes on either ruler, in words
    live  : the one that the slider stands at
    """

    name: str
    lamp_k: float
    through_k: float | None
    told_k: str
    told_mired: str
    live: bool = False


@dataclass(frozen=True, slots=True)
class RulersChart:
    """The same sheet in front of several lamps.

    sheet : its name
    """

    title: str
    sheet: str
    slides: tuple[Slide, ...]

    def svg(self, *, ground: Ground = "paper", wall: bool = False) -> str:
        """The picture: one ruler below the other; for a wall beside it."""
        greys, body = GREYS[ground], list[str]()
        letters = WALL if wall else PAGE
        left, right = MARGIN + _INDENT, WIDTH - MARGIN - _INDENT
        beside = WIDTH if wall else 0.0
        kelvins = _Ruler(Scale(0.0, COOLEST_K, left, right), greys, letters, is_kelvin=True)
        mireds = _Ruler(
            Scale(0.0, 1e6 / WARMEST_K, left + beside, right + beside),
            greys,
            letters,
            is_kelvin=False,
        )
        foot = kelvins.draw(body, self.slides, MARGIN)
        foot = max(foot, mireds.draw(body, self.slides, MARGIN if wall else foot + 18.0))
        told = " ".join(f"{each.name}: {each.told_k}, {each.told_mired}." for each in self.slides)
        return ended(body, (WIDTH + beside, foot), title=self.title, told=told, ground=ground)


@dataclass(frozen=True, slots=True)
class _Ruler:
    """One ruler, in Kelvin or in mired."""

    scale: Scale
    greys: Greys
    letters: Letters
    is_kelvin: bool

    def draw(self, body: list[str], slides: Sequence[Slide], top: float) -> float:
        """With the sheet laid on it once for each lamp. Returns where it ends."""
        axis = self._axis(body, top)
        foot = axis + self.letters.told + 14.0
        for each in slides:
            foot = self._slide(body, each, foot)
        return foot

    def _axis(self, body: list[str], top: float) -> float:
        """The head and the marks. Returns where the ruler lies."""
        head = "In Kelvin: bluer to the right" if self.is_kelvin else "In mired: bluer to the left"
        left, size = self.scale.start - _INDENT, self.letters.head
        axis = lines(body, head, (left, top), _ROOM, self.greys.ink, size=size, bold=True) + 12.0
        start, end = (self.scale.start, axis), (self.scale.end, axis)
        body.append(line(start, end, self.greys.line, width=1.5))
        for value in _KELVINS if self.is_kelvin else _MIREDS:
            x = self.scale.at(value)
            body.append(line((x, axis - 5.0), (x, axis + 5.0), self.greys.line, width=1.5))
            at = (x, axis + 5.0 + self.letters.told)
            size = self.letters.told
            body += words([str(value)], at, self.greys.soft, size=size, anchor="middle")
        return axis

    def _slide(self, body: list[str], each: Slide, top: float) -> float:
        """One lamp: a ring where it is bare, a dot where it is behind the sheet, the sheet
        between. Returns where it ends."""
        told = each.told_k if self.is_kelvin else each.told_mired
        foot = lines(
            body,
            f"{each.name}: {told}",
            (self.scale.start - _INDENT, top),
            _ROOM,
            self.greys.ink if each.live else self.greys.soft,
            size=self.letters.told,
            bold=each.live,
        )
        y = foot + 12.0
        body.append(line((self.scale.start, y), (self.scale.end, y), self.greys.grid))
        start = self.scale.clamped(self._value(each.lamp_k))
        end, beyond = self._end(each)
        high = 14.0 if each.live else 8.0
        fill = self.greys.soft if each.live else self.greys.band
        low, wide = min(start, end), abs(end - start)
        body.append(element("rect", x=low, y=y - high / 2, width=wide, height=high, fill=fill))
        ink = self.greys.ink
        body.append(dot((start, y), 6.0, fill=self.greys.ground, stroke=ink, width=2.0))
        if beyond:
            away = 1.0 if end == self.scale.end else -1.0
            body.append(arrow((end + 12.0 * away, y), (away, 0.0), fill=ink, stroke=ink))
        else:
            body.append(dot((end, y), 6.0, fill=ink, stroke=ink))
        return y + 14.0

    def _value(self, cct_k: float) -> float:
        return cct_k if self.is_kelvin else 1e6 / cct_k

    def _end(self, each: Slide) -> tuple[float, bool]:
        """Where the sheet ends, px, and whether it goes on beyond the ruler; without a colour
        temperature it goes off the blue end."""
        if each.through_k is None:
            return (self.scale.end if self.is_kelvin else self.scale.start), True
        value = self._value(each.through_k)
        return self.scale.clamped(value), not self.scale.holds(value)
