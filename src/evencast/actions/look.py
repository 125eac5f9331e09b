"""`look light`: the pictures a command asks for, and the file they are drawn to."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.balance import parse_balance
from evencast.actions.drawn import check_picture_file, write_picture
from evencast.actions.kit import load_kit
from evencast.actions.look_words import EXPOSED, half_words, shown_as, subject
from evencast.actions.picture import camera_of, picture_at
from evencast.camera.display import display_named
from evencast.errors import EvencastError
from evencast.handouts.pictures import Pair, pictures_svg
from evencast.results.picture import Exposure, LookAnswer, PictureAnswer

MOST_BALANCES = 6
"""More do not fit on a page side by side."""


def look_light(
    light_text: str,
    filter_texts: Sequence[str],
    *,
    balances: Sequence[str],
    camera: str,
    display: str,
    exposure: Exposure,
    kit: Path | None,
    kind: str | None,
    to: Path | None = None,
) -> LookAnswer:
    """The light a text names, bare and through the filters that texts name, at each balance.

    to : a new file for the pictures, .svg or .png
    """
    check_picture_file(to)
    loaded = load_kit(kit) if kit else None
    light = resolve.light(light_text, kind)
    filters = [resolve.filter_named(text, loaded) for text in filter_texts]
    seen_by = camera_of(camera)
    at = list(dict.fromkeys(parse_balance(text) for text in balances))
    if len(at) > MOST_BALANCES:
        raise EvencastError(
            f"{len(at)} balances are too many for one picture",
            where="--balance",
            remedy=f"Name at most {MOST_BALANCES}.",
        )
    pictures = [
        picture_at(light, filters, each, camera=seen_by, display=display, exposure=exposure)
        for each in at
    ]
    return LookAnswer(pictures, written_to=write_picture(to, lambda: look_svg(pictures)))


def look_svg(pictures: Sequence[PictureAnswer]) -> str:
    """Pictures of one light below each other, in words and patches.

    pictures : at least one; all of the same light, sheets, camera, display and exposure
    """
    first = pictures[0]
    told = shown_as(first)
    remarks = [
        f"{told[0].upper()}{told[1:]}.{f' {EXPOSED[first.exposure]}' if first.filters else ''}"
    ]
    note = display_named(first.display).note
    return pictures_svg(
        [pair_of(each) for each in pictures],
        heading=subject(first),
        remarks=[*remarks, note] if note else remarks,
    )


def pair_of(answer: PictureAnswer) -> Pair:
    """A picture as it is drawn, with the words that stand over its halves."""
    return Pair(
        balance=answer.balance,
        bare=answer.bare,
        filtered=answer.filtered if answer.filters else [],
        bare_words=half_words(answer, filtered=False),
        filtered_words=half_words(answer, filtered=True),
    )
