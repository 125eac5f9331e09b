"""Lesson: why a higher Kelvin at the camera makes the picture warmer."""

from __future__ import annotations

from collections.abc import Mapping

from evencast.actions.balance import Balance
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.faces import hexes, pictured, seen_words
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import COMPUTED, say_kelvin
from evencast.actions.look_words import eye_words
from evencast.colour import mired_duv, uv
from evencast.handouts.lessons.rows import Half, PatchRow, PatchRows
from evencast.lights import light_of
from evencast.quantities import kelvin
from evencast.results.lessons import LessonTable, Option, Preset, Question

BALANCE = Slider("balance", "Balance of the camera", 2500.0, 10_000.0, 100.0, 5600.0, say_kelvin)
LIGHT = Choice(
    "light",
    "The one light in the room",
    (
        Option("tungsten", "tungsten, 3200 K"),
        Option("daylight", "daylight, 5600 K"),
        Option("FL2", "cool white tube, 4225 K"),
    ),
    "tungsten",
)
LADDER_K = (2800.0, 3200.0, 4300.0, 5600.0, 8000.0)


def question() -> Question:
    """What turning the Kelvin up does."""
    low, high = (pictured("tungsten", (), Balance(each)) for each in (3200.0, 5600.0))
    before, after = low.bare_residual_mired or 0.0, high.bare_residual_mired or 0.0
    return Question(
        asks="One tungsten lamp of 3200 K lights the room. You turn the camera from 3200 K up to "
        "5600 K. What becomes of the grey card?",
        options=[
            Option("a", "Cooler: 5600 K is the bluer light"),
            Option("b", "Warmer"),
            Option("c", "It stays: the light has not changed"),
        ],
        right="b" if after > before + 1.0 else ("a" if after < before - 1.0 else "c"),
        because=f"At 3200 K the card comes out at {eye_words(low, filtered=False)}, at 5600 K "
        f"{eye_words(high, filtered=False)}. The number names the light that the camera takes "
        "for white: told to expect blue daylight it takes blue away, and the lamp had none to "
        "spare.",
    )


CONTROLS = (BALANCE, LIGHT)
TEXT = (
    "A balance does not say how the picture shall look. It says which light the camera is "
    "to take for white.",
    "Name a bluer light than is there, and the camera takes blue away: the picture comes "
    "out warm. Name a warmer one, and it comes out cool.",
    "Only where the balance meets the light is grey grey.",
)
LOOK_FOR = (
    "The light never changes. Walk the ladder from left to right: each higher Kelvin is warmer.",
    "Skin turns with the grey, but is harder to judge: look at the card.",
)
TRIES = (
    Preset("The balance meets the lamp", {"balance": "3200", "light": "tungsten"}),
    Preset("Daylight, camera left at 3200 K", {"balance": "3200", "light": "daylight"}),
    Preset("Daylight, balance far up", {"balance": "8000", "light": "daylight"}),
    Preset("A tube: Kelvin meets, a trace of green stays", {"balance": "4200", "light": "FL2"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """Grey and skins under one light, at this balance and along a ladder of others."""
    balance_k, name = BALANCE.read(asked), LIGHT.read(asked)
    seen = pictured(name, (), Balance(balance_k))
    ladder = sorted({*LADDER_K, balance_k})
    steps = {each: pictured(name, (), Balance(each)) for each in ladder}
    light_k = kelvin(float(mired_duv(uv(light_of(name).power))[0]))
    left = eye_words(seen, filtered=False)
    return Told(
        controls=[BALANCE.control(balance_k), LIGHT.control(name)],
        text=TEXT,
        sentence=f"Balanced at {balance_k:.0f} K, a light of {light_k:.0f} K comes out {left}.",
        table=LessonTable(
            f"{seen.light} at each balance",
            ["Balance", "A grey card to the eye", "Drawn as"],
            [
                [say_kelvin(each), eye_words(answer, filtered=False), hexes(answer, filtered=False)]
                for each, answer in steps.items()
            ],
        ),
        numbers={
            "balance_k": balance_k,
            "light_k": light_k,
            "residual_mired": seen.bare_residual_mired,
            "residual_duv": seen.bare_residual_duv,
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=PatchRows(
            title=f"{seen.light} at a balance of {balance_k:.0f} K",
            rows=[
                PatchRow(
                    f"Camera at {balance_k:.0f} K",
                    [f"The light: {light_k:.0f} K. A grey card: {seen_words(seen)[5:]}"],
                    [Half("grey, light skin, dark skin", seen.bare)],
                ),
                PatchRow(
                    "The same card at each balance",
                    [],
                    [
                        Half(f"{each:.0f} K", answer.bare[:1], marked=each == balance_k)
                        for each, answer in steps.items()
                    ],
                ),
            ],
            key="",
        ),
        notes=[COMPUTED],
    )
