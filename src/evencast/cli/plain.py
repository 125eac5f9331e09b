"""Short answers as text, without a table library: these commands must start at once."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from evencast.results.light import LightAnswer
from evencast.results.through import ThroughAnswer
from evencast.results.told import Told, light_told, through_told

if TYPE_CHECKING:  # every class costs its share of a quick answer's start
    from evencast.results.catalogue import Places

WIDTH = 80


def light(answer: LightAnswer) -> str:
    """A light's colour."""
    lines = [*told(light_told(answer)), "", sentence(" ".join(answer.quality))]
    return "\n".join(lines + bullets("Mind", answer.cautions) + written(answer.written_to))


def through(answer: ThroughAnswer) -> str:
    """What a stack does."""
    lines = told(through_told(answer))
    lines += bullets("Know", answer.notes) + bullets("Mind", answer.cautions)
    return "\n".join(lines + written(answer.written_to))


def told(answer: Told) -> list[str]:
    """An answer sentence and its rows."""
    return [sentence(answer.answer), "", *pairs(answer.rows)]


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
