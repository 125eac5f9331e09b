"""What stands on the pages of reference, comparison sheet and lesson."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from evencast.actions.card.explained import LIMITED, how_to_read
from evencast.actions.card.facts import as_sentence, facts, say_elsewhere, say_evidence
from evencast.actions.card.frames import Shot, Shots
from evencast.actions.card.lesson import nearest_picture
from evencast.handouts.test_frame import (
    frame_svg,
    has_limited,
    pair_of_frames_svg,
    photograph_svg,
)
from evencast.quantities import listed, say_stops
from evencast.results.card import CardAnswer, CardPicture, CardRow

ROLE_NAMES = {
    "correction": "Correction: warmer and cooler",
    "green": "Green and magenta",
    "ND": "Neutral density",
    "diffusion": "Diffusion",
    "effect": "Effect colours",
}
LONG_ENTRY = 1200
LONG_EXAMPLE = 1500
"""Letters from which an entry of the reference, and an example, may run over to the next page."""
MOST_NAMES = 8
"""Filters that a caution names one by one."""


def reference(answer: CardAnswer, intro: Sequence[str]) -> dict[str, Any]:
    """The reference: introduction, how to read it, and every filter under its role."""
    return {
        "sub": _sub(answer),
        "intro": list(intro),
        "explained": how_to_read(answer),
        "balances": [f"{each:.0f} K" for each in answer.balances_k],
        "sections": [
            {
                "title": ROLE_NAMES[role],
                "rows": [_entry(each) for each in rows],
                "cautions": _cautions(rows),
            }
            for role, rows in _by_role(answer.rows)
        ],
        "nothing": _nothing(answer),
    }


def comparison(answer: CardAnswer, shots: Sequence[Shots]) -> dict[str, Any]:
    """Every filter as a worked example, before and after at both balances."""
    return {
        "sub": _sub(answer),
        "note": _picture_note(answer),
        "examples": [
            _example(row, found, answer) for row, found in zip(answer.rows, shots, strict=True)
        ],
        "nothing": _nothing(answer),
    }


def lessons(answer: CardAnswer, shots: Sequence[Shots]) -> dict[str, Any]:
    """Every filter as a lesson on a page of its own."""
    return {
        "sub": _sub(answer),
        "note": _picture_note(answer),
        "lessons": [
            _example(row, found, answer)
            | {
                "question": row.lesson.question,
                "look_for": row.lesson.look_for,
                "answer": row.lesson.answer,
                "exposure": _exposure(row) if row.lesson.about_exposure else None,
            }
            for row, found in zip(answer.rows, shots, strict=True)
        ],
        "nothing": _nothing(answer),
    }


def _by_role(rows: Sequence[CardRow]) -> list[tuple[str, list[CardRow]]]:
    return [(role, list(each)) for role, each in groupby(rows, key=lambda row: row.role)]


def _sub(answer: CardAnswer) -> str:
    by = f"by {answer.author}" if answer.author.strip() else ""
    many = "1 filter" if len(answer.rows) == 1 else f"{len(answer.rows)} filters"
    return ", ".join(each for each in (many, by, answer.date) if each)


def _nothing(answer: CardAnswer) -> str:
    return "" if answer.rows else "The kit holds no filter to show."


def _picture_note(answer: CardAnswer) -> str:
    seen = "the eye" if answer.camera == "eye" else answer.camera
    note = (
        "Pictures marked computed are no photographs: a grey card, a light and a dark skin and the "
        f"strip of a chart, from spectra, as {seen} sees them, the stop held as metered bare. "
    )
    return note + (LIMITED if _any_limited(answer) else "")


def _any_limited(answer: CardAnswer) -> bool:
    return any(
        has_limited([*each.bare, *each.filtered]) for row in answer.rows for each in row.pictures
    )


def _entry(row: CardRow) -> dict[str, Any]:
    todo = [*row.use, *row.limits]
    about = [row.origin, *say_evidence(row)]
    length = sum(map(len, (row.name, row.note, row.purpose, *todo, *about)))
    return {
        "name": row.name,
        "purpose": as_sentence(row.purpose),
        "facts": facts(row),
        "todo": todo,
        "elsewhere": say_elsewhere(row),
        "about": " · ".join(about),
        "note": row.note,
        "notes": row.notes,
        "pictures": [
            {
                "told": f"{each.balance_k:.0f} K: {each.bare_looks} → {each.filtered_looks}",
                "svg": pair_of_frames_svg(each.bare, each.filtered),
                "alt": _alt(row, each),
            }
            for each in row.pictures
        ],
        "long": length > LONG_ENTRY,
    }


def _example(row: CardRow, found: Shots, answer: CardAnswer) -> dict[str, Any]:
    return {
        "name": row.name,
        "purpose": as_sentence(row.purpose),
        "todo": [*row.use, *row.limits],
        "lamp": row.light,
        "facts": facts(row),
        "notes": row.notes,
        "cautions": row.cautions,
        "long": len(row.name) + len(" ".join([*row.use, *row.limits, *row.notes])) > LONG_EXAMPLE,
        "views": [_view(row, each, found.at(each.balance_k), answer) for each in row.pictures],
    }


def _view(
    row: CardRow, picture: CardPicture, shots: Sequence[Shot], answer: CardAnswer
) -> dict[str, Any]:
    """A balance: before and after as computed, and as photographed where there are frames."""
    return {
        "balance": f"Camera at {picture.balance_k:.0f} K",
        "told": f"Bare {picture.bare_looks}; through the sheet {picture.filtered_looks}.",
        "before": frame_svg(picture.bare),
        "after": frame_svg(picture.filtered),
        "alt": {
            "before": f"{_shown_words(row, picture)} bare: {picture.bare_looks}",
            "after": f"{_shown_words(row, picture)} through {row.name}: {picture.filtered_looks}",
        },
        "photographs": [_photograph(row, each, answer) for each in shots],
    }


def _photograph(row: CardRow, shot: Shot, answer: CardAnswer) -> dict[str, Any]:
    state = "bare" if shot.told.state == "bare" else f"through {row.name}"
    by = f"Photograph by {answer.author}" if answer.author.strip() else "Photograph"
    when = shot.told.date or "no date"
    under = f"under {shot.told.light}" if shot.told.light else ""
    parts = [by, when, f"camera at {shot.balance_k:.0f} K", under]
    return {
        "state": shot.told.state,
        "label": ", ".join(each for each in parts if each),
        "alt": f"Photograph of the light {state}, camera at {shot.balance_k:.0f} K",
        "svg": photograph_svg(
            shot.jpeg, width_px=shot.told.width_px, height_px=shot.told.height_px
        ),
        "width_px": shot.told.width_px,
        "height_px": shot.told.height_px,
    }


def _exposure(row: CardRow) -> dict[str, Any]:
    """The stop held, and opened by what the sheet takes, where the light comes out best."""
    best = nearest_picture(row.pictures)
    opened = say_stops(row.loss_stops)
    at = f"camera at {best.balance_k:.0f} K"
    return {
        "title": f"The same stop, and {opened} more ({at})",
        "frames": [
            {"svg": frame_svg(patches), "label": label, "alt": f"{label}, {at}: {row.name}"}
            for patches, label in (
                (best.bare, "bare"),
                (best.filtered, "through the sheet, stop held"),
                (best.compensated, f"through the sheet, opened by {opened}"),
            )
        ],
    }


def _alt(row: CardRow, picture: CardPicture) -> str:
    return (
        f"{_shown_words(row, picture)} bare: {picture.bare_looks}; through {row.name}: "
        f"{picture.filtered_looks}"
    )


def _shown_words(row: CardRow, picture: CardPicture) -> str:
    return (
        f"Computed: grey card, light and dark skin, camera at {picture.balance_k:.0f} K, "
        f"{row.light}"
    )


def _cautions(rows: Sequence[CardRow]) -> list[str]:
    """What to mind, each once, with the filters it belongs to."""
    by_text: dict[str, list[CardRow]] = {}
    for row in rows:
        for text in row.cautions:
            by_text.setdefault(text, []).append(row)
    return [f"{_whose(each)}: {text}" for text, each in by_text.items()]


def _whose(rows: Sequence[CardRow]) -> str:
    """The filters that a caution belongs to, by name, or by lamp where they are many."""
    if len(rows) <= MOST_NAMES:
        return listed([each.name for each in rows])
    lamps = list(dict.fromkeys(each.light for each in rows))
    return f"{len(rows)} filters in front of {listed(lamps)}"
