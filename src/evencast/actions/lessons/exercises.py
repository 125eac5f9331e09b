"""Exercises on the rulers, the balance, sheets and green: what is asked, and the way there."""

from __future__ import annotations

from evencast.actions.balance import Balance
from evencast.actions.doubt import looks, middle
from evencast.actions.lessons import balance, green, ruler
from evencast.actions.lessons.faces import halves, pictured, seen_words
from evencast.actions.lessons.told import Chart
from evencast.actions.lessons.words import capital, say_green, say_shift
from evencast.actions.look_words import eye_words
from evencast.filters import generic
from evencast.handouts.lessons.rows import PatchRow, PatchRows
from evencast.lights import light_of
from evencast.quantities import kelvin, mired, say_duv, say_mired, say_stops
from evencast.results.lessons import Exercise

Made = tuple[Exercise, Chart]
"""An exercise, and the picture that goes with its answer."""


def on_the_ruler(number: int) -> Made:
    """A lamp through a sheet, by mired."""
    lamp_k, sheet = 3000.0, "half CTB"
    named = ruler.named_shift(sheet)
    start = mired(lamp_k)
    by_hand = start + named
    found_k = ruler.through_k(ruler.on(f"{lamp_k:.0f}K", sheet)) or 0.0
    chart = ruler.tell({"lamp": f"{lamp_k:g}", "sheet": sheet}).chart
    return (
        Exercise(
            number=number,
            lesson="ruler",
            title="A tired lamp",
            asks=f"A halogen lamp has sunk to {lamp_k:.0f} K. You hang {sheet} in front of it. "
            "What Kelvin comes out?",
            given=[f"{sheet} is named for {say_shift(named)}."],
            steps=[
                f"The lamp in mired: 1 000 000 / {lamp_k:.0f} = {start:.1f}.",
                f"Less the sheet: {start:.1f} - {abs(named):.1f} = {by_hand:.1f}.",
                f"Back to Kelvin: 1 000 000 / {by_hand:.1f} = {kelvin(by_hand):.0f} K.",
                f"From spectra: {found_k:.0f} K. On a lamp this smooth the ruler is right to "
                f"{abs(mired(found_k) - by_hand):.0f} mired.",
            ],
            answer=f"About {found_k:.0f} K.",
            numbers={
                "lamp_mired": start,
                "by_hand_k": kelvin(by_hand),
                "found_k": found_k,
            },
        ),
        chart,
    )


def at_a_balance(number: int) -> Made:
    """Daylight at a balance between."""
    light_k, balance_k = 5600.0, 4300.0
    seen = pictured("daylight", (), Balance(balance_k))
    apart = mired(light_k) - mired(balance_k)
    chart = balance.tell({"balance": f"{balance_k:g}", "light": "daylight"}).chart
    return (
        Exercise(
            number=number,
            lesson="balance",
            title="In between",
            asks=f"The camera is balanced to {balance_k:.0f} K, between tungsten and "
            f"daylight. How does daylight of {light_k:.0f} K come out: warm or cool, and by how "
            "many mired?",
            given=[],
            steps=[
                f"The light in mired: 1 000 000 / {light_k:.0f} = {mired(light_k):.1f}.",
                f"The balance in mired: 1 000 000 / {balance_k:.0f} = {mired(balance_k):.1f}.",
                f"Light minus balance: {mired(light_k):.1f} - {mired(balance_k):.1f} = "
                f"{apart:+.1f}; minus is cool.",
                f"From spectra: {eye_words(seen, filtered=False)}.",
            ],
            answer=f"{say_mired(apart)}.",
            numbers={"by_hand_mired": apart, "found_mired": seen.bare_residual_mired},
        ),
        chart,
    )


STACKS: tuple[tuple[str, ...], ...] = (
    ("full CTO",),
    ("full CTO", "eighth CTO"),
    ("full CTO", "quarter CTO"),
)


