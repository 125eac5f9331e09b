"""Lesson: one sheet on five lamps."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from evencast.actions.balance import Balance
from evencast.actions.doubt import Looks, ends, looks, middle
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.faces import halves, pictured
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import (
    COMPUTED,
    GRADES,
    capital,
    once,
    say_band,
    say_green,
    say_shift,
    shift_of,
)
from evencast.filters import generic
from evencast.handouts.lessons.rows import PatchRow, PatchRows
from evencast.lights import light_of
from evencast.quantities import kelvin, say_duv, say_loss, say_stops
from evencast.results.lessons import LessonTable, Option, Preset, Question
from evencast.results.picture import PictureAnswer

LAMPS = ("tungsten", "daylight", "LED-B3", "FL4", "HP1")
SERIES = Choice(
    "series",
    "The sheet",
    (
        Option("CTB", "CTB, blue"),
        Option("CTO", "CTO, orange"),
        Option("straw", "straw, a yellower orange"),
    ),
    "CTB",
)


def say_grade(place: float) -> str:
    """The grade at a place of the slider."""
    return GRADES[round(place)]


STRENGTH = Slider("strength", "Its strength", 0.0, len(GRADES) - 1.0, 1.0, 4.0, say_grade)


@lru_cache(maxsize=256)
def on(lamp: str, sheet: str) -> Looks:
    """The sheet in front of a lamp."""
    return looks(light_of(lamp), [generic(sheet)])


def seen(lamp: str, sheet: str) -> PictureAnswer:
    """The lamp bare and through the sheet, at the balance of its own Kelvin, its loss made
    good."""
    at_k = round(kelvin(middle(on(lamp, sheet).bare.mired)), -1)
    return pictured(lamp, (sheet,), Balance(at_k), exposure="compensated")


def turn(answer: PictureAnswer) -> float:
    """Green that the sheet adds, each Duv counted from the white of its own Kelvin: daylight is
    not green. + greener"""
    return (answer.residual_duv or 0.0) - (answer.bare_residual_duv or 0.0)


def question() -> Question:
    """What blue does to sodium."""
    usual = abs(middle(on("tungsten", "full CTB").shift_mired))
    found = abs(middle(on("HP1", "full CTB").shift_mired))
    right = "a" if abs(found - usual) < 10.0 else ("b" if found > usual else "c")
    return Question(
        asks=f"Full CTB cools tungsten by {usual:.0f} mired. By how much does it cool a sodium "
        "street lamp?",
        options=[
            Option("a", f"By {usual:.0f} mired: that is what the sheet is"),
            Option("b", "By more: the lamp is warmer, so there is more to correct"),
            Option("c", "By about half of that"),
        ],
        right=right,
        because=f"By {found:.0f} mired, and it turns it "
        f"{say_duv(turn(seen('HP1', 'full CTB')))}. "
        "A sheet only takes light away; sodium has hardly any blue to be left over.",
    )


CONTROLS = (SERIES, STRENGTH)
TEXT = (
    "No sheet has a shift of its own. It takes its share of each wavelength, and what that "
    "does depends on which wavelengths are there.",
    "On smooth light, tungsten and daylight, the name of the sheet is nearly right. On "
    "LED and tubes it turns green or magenta as well; on sodium it fails.",
    "The band is what sheets of that name may do: the odder the lamp, the wider.",
)
LOOK_FOR = (
    "Bare, every grey is neutral or nearly so: the camera is balanced to each lamp's own "
    "Kelvin. All that differs on the right is what one and the same sheet did.",
    "Look for the lamp whose grey leaves the line from orange to blue.",
)
TRIES = (
    Preset("Orange", {"series": "CTO", "strength": "4"}),
    Preset("Half blue", {"series": "CTB", "strength": "2"}),
    Preset("Straw beside orange", {"series": "straw", "strength": "4"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """Shift, green, loss and band of one sheet on each lamp."""
    place, series = STRENGTH.read(asked), SERIES.read(asked)
    sheet = f"{GRADES[round(place)]} {series}"
    every = [(lamp, on(lamp, sheet), seen(lamp, sheet)) for lamp in LAMPS]
    return Told(
        controls=[SERIES.control(series), STRENGTH.control(place)],
        text=TEXT,
        sentence=_sentence(sheet, every),
        table=LessonTable(
            f"{sheet} on five lamps",
            ["Lamp", "Shift", "Band of the shift", "Shift in Duv", "Turn, white by white", "Loss"],
            [
                [
                    looked.light.name,
                    say_shift(shift_of(looked)),
                    say_band(looked),
                    f"{middle(looked.shift_duv):+.4f}",
                    say_green(turn(pair)),
                    say_loss(middle(looked.loss_stops)),
                ]
                for _, looked, pair in every
            ],
        ),
        numbers=_numbers(every),
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=PatchRows(
            title=f"{sheet} on five lamps",
            rows=[
                PatchRow(
                    capital(looked.light.name),
                    [_told(looked, pair)],
                    halves(pair),
                )
                for _, looked, pair in every
            ],
        ),
        notes=[
            "What the sheet takes is made good, so that only colour differs.",
            "The turn counts each Duv from the white of its own Kelvin, since daylight has +0.003 "
            "and is not called green for it.",
            COMPUTED,
        ],
        cautions=once(each for _, _, pair in every for each in pair.cautions),
    )


def _told(looked: Looks, pair: PictureAnswer) -> str:
    shift = f"{say_shift(shift_of(looked))} ({say_band(looked).removesuffix(' mired')})"
    return f"{shift}, {say_duv(turn(pair))}, {say_stops(middle(looked.loss_stops))}"


def _sentence(sheet: str, every: list[tuple[str, Looks, PictureAnswer]]) -> str:
    told = [
        f"{say_shift(shift_of(looked))} on {looked.light.name}"
        for _, looked, _ in (every[0], every[-1])
    ]
    return f"{capital(sheet)}: {told[0]}, {told[1]}."


def _numbers(every: list[tuple[str, Looks, PictureAnswer]]) -> dict[str, float | None]:
    found: dict[str, float | None] = {}
    for lamp, looked, pair in every:
        low, high = ends(looked.shift_mired, 3)
        found |= {
            f"{lamp}_shift_mired": shift_of(looked),
            f"{lamp}_shift_low_mired": low,
            f"{lamp}_shift_high_mired": high,
            f"{lamp}_shift_duv": middle(looked.shift_duv),
            f"{lamp}_turn_duv": turn(pair),
            f"{lamp}_loss_stops": middle(looked.loss_stops),
        }
    return found
