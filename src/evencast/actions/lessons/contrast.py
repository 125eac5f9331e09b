"""Lesson: 4:1 in both definitions."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from evencast.actions.lessons.asked import Slider
from evencast.actions.lessons.told import Told
from evencast.actions.ratio import ALONE, ratio
from evencast.camera.display import display_named, shown
from evencast.handouts.lessons.balls import Ball, BallsChart
from evencast.quantities import say_stops
from evencast.results.expose import RatioAnswer
from evencast.results.lessons import LessonTable, Option, Preset, Question

KEY_LUX = 400.0
GREY = 0.4
"""Reflectance of the ball: light enough for its dark side to show at 16:1."""


HEADS = ("Key : fill", "(Key + fill) : fill")


def say_ratio(to_one: float) -> str:
    """ "4:1"."""
    return f"{to_one:g}:1"


RATIO = Slider("ratio", "The ratio that is called for", 2.0, 16.0, 0.5, 4.0, say_ratio)


def both(to_one: float, key_lux: float = KEY_LUX) -> tuple[RatioAnswer, RatioAnswer]:
    """The fill by key : fill and by (key + fill) : fill, each as it is then read."""
    wanted = ratio(f"{key_lux:g}lx", say_ratio(to_one))
    fills = (wanted.fill_by_key_to_fill, wanted.fill_by_sum_to_fill)
    first, second = (ratio(f"{key_lux:g}lx", f"{fill:.4f}lx") for fill in fills)
    return first, second


def balls(to_one: float, answers: tuple[RatioAnswer, RatioAnswer]) -> BallsChart:
    """One ball for each definition."""
    first, second = (_ball(to_one, head, each) for head, each in zip(HEADS, answers, strict=True))
    return BallsChart(f"{say_ratio(to_one)} in both definitions", (first, second))


def question() -> Question:
    """How much fill."""
    first, second = both(4.0)
    fills = (first.fill_by_key_to_fill, second.fill_by_key_to_fill)
    return Question(
        asks=f"The key alone reads {KEY_LUX:.0f} lux. The gaffer calls for 4:1. What must the fill "
        "alone read?",
        options=[
            Option("a", f"{fills[0]:.0f} lux"),
            Option("b", f"{fills[1]:.0f} lux"),
            Option("c", "One or the other: it was not said which ratio"),
        ],
        right="c",
        because=f"Key to fill, each alone: {KEY_LUX:.0f} / 4 = {fills[0]:.0f} lux. Key side to "
        f"fill side, where both lights reach the key side: {KEY_LUX:.0f} / (4 - 1) = "
        f"{fills[1]:.0f} lux. They differ by "
        f"{math.log2(fills[1] / fills[0]):.2f} stop: ask which is meant.",
    )


CONTROLS = (RATIO,)
TEXT = (
    "A ratio compares the bright side of a face with the dark one, and two things are "
    "called by that name.",
    "Key to fill holds each light by itself against the other, as a meter reads them with "
    "one lamp shaded. The other holds the two sides of the face against each other, and "
    "the bright side gets both lights.",
    "The smaller the ratio, the more it matters: say which one is meant.",
)
LOOK_FOR = (
    "Both balls are called by the same ratio. The dark half of the left one is darker.",
    "Move the slider up: from 8:1 on the two hardly differ.",
)
TRIES = (
    Preset("2:1, where it matters most", {"ratio": "2"}),
    Preset("4:1", {"ratio": "4"}),
    Preset("8:1, where it hardly matters", {"ratio": "8"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """One ratio, two fills, two faces."""
    to_one = RATIO.read(asked)
    first, second = both(to_one)
    apart = math.log2(second.fill_by_key_to_fill / first.fill_by_key_to_fill)
    return Told(
        controls=[RATIO.control(to_one)],
        text=TEXT,
        sentence=f"{say_ratio(to_one)} with a key of {KEY_LUX:.0f} lux is a fill of "
        f"{first.fill_by_key_to_fill:.0f} lux or of {second.fill_by_key_to_fill:.0f} lux, "
        f"{say_stops(apart)} apart.",
        table=LessonTable(
            f"{say_ratio(to_one)} with a key of {KEY_LUX:.0f} lux alone",
            ["Definition", "Fill alone", "Key : fill", "(Key + fill) : fill", "Side to side"],
            [
                [
                    head,
                    f"{each.fill_by_key_to_fill:.0f} lux",
                    f"{each.key_to_fill:.2f}:1",
                    f"{each.sum_to_fill:.2f}:1",
                    f"{each.sum_to_fill_stops:.2f} stop",
                ]
                for head, each in zip(HEADS, (first, second), strict=True)
            ],
        ),
        numbers={
            "ratio": to_one,
            "key_lux": KEY_LUX,
            "fill_by_key_to_fill_lux": first.fill_by_key_to_fill,
            "fill_by_sum_to_fill_lux": second.fill_by_key_to_fill,
            "key_to_fill_stops": first.key_to_fill_stops,
            "side_to_side_stops": first.sum_to_fill_stops,
            "sum_to_fill_stops": second.sum_to_fill_stops,
            "apart_stops": apart,
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=balls(to_one, (first, second)),
        notes=[
            ALONE,
            "Half of the ball is lit by both lights, half by the fill alone; a head has "
            "every step between. Computed, not a photograph.",
        ],
    )


def _ball(to_one: float, head: str, answer: RatioAnswer) -> Ball:
    fill = answer.fill_by_key_to_fill
    sides = np.array([answer.key + fill, fill]) / answer.key * GREY
    key_side, fill_side = shown(sides[:, None] * np.ones(3), display_named("sRGB")).hexes()
    return Ball(
        head=f"{head} = {say_ratio(to_one)}",
        key_side=key_side,
        fill_side=fill_side,
        told=[
            f"fill {fill:.0f} lux, {answer.key_to_fill_stops:.2f} stop under the key alone",
            f"side to side {answer.sum_to_fill_stops:.2f} stop",
        ],
    )
