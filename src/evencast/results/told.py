"""Short answers in words: a sentence and rows, the same for a terminal and a page."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.quantities import say_loss, say_stops, say_turn
from evencast.results.light import (
    Band,
    LightAnswer,
    LightReading,
    say_colour,
    say_kelvin,
    say_reading_duv,
)
from evencast.results.through import ThroughAnswer


@dataclass(frozen=True, slots=True)
class Told:
    """An answer in words.

    answer : the sentence
    rows   : names and values; a value whose row has no name goes on
    """

    answer: str
    rows: list[tuple[str, str]]


def light_told(answer: LightAnswer) -> Told:
    """A light's colour."""
    rows = [
        ("CCT", say_kelvin(answer)),
        ("mired", "none" if answer.mired is None else f"{answer.mired:.1f}"),
        ("Duv", say_reading_duv(answer)),
        ("x, y", f"{answer.x:.4f}, {answer.y:.4f}"),
        *_reading_band(answer.band),
        *_quality(answer),
        ("kind", answer.kind + (", spectrum assumed" if answer.assumed else "")),
        ("note", answer.note or "none"),
    ]
    return Told(f"{answer.name} is {say_colour(answer)}.", rows)


def through_told(answer: ThroughAnswer) -> Told:
    """What a stack does."""
    stack = " + ".join(answer.filters)
    cost = "loses " + say_stops(answer.loss_stops)
    looks = say_colour(answer.filtered)
    if answer.shift_mired is None:
        told = f"{stack} turns {answer.light} into {looks} and {cost}."
    else:
        told = f"{stack} turns {answer.light} {say_turn(answer.shift_mired)} and {cost}: {looks}."
    rows = [
        ("bare", _reading(answer.bare)),
        ("through", _reading(answer.filtered)),
        ("shift", _shift(answer.shift_mired, answer.shift_duv)),
        ("loss", say_loss(answer.loss_stops)),
        *_band(answer.band),
    ]
    return Told(told, rows)


def _band(ends: Band | None) -> list[tuple[str, str]]:
    """What holds nine in ten of all that the light may do, as a row."""
    if ends is None:
        return [("band", "none: every spectrum is measured")]
    cool, warm = (_end(each, ".0f") for each in ends["shift_mired"])
    less, more = (_end(each, ".4f") for each in ends["shift_duv"])
    little, much = (say_stops(each or 0.0) for each in ends["loss_stops"])
    low, high = (_end(each, ".0f", sign="") for each in ends["cct_k"])
    return [
        ("band", f"shift {cool} to {warm} mired, Duv {less} to {more}, loss {little} to {much}"),
        ("", f"through {low} to {high} K"),
    ]


def _reading_band(ends: Band | None) -> list[tuple[str, str]]:
    """What a light may be of which a reading is known, as a row."""
    if ends is None:
        return []
    low, high = (_end(each, ".0f", sign="") for each in ends["cct_k"])
    less, more = (_end(each, ".4f") for each in ends["duv"])
    return [("band", f"{low} to {high} K, Duv {less} to {more}")]


def _end(value: float | None, form: str, *, sign: str = "+") -> str:
    """One end of a band; a question mark where it has no colour temperature."""
    return "?" if value is None else f"{value + 0.0:{sign}{form}}"


def _reading(reading: LightReading) -> str:
    """A reading on one line."""
    mired = "no mired" if reading.mired is None else f"{reading.mired:.0f} mired"
    return f"{say_kelvin(reading):>7}  {mired:>9}  Duv {say_reading_duv(reading)}"


def _quality(reading: LightReading) -> list[tuple[str, str]]:
    """The indices as rows, in whole numbers as their standards print them."""
    rows = (
        ("Ra, R9", (reading.ra, reading.r9), ""),
        ("Rf, Rg", (reading.rf, reading.rg), ""),
        ("SSI", (reading.ssi,), f" against {reading.ssi_reference}"),
    )
    return [
        (name, ", ".join("none" if each is None else f"{each:.0f}" for each in values) + after)
        for name, values, after in rows
        if values[0] is not None
    ]


def _shift(mired: float | None, duv_shift: float | None) -> str:
    """A shift in numbers and words."""
    if mired is None or duv_shift is None:
        return "none: one of both colours has no colour temperature"
    side = "" if abs(duv_shift) < 0.00005 else (" greener" if duv_shift > 0 else " more magenta")
    return f"{say_turn(mired)}, Duv {duv_shift + 0.0:+.4f}{side}"
