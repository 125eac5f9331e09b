"""Lesson: a sheet keeps its length in mired, not in Kelvin."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from evencast.actions.doubt import Looks, looks, middle
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import (
    COMPUTED,
    capital,
    say_band,
    say_kelvin,
    say_shift,
    shift_of,
)
from evencast.colour import white
from evencast.filters import generic
from evencast.filters.dyes import shift_mired
from evencast.handouts.lessons.rulers import RulersChart, Slide
from evencast.lights import light_of
from evencast.quantities import kelvin, mired
from evencast.results.lessons import LessonTable, Option, Preset, Question

SHEETS = (
    *("quarter CTB", "half CTB", "full CTB"),
    *("quarter CTO", "half CTO", "full CTO"),
)
LAMP = Slider("lamp", "Where the lamp stands", 2500.0, 10_000.0, 50.0, 3200.0, say_kelvin)
SHEET = Choice("sheet", "The sheet", tuple(Option(each, each) for each in SHEETS), "full CTB")
BESIDE = {"CTB": (2800.0, 4300.0, 5600.0), "CTO": (4300.0, 5600.0, 10_000.0)}
"""Lamps that stand beside the one that is moved, by the series of the sheet."""
SOURCE = (
    "That equal steps in mired look about equal is Judd's finding (J. Opt. Soc. Am. 23, 1933, 7), "
    "known here by its abstract."
)
REAL = ("FL4", "HP1")
"""Lamps that are no white of any Kelvin."""


@cache
def on(lamp: str, sheet: str) -> Looks:
    """The sheet in front of a light."""
    return looks(light_of(lamp), [generic(sheet)])


def through_k(seen: Looks) -> float | None:
    """Kelvin behind the sheet; None without a colour temperature."""
    at = middle(seen.filtered.mired)
    return kelvin(at) if at == at else None


def question() -> Question:
    """Where a weaker lamp ends up."""
    first, other = 3200.0, 2800.0
    gained = (through_k(on("3200K", "full CTB")) or first) - first
    found = through_k(on("2800K", "full CTB")) or other
    return Question(
        asks=f"Full CTB takes a lamp of {first:.0f} K to {first + gained:.0f} K, {gained:.0f} K "
        f"more. Where does it take a lamp of {other:.0f} K?",
        options=[
            Option("a", f"To {other + gained:.0f} K, again {gained:.0f} K more"),
            Option("b", f"To about {round(found, -1):.0f} K"),
            Option("c", f"To {first + gained:.0f} K, as the sheet says"),
        ],
        right="b",
        because=f"In mired the sheet takes off {mired(other) - mired(found):.0f} from "
        f"{mired(other):.0f}, which leaves {mired(found):.0f}: {found:.0f} K. "
        "The same step in mired is a smaller one in Kelvin where the lamp is warmer.",
    )


CONTROLS = (LAMP, SHEET)
LOOK_FOR = (
    "On the upper ruler the sheet grows and shrinks as the lamp moves; on the lower one "
    "it slides along and keeps its length.",
    "It keeps it nearly, not exactly: even among whites the spectrum behind the sheet changes.",
)
TRIES = (
    Preset("A weak household bulb", {"lamp": "2700", "sheet": "full CTB"}),
    Preset("The same blue on daylight", {"lamp": "5600", "sheet": "full CTB"}),
    Preset("Orange on the sun", {"lamp": "5600", "sheet": "full CTO"}),
    Preset("Orange on blue sky", {"lamp": "10000", "sheet": "full CTO"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """The sheet on both rulers, for this lamp and three others."""
    lamp_k, sheet = LAMP.read(asked), SHEET.read(asked)
    series = sheet.rpartition(" ")[2]
    others = [each for each in BESIDE[series] if each != lamp_k]
    slides = [_slide(lamp_k, sheet, live=True)]
    slides += [_slide(each, sheet, live=False) for each in others]
    seen = on(f"{lamp_k:.0f}K", sheet)
    shift, end_k = shift_of(seen), through_k(seen)
    jump_k = None if end_k is None else end_k - lamp_k
    named = named_shift(sheet)
    return Told(
        controls=[LAMP.control(lamp_k), SHEET.control(sheet)],
        text=[
            f"Kelvin is a bad ruler for light: 500 K more is {_step(2700.0):.0f} mired on a bulb "
            f"of 2700 K, plain to see, and {_step(10_000.0):.0f} on a sky of 10 000 K.",
            "Mired is a million divided by Kelvin, and equal steps of it look about equal.",
            "So a sheet has about one length in mired wherever the lamp stands, and a different "
            "one in Kelvin each time: add and subtract mired, never Kelvin.",
        ],
        sentence=_sentence(sheet, lamp_k, end_k, shift),
        table=LessonTable(
            f"{sheet} in front of whites of several Kelvin, and of two real lamps",
            ["Lamp", "Through the sheet", "In Kelvin", "In mired", "Band"],
            [_row(each, sheet) for each in (f"{lamp_k:.0f}K", *(f"{k:.0f}K" for k in others))]
            + [_row(each, sheet) for each in REAL],
        ),
        numbers={
            "lamp_k": lamp_k,
            "lamp_mired": mired(lamp_k),
            "through_k": end_k,
            "through_mired": None if end_k is None else mired(end_k),
            "shift_k": jump_k,
            "shift_mired": shift,
            "named_shift_mired": named,
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=RulersChart(
            f"{sheet} on a ruler in Kelvin and on one in mired", sheet, tuple(slides)
        ),
        notes=[_real(sheet), SOURCE, COMPUTED],
    )


def named_shift(sheet: str) -> float:
    """What the sheet does to the white it is named for. [mired]"""
    found = generic(sheet)
    return float(shift_mired(white(found.on_k), found.transmittance))


def _step(from_k: float) -> float:
    """500 K more, in mired."""
    return mired(from_k) - mired(from_k + 500.0)


def _sentence(sheet: str, lamp_k: float, end_k: float | None, shift: float | None) -> str:
    if end_k is None or shift is None:
        return (
            f"{capital(sheet)} takes {lamp_k:.0f} K off both rulers: so blue that it "
            "has no colour temperature."
        )
    return (
        f"{capital(sheet)} takes {lamp_k:.0f} K to {end_k:.0f} K: "
        f"{say_shift(shift)}, which here is {abs(end_k - lamp_k):.0f} K."
    )


def _slide(lamp_k: float, sheet: str, *, live: bool) -> Slide:
    seen = on(f"{lamp_k:.0f}K", sheet)
    end_k = through_k(seen)
    return Slide(
        name=f"{lamp_k:.0f} K",
        lamp_k=lamp_k,
        through_k=end_k,
        told_k=_said_k(lamp_k, end_k),
        told_mired=say_shift(shift_of(seen)),
        live=live,
    )


def _said_k(lamp_k: float, end_k: float | None) -> str:
    if end_k is None:
        return "to no colour temperature"
    apart = end_k - lamp_k
    return f"{abs(apart):.0f} K {'more' if apart > 0 else 'less'}, to {end_k:.0f} K"


def _row(lamp: str, sheet: str) -> list[str]:
    seen = on(lamp, sheet)
    bare_k = kelvin(middle(seen.bare.mired))
    end_k = through_k(seen)
    name = say_kelvin(bare_k) if lamp not in REAL else f"{seen.light.name}, {say_kelvin(bare_k)}"
    return [
        name,
        say_kelvin(end_k),
        _said_k(bare_k, end_k),
        say_shift(shift_of(seen)),
        say_band(seen),
    ]


def _real(sheet: str) -> str:
    told = [f"{say_shift(shift_of(seen))} on {seen.light.name}" for seen in _on_real(sheet)]
    return (
        f"Real lamps are not on the ruler. By name {sheet} is {say_shift(named_shift(sheet))}; "
        f"it is {' and '.join(told)}: a shift belongs to a sheet in front of a lamp."
    )


def _on_real(sheet: str) -> list[Looks]:
    return [on(each, sheet) for each in REAL]
