"""Lesson: orange and blue, each at both balances."""

from __future__ import annotations

from collections.abc import Mapping

from evencast.actions.balance import Balance
from evencast.actions.lessons.asked import Slider
from evencast.actions.lessons.faces import halves, pictured, seen_words
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import (
    COMPUTED,
    GRADES,
    NONE,
    STRENGTHS,
    once,
    say_sheet,
    say_strength,
)
from evencast.actions.look_words import eye_words
from evencast.handouts.lessons.rows import PatchRow, PatchRows
from evencast.quantities import say_loss, say_stops
from evencast.results.lessons import LessonTable, Option, Preset, Question
from evencast.results.picture import PictureAnswer

STRENGTH = Slider(
    "strength", "Strength of the sheets", 0.0, len(STRENGTHS) - 1.0, 1.0, 5.0, say_strength
)
BALANCES_K = (3200.0, 5600.0)
SIDES = (("tungsten", "CTB"), ("daylight", "CTO"))


def question() -> Question:
    """The right lamp behind the wrong sheet."""
    seen = pictured("tungsten", ("full CTO",), Balance(5600.0))
    bare, through = seen.bare_residual_mired or 0.0, seen.residual_mired or 0.0
    return Question(
        asks="The camera stands at 5600 K. In front of a tungsten lamp of 3200 K hangs full CTO, "
        "the orange one. How does the lamp come out?",
        options=[
            Option("a", "Neutral: the sheet corrects it"),
            Option("b", f"{bare:.0f} mired warm, as without the sheet"),
            Option("c", f"About {round(through, -1):.0f} mired warm"),
        ],
        right="c",
        because=f"Bare it is {bare:.0f} mired warm at 5600 K, and orange warms it further, to "
        f"{eye_words(seen, filtered=True)}. Tungsten in a daylight picture wants blue; orange is "
        "for daylight in a tungsten picture.",
    )


CONTROLS = (STRENGTH,)
LOOK_FOR = (
    "The upper half is a daylight picture, the lower half a tungsten one: in each only one "
    "lamp needs a sheet at all.",
    "Look at the second half of each pair: darker is what the sheet takes.",
)
TRIES = (
    Preset("No sheet", {"strength": "0"}),
    Preset("Half: both lamps still differ, less", {"strength": "3"}),
    Preset("Full", {"strength": "5"}),
)


def tell(asked: Mapping[str, str]) -> Told:
    """Tungsten through blue and daylight through orange, at 3200 K and at 5600 K."""
    place = STRENGTH.read(asked)
    grade = STRENGTHS[round(place)]
    pictures = [
        (series, balance_k, _seen(name, grade, series, balance_k))
        for balance_k in reversed(BALANCES_K)
        for name, series in SIDES
    ]
    blue, orange = pictures[0][2], pictures[3][2]
    return Told(
        controls=[STRENGTH.control(place)],
        text=[
            "Blue (CTB) makes tungsten fit a picture balanced for daylight; orange (CTO) makes "
            "daylight fit one balanced for tungsten.",
            "One lamp, one sheet, two balances: the same sheet is right at one and far off at "
            "the other, so the balance comes first.",
            f"Full blue on tungsten costs {say_loss(_full(0).loss_stops)}, full orange on daylight "
            f"{say_loss(_full(1).loss_stops)}: tungsten has most of its light where blue stops it.",
        ],
        sentence=_sentence(grade, blue, orange),
        table=LessonTable(
            "Lamps and sheets at both balances",
            ["Balance", "Lamp", "Sheet", "A grey card bare", "Through the sheet", "Loss"],
            [
                [
                    f"{balance_k:.0f} K",
                    seen.light,
                    say_sheet(grade, series),
                    eye_words(seen, filtered=False),
                    eye_words(seen, filtered=True),
                    say_loss(seen.loss_stops) if seen.filters else "none",
                ]
                for series, balance_k, seen in pictures
            ],
        ),
        numbers=_numbers(pictures),
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=PatchRows(
            title="Tungsten and daylight at both balances",
            rows=[
                PatchRow(
                    f"Camera at {balance_k:.0f} K: {seen.light}",
                    [f"A grey card: {seen_words(seen)}"],
                    halves(seen),
                )
                for _, balance_k, seen in pictures
            ],
        ),
        notes=["The stop is metered under the bare light and held.", COMPUTED],
        cautions=once(each for _, _, seen in pictures for each in seen.cautions),
    )


def _seen(name: str, grade: str, series: str, balance_k: float) -> PictureAnswer:
    filters = () if grade == NONE else (f"{grade} {series}",)
    return pictured(name, filters, Balance(balance_k))


def _full(place: int) -> PictureAnswer:
    """A lamp through the full sheet that is made for it, at the other balance."""
    name, series = SIDES[place]
    return _seen(name, GRADES[-1], series, BALANCES_K[1 - place])


def _sentence(grade: str, blue: PictureAnswer, orange: PictureAnswer) -> str:
    if grade == NONE:
        return (
            f"Bare, tungsten is {eye_words(blue, filtered=False)} at 5600 K and daylight "
            f"{eye_words(orange, filtered=False)} at 3200 K."
        )
    return (
        f"{grade.capitalize()} CTB leaves tungsten {eye_words(blue, filtered=True)} at 5600 K and "
        f"costs {say_stops(blue.loss_stops)}; {grade} CTO leaves daylight "
        f"{eye_words(orange, filtered=True)} at 3200 K and costs {say_stops(orange.loss_stops)}."
    )


def _numbers(pictures: list[tuple[str, float, PictureAnswer]]) -> dict[str, float | None]:
    found: dict[str, float | None] = {}
    for series, balance_k, seen in pictures:
        start = f"{series}_at_{balance_k:.0f}_k"
        found |= {
            f"{start}_bare_residual_mired": seen.bare_residual_mired,
            f"{start}_residual_mired": seen.residual_mired,
            f"{start}_loss_stops": seen.loss_stops,
        }
    return found
