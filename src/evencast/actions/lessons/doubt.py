"""Lesson: why there is a band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from evencast.actions.doubt import Looks, ends, looks, middle
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.lamps import on, say_grade
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import COMPUTED, GRADES, capital, say_band, say_shift, shift_of
from evencast.filters import generic
from evencast.handouts.lessons.strokes import Strokes, StrokesChart
from evencast.lights import light_of
from evencast.quantities import say_loss
from evencast.results.lessons import LessonTable, Option, Preset, Question
from evencast.spectra import MEMBERS

STRENGTH = Slider("strength", "The sheet, CTB", 0.0, len(GRADES) - 1.0, 1.0, 4.0, say_grade)
LAMP = Choice(
    "lamp",
    "The lamp",
    (
        Option("FL4", "warm white tube"),
        Option("LED-B3", "white LED"),
        Option("daylight", "daylight"),
        Option("HP1", "sodium street lamp"),
    ),
    "FL4",
)
FAR_MIRED = 20.0


def measured(lamp: str, sheet: str) -> Looks:
    """As if one sheet of that name had been measured: its one spectrum."""
    known = replace(generic(sheet), measured=True, possible=None)
    return looks(light_of(lamp), [known])


def width(seen: Looks) -> float | None:
    """From one end of the band to the other. [mired]"""
    low, high = ends(seen.shift_mired, 3)
    return None if low is None or high is None else high - low


def question() -> Question:
    """How far two sheets with the same numbers may be apart."""
    found = width(on("FL4", "full CTB")) or 0.0
    home = width(on("tungsten", "full CTB")) or 0.0
    return Question(
        asks="Two sheets are both printed 3200 to 5600 K, with the same loss. How far apart can "
        "they be on a warm white tube?",
        options=[
            Option("a", "They do the same: the numbers are the same"),
            Option("b", "By a few mired, less than the eye sees"),
            Option("c", f"By {round(found, -1):.0f} mired, a whole quarter grade"),
        ],
        right="c" if found > FAR_MIRED else "b",
        because=f"Of {MEMBERS} spectra that all fit the printed numbers, nine in ten lie within "
        f"{home:.0f} mired on tungsten, for which the numbers hold, and within {found:.0f} on the "
        "tube. Two numbers do not make a spectrum.",
    )


CONTROLS = (STRENGTH, LAMP)
TEXT = (
    "A sheet is printed with two numbers, and they were found on one lamp. Many dyes have "
    "the same two numbers and part ways on another lamp.",
    f"So {MEMBERS} spectra that all fit are put in front of the lamp. The middle is the "
    "best guess; the band holds nine in ten.",
    "Measure your sheet once, and the band is gone.",
)
LOOK_FOR = (
    "On tungsten the strokes stand together: there the printed numbers hold. On the tube "
    "the same strokes spread.",
    "One measured stroke, somewhere inside the band: it need not be the middle.",
)
TRIES = (
    Preset("A white LED", {"strength": "4", "lamp": "LED-B3"}),
    Preset("Daylight: smooth, so narrow", {"strength": "4", "lamp": "daylight"}),
    Preset("Sodium", {"strength": "4", "lamp": "HP1"}),
    Preset("A weak sheet has a narrow band", {"strength": "1", "lamp": "FL4"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """One sheet known by its numbers, on two lamps; and the same sheet measured."""
    place, lamp = STRENGTH.read(asked), LAMP.read(asked)
    sheet = f"{GRADES[round(place)]} CTB"
    home, away, known = on("tungsten", sheet), on(lamp, sheet), measured(lamp, sheet)
    rows = [
        (f"Declared, on {home.light.name}", home),
        (f"Declared, on {away.light.name}", away),
        (f"Measured, on {away.light.name}", known),
    ]
    return Told(
        controls=[STRENGTH.control(place), LAMP.control(lamp)],
        text=TEXT,
        sentence=_sentence(sheet, home, away),
        table=LessonTable(
            f"{sheet}, declared and measured",
            ["Known how, on which lamp", "Shift", "Band", "Width of the band", "Loss"],
            [
                [
                    head,
                    say_shift(shift_of(seen)),
                    say_band(seen),
                    _said_width(seen),
                    say_loss(middle(seen.loss_stops)),
                ]
                for head, seen in rows
            ],
        ),
        numbers={
            "home_shift_mired": shift_of(home),
            "home_width_mired": width(home),
            "shift_mired": shift_of(away),
            "width_mired": width(away),
            "measured_shift_mired": shift_of(known),
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=StrokesChart(
            title=f"What {sheet} may do",
            rows=[
                Strokes(
                    head=head,
                    told=f"{say_shift(shift_of(seen))}, {_told_band(seen)}",
                    shifts=[float(each) for each in seen.shift_mired if np.isfinite(each)],
                    band=None if seen.is_known else ends(seen.shift_mired, 3),
                    middle=shift_of(seen),
                )
                for head, seen in rows
            ],
        ),
        notes=[
            "Measured here means: one of the spectra taken as if it had been measured. No real "
            "sheet was.",
            COMPUTED,
        ],
    )


def _told_band(seen: Looks) -> str:
    return "one spectrum" if seen.is_known else f"band {say_band(seen)}"


def _said_width(seen: Looks) -> str:
    if seen.is_known:
        return "none"
    found = width(seen)
    return "no end" if found is None else f"{found:.0f} mired"


def _sentence(sheet: str, home: Looks, away: Looks) -> str:
    return (
        f"{capital(sheet)} is known to within {_said_width(home)} on "
        f"{home.light.name} and to within {_said_width(away)} on {away.light.name}."
    )
