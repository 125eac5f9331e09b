"""Short answers as text, without a table library: these commands must start at once."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from evencast.quantities import say_stops, say_turn
from evencast.results.light import (
    Band,
    LightAnswer,
    LightReading,
    say_colour,
    say_kelvin,
    say_reading_duv,
)
from evencast.results.through import ThroughAnswer

if TYPE_CHECKING:  # every class costs its share of a quick answer's start
    from evencast.results.catalogue import Places

WIDTH = 80


def light(answer: LightAnswer) -> str:
    """A light's colour."""
    lines = [sentence(f"{answer.name} is {say_colour(answer)}."), ""]
    lines += pairs(
        [
            ("CCT", say_kelvin(answer)),
            ("mired", "none" if answer.mired is None else f"{answer.mired:.1f}"),
            ("Duv", say_reading_duv(answer)),
            ("x, y", f"{answer.x:.4f}, {answer.y:.4f}"),
            *reading_band(answer.band),
            *quality(answer),
            ("kind", answer.kind + (", spectrum assumed" if answer.assumed else "")),
            ("note", answer.note or "none"),
        ]
    )
    lines += ["", sentence(" ".join(answer.quality))]
    return "\n".join(lines + bullets("Mind", answer.cautions) + written(answer.written_to))


def through(answer: ThroughAnswer) -> str:
    """What a stack does."""
    stack = " + ".join(answer.filters)
    cost = "loses " + say_stops(answer.loss_stops)
    looks = say_colour(answer.filtered)
    if answer.shift_mired is None:
        told = f"{stack} turns {answer.light} into {looks} and {cost}."
    else:
        told = f"{stack} turns {answer.light} {say_turn(answer.shift_mired)} and {cost}: {looks}."
    lines = [sentence(told), ""]
    lines += pairs(
        [
            ("bare", row(answer.bare)),
            ("through", row(answer.filtered)),
            ("shift", shift(answer.shift_mired, answer.shift_duv)),
            ("loss", f"{say_stops(answer.loss_stops)} ({answer.loss_stops:.2f})"),
            *band(answer.band),
        ]
    )
    lines += bullets("Know", answer.notes) + bullets("Mind", answer.cautions)
    return "\n".join(lines + written(answer.written_to))


def band(ends: Band | None) -> list[tuple[str, str]]:
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


def reading_band(ends: Band | None) -> list[tuple[str, str]]:
    """What a light may be of which a reading is known, as a row."""
    if ends is None:
        return []
    low, high = (_end(each, ".0f", sign="") for each in ends["cct_k"])
    less, more = (_end(each, ".4f") for each in ends["duv"])
    return [("band", f"{low} to {high} K, Duv {less} to {more}")]


def _end(value: float | None, form: str, *, sign: str = "+") -> str:
    """One end of a band; a question mark where it has no colour temperature."""
    return "?" if value is None else f"{value + 0.0:{sign}{form}}"


def where(answer: Places) -> str:
    """Where things are."""
    lines = [f"evencast {answer.version}", ""]
    return "\n".join(
        lines
        + pairs(
            [("program", answer.program), ("library", answer.library), ("log", answer.log)],
            wrap=False,
        )
    )


_OBEYED = {code: "\ufffd" for code in (*range(32), *range(127, 160)) if chr(code) != "\n"}


def harmless(text: str) -> str:
    """A text in which nothing is left that a terminal would obey, whoever wrote the names."""
    return text.translate(_OBEYED)


def written(file: str | None) -> list[str]:
    """Where a spectrum went, or nothing."""
    return [] if file is None else ["", f"Written to {file}"]


def row(reading: LightReading) -> str:
    """A reading on one line."""
    mired = "no mired" if reading.mired is None else f"{reading.mired:.0f} mired"
    return f"{say_kelvin(reading):>7}  {mired:>9}  Duv {say_reading_duv(reading)}"


def quality(reading: LightReading) -> list[tuple[str, str]]:
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


def shift(mired: float | None, duv_shift: float | None) -> str:
    """A shift in numbers and words."""
    if mired is None or duv_shift is None:
        return "none: one of both colours has no colour temperature"
    side = "" if abs(duv_shift) < 0.00005 else (" greener" if duv_shift > 0 else " more magenta")
    return f"{say_turn(mired)}, Duv {duv_shift + 0.0:+.4f}{side}"


def many(count: int, what: str) -> str:
    """A number of things: "1 sheet", "3 sheets"."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def sentence(text: str) -> str:
    """An answer sentence, wrapped."""
    return textwrap.fill(
        text[0].upper() + text[1:], WIDTH, break_long_words=False, break_on_hyphens=False
    )


def pairs(entries: Sequence[tuple[str, str]], *, wrap: bool = True) -> list[str]:
    """Names and what belongs to them, aligned."""
    margin = max(len(name) for name, _ in entries) + 4
    lines = []
    for name, text in entries:
        head = f"  {name}".ljust(margin)
        lines.append(
            textwrap.fill(text, WIDTH, initial_indent=head, subsequent_indent=" " * margin)
            if wrap and len(head + text) > WIDTH
            else head + text
        )
    return lines


def bullets(title: str, texts: Iterable[str]) -> list[str]:
    """A titled list, or nothing."""
    entries = [
        textwrap.fill(text, WIDTH, initial_indent="  - ", subsequent_indent="    ")
        for text in dict.fromkeys(texts)
    ]
    return ["", f"{title}:", *entries] if entries else []
