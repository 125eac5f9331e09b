"""A filter as a lesson: what to predict before looking, what to look for, and what comes out.

The sentences are computed: they name what the pictures beside them show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from evencast.actions.card.numbers import Numbers
from evencast.actions.card.pictures import light_of_grey
from evencast.actions.card.words import (
    NEAR_MIRED,
    lamp_words,
    say_loss,
    say_percent,
    say_turn,
)
from evencast.quantities import say_duv, say_stops
from evencast.results.card import CardLesson, CardPicture

EXPOSURE_STOPS = 0.5
"""From here the darkness is a part of the lesson."""


def lesson(each: Numbers, pictures: Sequence[CardPicture]) -> CardLesson:
    """The lesson of one filter at two balances."""
    writers = {"ND": _density, "diffusion": _diffusion, "green": _green}
    writer = writers.get(each.filter.role, _colour)
    question, answer = writer(each, pictures)
    about = each.loss_stops >= EXPOSURE_STOPS
    look_for = [_seen(each, picture) for picture in pictures]
    if about:
        look_for.append(_darker(each, nearest_picture(pictures)))
    return CardLesson(question, look_for, answer, about)


def nearest_picture(pictures: Sequence[CardPicture]) -> CardPicture:
    """The balance that the filter brings the light nearer to, or else the nearest one."""

    def rank(each: CardPicture) -> tuple[bool, float]:
        if each.residual_mired is None or each.bare_residual_mired is None:
            return True, math.inf
        after, before = abs(each.residual_mired), abs(each.bare_residual_mired)
        return after > before - NEAR_MIRED, after

    return min(pictures, key=rank)


def _seen(each: Numbers, picture: CardPicture) -> str:
    lamp = lamp_words(each.light.name)
    before, after = picture.bare_looks, picture.filtered_looks
    told = f"At {picture.balance_k:.0f} K bare {lamp} is {before}; "
    if after in (before, "the same"):
        return f"{told}through the sheet it is still {before}: grey and skins keep their colour."
    off = picture.residual_mired
    neutral = off is not None and abs(off) <= NEAR_MIRED and "and" not in after
    skin = "the skins have their own colours" if neutral else "the skins go the same way"
    return f"{told}through the sheet the grey is {after}, and {skin}."


def _darker(each: Numbers, picture: CardPicture) -> str:
    before, after = light_of_grey(picture.bare), light_of_grey(picture.filtered)
    return (
        f"With the stop held, the grey falls from {say_percent(before)} to {say_percent(after)} "
        f"of white: the sheet took {say_stops(each.loss_stops)}."
    )


def _colour(each: Numbers, pictures: Sequence[CardPicture]) -> tuple[str, str]:
    lamp = lamp_words(each.light.name)
    if not math.isfinite(each.shift_mired):
        return (
            f"Is there a balance at which a grey card in {lamp} through this sheet comes out grey?",
            "No: what comes through has no colour temperature. "
            f"It took {say_loss(each.loss_stops)}.",
        )
    best = nearest_picture(pictures)
    return (
        f"The camera is at {best.balance_k:.0f} K, the light is {lamp}. Which way does the grey go "
        "when the sheet goes in, how far, and by how many stops must the lens open?",
        f"{say_turn(each.shift_mired)}; {say_loss(each.loss_stops)}.",
    )


def _green(each: Numbers, pictures: Sequence[CardPicture]) -> tuple[str, str]:
    del pictures
    return (
        "Which way does the grey go, toward green or toward magenta, and can the camera's Kelvin "
        "alone bring it back?",
        f"{say_duv(each.green_change)}, {each.green_change:+.4f}. Not by Kelvin, which moves "
        f"between blue and orange: by tint. It took {say_loss(each.loss_stops)}.",
    )


def _density(each: Numbers, pictures: Sequence[CardPicture]) -> tuple[str, str]:
    del pictures
    return (
        "How many stops darker does the grey come out, and does it matter to which balance the "
        "camera is set?",
        f"{say_loss(each.loss_stops)}, at any balance; its colour: "
        f"{say_turn(each.shift_mired) if math.isfinite(each.shift_mired) else 'none'}.",
    )


def _diffusion(each: Numbers, pictures: Sequence[CardPicture]) -> tuple[str, str]:
    del pictures
    ends = each.filter.loss_range_stops
    lost = f"{say_stops(ends[0])} to {say_stops(ends[1])}" if ends else say_loss(each.loss_stops)
    return (
        "What is this sheet for that no picture of flat patches can show?",
        f"Softness: the edge of a shadow. It took {lost}, by beam and distance.",
    )
