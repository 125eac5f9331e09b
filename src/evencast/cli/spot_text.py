"""Spots as text: a line for each, and under it the lights that are worth a word."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from evencast.cli.plain import WIDTH, bullets
from evencast.quantities import say_left, say_stops
from evencast.results.expose import Range
from evencast.results.spot import LightAtSpot, SpotAnswer
from evencast.results.words import say_stop_range

WIDEST_MARGIN = 24
"""A spot with a longer name has it on a line of its own."""


def spots(answers: Sequence[SpotAnswer]) -> list[str]:
    """Lines of at most 80 columns; none where there is no spot."""
    if not answers:
        return []
    title = "What each spot gets, by role" if answers[0].assumed else "What each spot gets"
    lines = ["", f"{title}:"]
    margin = min(max(len(each.name) for each in answers) + 4, WIDEST_MARGIN)
    for each in answers:
        head = f"  {each.name}".ljust(margin)
        if len(each.name) + 4 > margin:
            lines += _hanging(each.name, "  ")
            head = " " * margin
        lines += _hanging(_spot(each), head)
        for light in each.lights:
            if light.off_colour or (light.away and not light.within):
                lines += _hanging(_light(light, each.blames), " " * margin + "- ")
    return lines + bullets("Know", (note for each in answers for note in each.notes))


def _spot(answer: SpotAnswer) -> str:
    parts = [answer.verdict]
    if answer.f_number is not None:
        parts.append(say_stop_range(answer.f_number))
    if answer.level_stops is not None and not (answer.role == "key" and answer.level_stops == 0):
        parts.append(f"{_beside(answer.level_stops)} the key side")
    if answer.over_stops is not None:
        parts.append(_over(answer.over_stops))
    return "; ".join(parts) + "."


def _light(light: LightAtSpot, blamed: str | None) -> str:
    """A light's share and colour; what it does and what to do, unless the spot's line says so."""
    told = f"{light.name}: {_percent(light.share)} of the light"
    if light.off_colour:
        told += f", {say_left(light.residual_mired, light.residual_duv)} by itself"
    if light.name == blamed:
        return f"{told}."
    if light.pull_mired is not None:
        told += f", pulls it {say_left(light.pull_mired, light.pull_duv)}"
    return f"{told}: {light.advice}."


def _percent(share: float) -> str:
    return "under 1 %" if share < 0.005 else f"{100.0 * share:.0f} %"


def _beside(stops: float) -> str:
    """A level against another: "1 2/3 stops under", "level with"."""
    if round(3 * stops) == 0:
        return "level with"
    return f"{say_stops(stops)} {_side(stops)}"


def _over(over_stops: Range) -> str:
    """A stop against the one that is set: "as set", "1/3 stop to 2/3 stop over what is set"."""
    low, high = (round(3 * each) / 3 for each in over_stops)
    if low == high:
        return "as set" if low == 0 else f"{say_stops(low)} {_side(low)} what is set"
    if low < 0 < high:
        return f"{say_stops(low)} under to {say_stops(high)} over what is set"
    near, far = sorted((low, high), key=abs)
    first = "up" if near == 0 else say_stops(near)
    return f"{first} to {say_stops(far)} {_side(far)} what is set"


def _side(stops: float) -> str:
    return "over" if stops > 0 else "under"


def _hanging(text: str, head: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=head,
        subsequent_indent=" " * len(head),
        break_long_words=False,
        break_on_hyphens=False,
    )
