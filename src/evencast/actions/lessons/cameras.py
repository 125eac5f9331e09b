"""Lesson: what the eye takes for one light, two cameras may not."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from evencast.actions.balance import Balance
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.faces import hexes, pictured_light, raw_words
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import COMPUTED, capital
from evencast.actions.look_words import eye_words, seen_by
from evencast.actions.picture import TWO_CAMERAS
from evencast.camera.sensitivities import CAMERAS
from evencast.colour import mired_duv, uv, xyz
from evencast.handouts.lessons.rows import Half, PatchRow, PatchRows
from evencast.lights import Light, light_of
from evencast.quantities import Floats, kelvin
from evencast.results.lessons import LessonTable, Option, Preset, Question
from evencast.results.picture import PictureAnswer


def say_share(percent: float) -> str:
    """The share of the lamp in the mix: "40 % of the light from the lamp"."""
    return f"{percent:.0f} % of the light from it"


SHARE = Slider("share", "How much of the lamp is in it", 0.0, 100.0, 5.0, 100.0, say_share)
LAMP = Choice(
    "lamp",
    "The lamp that was matched",
    (
        Option("FL4", "warm white tube"),
        Option("FL2", "cool white tube"),
        Option("FL11", "three-band tube"),
        Option("LED-B3", "white LED"),
        Option("LED-RGB1", "LED of three colours"),
    ),
    "FL4",
)
SEEN_STOPS = 0.1
"""Two cameras that differ by less are taken as alike here."""


@lru_cache(maxsize=16)
def balance_of(lamp: str) -> Balance:
    """A balance that the eye cannot tell from the lamp: its own Kelvin and Duv."""
    at_mired, at_duv = (float(each) for each in mired_duv(uv(light_of(lamp).power)))
    return Balance(kelvin(at_mired), at_duv)


def mix(lamp: str, share: float) -> Light:
    """So much light from the lamp, the rest from a smooth light of exactly its colour.

    share : 0 to 1 of the luminous level
    """
    smooth, own = balance_of(lamp).power, light_of(lamp).power
    power: Floats = share * own / xyz(own)[1] + (1.0 - share) * smooth / xyz(smooth)[1]
    return Light(light_of(lamp).name, "unknown", power)


@lru_cache(maxsize=512)
def seen_as(lamp: str, share: float, camera: str) -> PictureAnswer:
    """The mix as the eye or a camera sees it, balanced to the smooth light."""
    return pictured_light(mix(lamp, share), balance_of(lamp), camera=camera)


def question() -> Question:
    """Whether a match by meter holds for cameras."""
    eye, one, other = (seen_as("FL4", 1.0, each) for each in CAMERAS)
    apart = max(
        abs((one.bare_residual_rg_stops or 0.0) - (other.bare_residual_rg_stops or 0.0)),
        abs((one.bare_residual_bg_stops or 0.0) - (other.bare_residual_bg_stops or 0.0)),
    )
    right = "c" if apart > SEEN_STOPS else "b"
    return Question(
        asks="A smooth lamp was tuned until eye and colour meter find no difference between it "
        "and a warm white tube. Two cameras are balanced to that lamp. What do they make of the "
        "tube?",
        options=[
            Option("a", "Neutral too: equal is equal"),
            Option("b", "Both are off by the same"),
            Option("c", "Each is off by something else"),
        ],
        right=right,
        because=f"To the eye the tube is {eye_words(eye, filtered=False)}. Camera A has "
        f"{raw_words(one)}; camera B has {raw_words(other)}. Each camera has three bands of its "
        "own, and the tube's lines fall into them differently. A frame of a grey card settles it.",
    )


CONTROLS = (SHARE, LAMP)
TEXT = (
    "Two lights can look the same and be made of different wavelengths. A meter sees as "
    "the eye does, so it calls them equal.",
    "A camera has other bands than the eye, and another camera has others again: under "
    "lamps of lines and bands they disagree.",
    "So a match by meter is the beginning. A frame of a grey card under each lamp is the "
    "end of it.",
)
LOOK_FOR = (
    "Move the slider: to the eye the grey stays as it is all the way. Skins may turn even "
    "there, for skin picks out other wavelengths.",
    "Compare the two cameras at 100 %: they need not even err to the same side.",
    "The bands of camera B overlap, so that little in its raw is much in its picture.",
)
TRIES = (
    Preset("None of it: all agree", {"share": "0", "lamp": "FL4"}),
    Preset("Half of it", {"share": "50", "lamp": "FL4"}),
    Preset("A white LED", {"share": "100", "lamp": "LED-B3"}),
    Preset("An LED of three colours", {"share": "100", "lamp": "LED-RGB1"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """A light that never changes to the eye, more and more of it from a real lamp."""
    percent, lamp = SHARE.read(asked), LAMP.read(asked)
    answers = [seen_as(lamp, percent / 100.0, each) for each in CAMERAS]
    whites = [seen_as(lamp, 0.0, each) for each in CAMERAS]
    _, one, other = answers
    return Told(
        controls=[SHARE.control(percent), LAMP.control(lamp)],
        text=TEXT,
        sentence=_sentence(answers, percent),
        table=LessonTable(
            f"A grey card and two skins under {one.light}, {percent:.0f} % of the light",
            ["Seen by", "What is left of the grey card", "Drawn as"],
            [[seen_by(each), raw_words(each), hexes(each, filtered=False)] for each in answers],
        ),
        numbers={
            "share_percent": percent,
            "eye_residual_mired": answers[0].bare_residual_mired,
            "eye_residual_duv": answers[0].bare_residual_duv,
            "camera_a_rg_stops": one.bare_residual_rg_stops,
            "camera_a_bg_stops": one.bare_residual_bg_stops,
            "camera_b_rg_stops": other.bare_residual_rg_stops,
            "camera_b_bg_stops": other.bare_residual_bg_stops,
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=PatchRows(
            title=f"{one.light} as eye and cameras see it",
            rows=[
                PatchRow(
                    capital(seen_by(each)),
                    [f"A grey card: {raw_words(each)}"],
                    [
                        Half("smooth light", white.bare),
                        Half(f"{percent:.0f} % {each.light}", each.bare),
                    ],
                )
                for each, white in zip(answers, whites, strict=True)
            ],
        ),
        notes=[
            "R/G and B/G are red and blue against green in the camera's raw, balanced to the "
            "smooth light, in stops.",
            TWO_CAMERAS,
            COMPUTED,
        ],
    )


def _sentence(answers: list[PictureAnswer], percent: float) -> str:
    eye, one, other = answers
    return (
        f"With {percent:.0f} % {one.light} the eye sees {eye_words(eye, filtered=False)}, camera A "
        f"{_most_off(one)}, camera B {_most_off(other)}."
    )


def _most_off(answer: PictureAnswer) -> str:
    """Of red and blue against green the one that is further off."""
    told = (raw_words(answer)).split("; ")
    red, blue = answer.bare_residual_rg_stops or 0.0, answer.bare_residual_bg_stops or 0.0
    return told[0] if abs(red) > abs(blue) else told[-1]
