"""Key and fill on a ball: one half lit by both, the other by the fill alone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evencast.handouts.charts.ground import GREYS, Ground
from evencast.handouts.charts.svg import data_fill, element, path, titled
from evencast.handouts.lessons.sheet import MARGIN, PAGE, WALL, WIDTH, ended, lines
from evencast.handouts.pictures import COMPUTED

_RADIUS = 74.0


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball of a middle grey.

    key_side, fill_side : how either half looks, "#rrggbb"
    told                : lines below
    """

    head: str
    key_side: str
    fill_side: str
    told: Sequence[str]


@dataclass(frozen=True, slots=True)
class BallsChart:
    """Two balls beside each other."""

    title: str
    balls: tuple[Ball, Ball]

    def svg(self, *, ground: Ground = "paper", wall: bool = False) -> str:
        """The picture; its letters are larger for a wall."""
        letters = WALL if wall else PAGE
        greys, body, feet = GREYS[ground], list[str](), [0.0]
        room = WIDTH / 2 - 2 * MARGIN
        heads = [
            lines(
                body,
                each.head,
                (WIDTH / 2 * place + MARGIN, MARGIN),
                room,
                greys.ink,
                size=letters.told,
                bold=True,
            )
            for place, each in enumerate(self.balls)
        ]
        top = max(heads) + 8.0
        for place, each in enumerate(self.balls):
            x = WIDTH / 2 * place + MARGIN
            body.append(
                element(
                    "rect", x=x, y=top, width=room, height=2 * _RADIUS + 20.0, fill=greys.allowed
                )
            )
            centre = (x + room / 2, top + 10.0 + _RADIUS)
            body.append(titled(_ball(each, centre), f"{each.head}: {'; '.join(each.told)}"))
            foot = top + 2 * _RADIUS + 26.0
            for told in each.told:
                foot = lines(body, told, (x, foot), room, greys.soft, size=letters.told) + 2.0
            feet.append(foot)
        foot = lines(
            body,
            f"Left half: key and fill; right half: fill alone. {COMPUTED}",
            (MARGIN, max(feet) + 6.0),
            WIDTH - 2 * MARGIN,
            greys.soft,
            size=PAGE.told,
        )
        told = " ".join(f"{each.head}: {', '.join(each.told)}." for each in self.balls)
        return ended(body, (WIDTH, foot), title=self.title, told=told, ground=ground)


def _ball(each: Ball, centre: tuple[float, float]) -> list[str]:
    return [
        path(_half(centre, side), fill=data_fill(fill), closed=True)
        for side, fill in ((-1.0, each.key_side), (1.0, each.fill_side))
    ]


def _half(centre: tuple[float, float], side: float) -> list[tuple[float, float]]:
    """Half a disc, from its top round one side to its foot."""
    x, y = centre
    turns = [math.pi * step / 48 for step in range(49)]
    return [(x + side * _RADIUS * math.sin(turn), y - _RADIUS * math.cos(turn)) for turn in turns]