def for_a_window(number: int) -> Made:
    """Which stack turns a cool window to tungsten."""
    window_k, balance_k = 6500.0, 3200.0
    wanted = mired(balance_k) - mired(window_k)
    seen = {each: pictured("daylight D65", each, Balance(balance_k)) for each in STACKS}
    left = {each: answer.residual_mired or 0.0 for each, answer in seen.items()}
    best = min(STACKS, key=lambda each: abs(left[each]))
    named = {each: sum(ruler.named_shift(sheet) for sheet in each) for each in STACKS}
    return (
        Exercise(
            number=number,
            lesson="pair",
            title="The north window",
            asks=f"The scene is tungsten, the camera at {balance_k:.0f} K. A window under an "
            f"overcast sky reads {window_k:.0f} K. In the bag are full, quarter and eighth CTO. "
            "What goes on the window?",
            given=[
                f"{' + '.join(each)}: {shift:.0f} mired warmer by name."
                for each, shift in named.items()
            ],
            steps=[
                f"The window in mired: 1 000 000 / {window_k:.0f} = {mired(window_k):.1f}.",
                f"The balance in mired: 1 000 000 / {balance_k:.0f} = {mired(balance_k):.1f}.",
                f"Wanted: {mired(balance_k):.1f} - {mired(window_k):.1f} = {wanted:.1f} warmer.",
                *(
                    f"{' + '.join(each)}: by name leaves {say_mired(named[each] - wanted)}; from "
                    f"spectra {eye_words(answer, filtered=True)}, costs "
                    f"{say_stops(answer.loss_stops)}."
                    for each, answer in seen.items()
                ),
            ],
            answer=capital(f"{' + '.join(best)}: {eye_words(seen[best], filtered=True)}."),
            numbers={
                "wanted_mired": wanted,
                **{f"{' + '.join(each)}_left_mired": left[each] for each in STACKS},
                "loss_stops": seen[best].loss_stops,
            },
        ),
        PatchRows(
            title="The window at 3200 K",
            rows=[PatchRow(capital(seen_words(seen[best])), [], halves(seen[best]))],
        ),
    )


GREENS = ("eighth minus green", "quarter minus green", "half minus green")


def for_a_tube(number: int) -> Made:
    """Which minus green a tube takes."""
    tube = "FL6"
    seen = {each: green.tube_seen(tube, each) for each in GREENS}
    bare = green.tube_seen(tube, "no sheet")
    before = bare.bare_residual_duv or 0.0
    left = {each: answer.residual_duv or 0.0 for each, answer in seen.items()}
    best = min(GREENS, key=lambda each: abs(left[each]))
    named = {each: generic(each).note for each in GREENS}
    side = middle(looks(light_of("tungsten"), [generic(best)]).shift_mired)
    return (
        Exercise(
            number=number,
            lesson="green",
            title="The light white tube",
            asks=f"A light white tube is {before:+.4f} Duv beside the white of its Kelvin, "
            f"{say_duv(before)}. Which minus green leaves the least? And what would that same "
            "sheet do to the mired of tungsten?",
            given=[f"{each}: {note}." for each, note in named.items()],
            steps=[
                "By name, the sheet nearest to what the tube is off by takes it out.",
                *(f"From spectra, {each} leaves {say_green(left[each])}." for each in GREENS),
                f"In front of tungsten, {best} is {say_shift(side)}: magenta takes green, and "
                "what is left of tungsten is mostly red.",
            ],
            answer=f"{capital(best)}; on tungsten it is {say_shift(side)}.",
            numbers={
                "bare_green_duv": before,
                **{f"{each}_left_duv": left[each] for each in GREENS},
                "tungsten_shift_mired": side,
            },
        ),
        PatchRows(
            title="The tube through the sheet",
            rows=[PatchRow(capital(seen_words(seen[best])), [], halves(seen[best]))],
        ),
    )
