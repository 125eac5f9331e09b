"""What a sheet may do: one stroke for each spectrum that it may have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.frame import names_below
from evencast.handouts.charts.ground import GREYS, Greys, Ground
from evencast.handouts.charts.scale import Scale, round_step, window
from evencast.handouts.charts.svg import dot, element, line, px
from evencast.handouts.lessons.sheet import MARGIN, PAGE, WALL, WIDTH, Letters, ended, lines

_HIGH = 34.0


@dataclass(frozen=True, slots=True)
class Strokes:
    """One row.

    shifts : mired, of each spectrum it may have; those without a colour temperature are left out
    band   : 5th and 95th percentile; None where there is one spectrum alone
    middle : None without a colour temperature
    """

    head: str
    told: str
    shifts: Sequence[float]
    band: tuple[float | None, float | None] | None
    middle: float | None


@dataclass(frozen=True, slots=True)
class StrokesChart:
    """Rows over one scale of mired shift."""

    title: str
    rows: Sequence[Strokes]

    def svg(self, *, ground: Ground = "paper", wall: bool = False) -> str:
        """The picture; its letters are larger for a wall."""
        letters = WALL if wall else PAGE
        greys, body = GREYS[ground], list[str]()
        every = [shift for row in self.rows for shift in row.shifts]
        middle = sum(every) / len(every) if every else 0.0
        (low, high), _ = window(
            every,
            least=(middle - 15.0, middle + 15.0),
            most=(-1000.0, 1000.0),
            steps=(5.0, 10.0, 20.0, 50.0, 100.0),
        )
        scale = Scale(low, high, MARGIN + 8.0, WIDTH - MARGIN - 8.0)
        foot = MARGIN
        for row in self.rows:
            foot = _row(body, row, scale, foot, greys, letters) + 14.0
        step = round_step(high - low, 5)
        names = [(scale.at(each), f"{each:+.0f}") for each in scale.marks(step)]
        body += [line((x, foot - 10.0), (x, foot - 4.0), greys.line, width=1.5) for x, _ in names]
        body.append(line((scale.start, foot - 10.0), (scale.end, foot - 10.0), greys.line))
        body += names_below(names, foot + 10.0, (0.0, WIDTH), greys)
        foot = lines(
            body,
            "Across: shift in mired, - cooler, + warmer. Each stroke: one spectrum the sheet may "
            "have. Bar: nine in ten of them. Dot: the middle.",
            (MARGIN, foot + 16.0),
            WIDTH - 2 * MARGIN,
            greys.soft,
            size=PAGE.told,
        )
        told = " ".join(f"{row.head}: {row.told}." for row in self.rows)
        return ended(body, (WIDTH, foot), title=self.title, told=told, ground=ground)


def _row(
    body: list[str], row: Strokes, scale: Scale, top: float, greys: Greys, letters: Letters
) -> float:
    room = WIDTH - 2 * MARGIN
    foot = lines(body, row.head, (MARGIN, top), room, greys.ink, size=letters.head, bold=True)
    foot = lines(body, row.told, (MARGIN, foot), room, greys.soft, size=letters.told) + 4.0
    y = foot + _HIGH / 2
    body.append(element("rect", x=MARGIN, y=foot, width=room, height=_HIGH, fill=greys.panel))
    if row.band is not None:
        start, end = scale.ends(*row.band)
        body.append(
            element(
                "rect",
                x=start,
                y=y - 6.0,
                width=max(end - start, 1.0),
                height=12.0,
                fill=greys.allowed,
            )
        )
    body.append(_strokes(row.shifts, scale, (foot + 3.0, foot + _HIGH - 3.0), greys))
    if row.middle is not None:
        body.append(dot((scale.clamped(row.middle), y), 6.0, fill=greys.ink, stroke=greys.ground))
    return foot + _HIGH


def _strokes(shifts: Sequence[float], scale: Scale, ends: tuple[float, float], greys: Greys) -> str:
    """All strokes as one line; those in one place are drawn once."""
    places = dict.fromkeys(px(scale.clamped(each)) for each in shifts)
    drawn = "".join(f"M{x} {px(ends[0])}V{px(ends[1])}" for x in places)
    wide = 0.8 if len(shifts) > 1 else 2.5
    return element("path", d=drawn, stroke=greys.line, stroke_width=wide, fill="none")
