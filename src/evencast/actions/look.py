"""`look light`: the pictures a command asks for, and the file they are drawn to."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evencast.actions import resolve
from evencast.actions.balance import parse_balance
from evencast.actions.kit import load_kit
from evencast.actions.picture import own_camera, picture_at
from evencast.camera.sensitivities import Sensitivities, camera_named
from evencast.errors import EvencastError
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
    loaded = load_kit(kit) if kit else None
    light = resolve.light(light_text, kind)
    filters = [resolve.filter_named(text, loaded) for text in filter_texts]
    seen_by = _camera(camera)
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
    return LookAnswer(pictures, written_to=_written(to, pictures))


def _camera(text: str) -> Sensitivities:
    return own_camera(Path(text)) if resolve.is_path(text) else camera_named(text)


def _written(to: Path | None, pictures: Sequence[PictureAnswer]) -> str | None:
    return None if to is None else str(to)
