"""Lesson: green and magenta, the other axis."""

from __future__ import annotations

from collections.abc import Mapping

from evencast.actions.balance import Balance
from evencast.actions.doubt import Looks, looks, middle
from evencast.actions.lessons.asked import Choice, Slider
from evencast.actions.lessons.faces import halves, hexes, pictured, pictured_light, seen_words
from evencast.actions.lessons.told import Told
from evencast.actions.lessons.words import COMPUTED, GRADES, capital, say_green, say_shift, shift_of
from evencast.colour import mired_duv, uv, white_uv
from evencast.filters import Filter, generic
from evencast.handouts.lessons.rows import Half, PatchRow, PatchRows
from evencast.lights import Light, light_of
from evencast.quantities import kelvin, say_duv, say_loss
from evencast.results.lessons import LessonTable, Option, Preset, Question
from evencast.results.picture import PictureAnswer

AT_K = 4300.0
GREENS = tuple(each for each in GRADES if each != "three-quarter")
"""Greens are not made in three-quarters."""
MOST = len(GREENS)


def sheet_name(place: float) -> str:
    """The sheet at a place of the slider: magenta to the left, green to the right, none at 0."""
    if round(place) == 0:
        return "no sheet"
    side = "plus green" if place > 0 else "minus green"
    return f"{GREENS[abs(round(place)) - 1]} {side}"


DUV = Slider("duv", "How far off the white", -0.02, 0.02, 0.001, 0.006, say_green)
SHEET = Slider("sheet", "Sheet on the tube", -MOST, MOST, 1.0, -2.0, sheet_name)
TUBE = Choice(
    "tube",
    "The tube",
    (
        Option("FL2", "cool white tube"),
        Option("FL6", "light white tube"),
        Option("FL5", "daylight tube"),
        Option("FL11", "three-band tube"),
    ),
    "FL6",
)


def question() -> Question:
    """Whether the weakest sheet is too much."""
    seen = tube_seen("FL2", "eighth minus green")
    before, after = seen.bare_residual_duv or 0.0, seen.residual_duv or 0.0
    right = "a" if abs(after) < 0.0005 else ("b" if after < 0 < before else "c")
    return Question(
        asks="The common office tube, cool white, reads a trace green. The weakest sheet in the "
        "bag is an eighth minus green. Hang it?",
        options=[
            Option("a", "Yes: it comes out neutral"),
            Option("b", "No: it comes out magenta"),
            Option("c", "No: it stays green, that takes a full one"),
        ],
        right=right,
        because=f"Beside the white of its own Kelvin the tube is {before:+.4f} Duv, "
        f"{say_duv(before)}. Through the eighth it is {after:+.4f}, {say_duv(after)}: a sheet can "
        "be too strong for a small fault, and then no sheet is the answer.",
    )


def tube_seen(tube: str, sheet: str) -> PictureAnswer:
    """A tube through a sheet at the balance of the tube's own Kelvin, its loss made good."""
    filters = () if sheet == "no sheet" else (sheet,)
    return pictured(tube, filters, Balance(tube_k(tube)), exposure="compensated")


def tube_k(tube: str) -> float:
    """Kelvin of a tube, to the nearest that a camera can be set to: 10 K."""
    return round(kelvin(float(mired_duv(uv(light_of(tube).power))[0])), -1)


def off_white(duv: float) -> Light:
    """A light of 4300 K so far off the white of it."""
    own = float(mired_duv(white_uv(AT_K))[1])
    return Light(f"a light of {AT_K:.0f} K", "unknown", Balance(AT_K, own + duv).power)


CONTROLS = (DUV, TUBE, SHEET)
TEXT = (
    "Kelvin and mired run from orange to blue. Duv runs across them, + towards green and "
    "- towards magenta, and no change of Kelvin brings it back.",
    "0.001 is about one step that can just be seen side by side; skin shows it first.",
    "Minus green is the magenta sheet. It takes some green out and is no cure for a "
    "spectrum with holes.",
)
LOOK_FOR = (
    "Cover the grey with a hand and judge the skins alone, then uncover it.",
    "The sheet that cures a tube also changes its Kelvin, and tungsten's more: see the table.",
)
TRIES = (
    Preset("A trace: who sees it?", {"duv": "0.001", "tube": "FL2", "sheet": "0"}),
    Preset("Too much magenta", {"duv": "-0.006", "tube": "FL2", "sheet": "-2"}),
    Preset("A green tube and what cures it", {"duv": "0.01", "tube": "FL5", "sheet": "-3"}),
    Preset("Or make your own lamps green", {"duv": "0.006", "tube": "FL11", "sheet": "2"}),
)
NOTES = (
    "What the sheet takes is made good, so that only colour differs.",
    "How small a step is seen is from CIE TN 001, from memory, unchecked.",
    COMPUTED,
)


def tell(asked: Mapping[str, str]) -> Told:
    """A light off the white by so much, and a tube with a green or magenta sheet."""
    duv, place, tube = DUV.read(asked), SHEET.read(asked), TUBE.read(asked)
    sheet = sheet_name(place)
    filters: list[Filter] = [] if sheet == "no sheet" else [generic(sheet)]
    off, seen = pictured_light(off_white(duv), Balance(AT_K)), tube_seen(tube, sheet)
    looked, tungsten = (looks(light_of(each), filters) for each in (tube, "tungsten"))
    bare = seen.bare_residual_duv or 0.0
    left = (seen.residual_duv or 0.0) if filters else bare
    return Told(
        controls=[DUV.control(duv), TUBE.control(tube), SHEET.control(place)],
        text=TEXT,
        sentence=f"{capital(seen.light)} is {say_duv(bare)}"
        + (f"; through {sheet} it is {say_duv(left)}." if filters else ", bare."),
        table=LessonTable(
            "Lights beside the white of their own Kelvin",
            ["Light", "Green", "Shift in mired", "Loss", "Drawn as"],
            [
                _row(f"{off.light}, off by the slider", duv, drawn=hexes(off, filtered=False)),
                _row(f"{seen.light}, bare", bare, drawn=hexes(seen, filtered=False)),
                _row(f"{seen.light} through {sheet}", left, looked, hexes(seen, filtered=True)),
                _row(f"tungsten through {sheet}", middle(tungsten.shift_duv), tungsten),
            ],
        ),
        numbers={
            "duv": duv,
            "bare_green_duv": bare,
            "green_duv": left,
            "shift_duv": middle(looked.shift_duv),
            "shift_mired": shift_of(looked),
            "tungsten_shift_mired": shift_of(tungsten),
            "loss_stops": seen.loss_stops,
        },
        look_for=LOOK_FOR,
        tries=TRIES,
        chart=_chart(duv, off, seen),
        notes=list(NOTES),
        cautions=seen.cautions,
    )


def _row(name: str, duv: float, looked: Looks | None = None, drawn: str = "-") -> list[str]:
    """A light in the table, and what a sheet does to it."""
    done = ["-", "-"]
    if looked is not None:
        done = [say_shift(shift_of(looked)), say_loss(middle(looked.loss_stops))]
    return [name, say_green(duv), *done, drawn]


def _chart(duv: float, off: PictureAnswer, seen: PictureAnswer) -> PatchRows:
    """The light beside the white, then the tube."""
    white = pictured_light(off_white(0.0), Balance(AT_K))
    return PatchRows(
        title="Green and magenta",
        rows=[
            PatchRow(
                f"{AT_K:.0f} K, {say_green(duv)}",
                ["Camera balanced to the white of that Kelvin"],
                [Half("the white", white.bare), Half("this light", off.bare)],
            ),
            PatchRow(
                capital(seen.light),
                [f"Camera at {seen.balance}. A grey card: {seen_words(seen)}"],
                halves(seen),
            ),
        ],
    )
