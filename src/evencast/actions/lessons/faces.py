"""Grey and two skins under a light, as lessons draw them."""

from __future__ import annotations

from functools import lru_cache

from evencast.actions.balance import Balance
from evencast.actions.look_words import camera_words, eye_words
from evencast.actions.picture import picture_at
from evencast.filters import generic
from evencast.handouts.lessons.rows import Half
from evencast.handouts.pictures import FACES
from evencast.lights import Light, light_of
from evencast.results.picture import Exposure, PictureAnswer


@lru_cache(maxsize=1024)
def pictured(
    light: str,
    filters: tuple[str, ...],
    balance: Balance,
    *,
    camera: str = "eye",
    exposure: Exposure = "held",
) -> PictureAnswer:
    """The picture of built-in lights and sheets, kept for the next who asks."""
    through = [generic(each) for each in filters]
    return picture_at(
        light_of(light), through, balance, camera=camera, exposure=exposure, most=FACES
    )


def pictured_light(light: Light, balance: Balance, *, camera: str = "eye") -> PictureAnswer:
    """The picture of a light that has no name of its own."""
    return picture_at(light, [], balance, camera=camera, most=FACES)


def halves(answer: PictureAnswer) -> list[Half]:
    """Bare beside filtered; bare alone without sheets."""
    bare = Half("bare", answer.bare)
    if not answer.filters:
        return [bare]
    return [bare, Half(f"through {' + '.join(answer.filters)}", answer.filtered)]


def seen_words(answer: PictureAnswer) -> str:
    """A grey card, bare and through the sheets: "bare 134 mired warm; through 0 mired"."""
    bare = f"bare {eye_words(answer, filtered=False)}"
    return f"{bare}; through {eye_words(answer, filtered=True)}" if answer.filters else bare


def raw_words(answer: PictureAnswer) -> str:
    """What is left of a bare light's grey in the camera's raw, or to the eye."""
    return camera_words(answer, filtered=False) or eye_words(answer, filtered=False)


def hexes(answer: PictureAnswer, *, filtered: bool) -> str:
    """Grey and skins as they are drawn."""
    patches = answer.filtered if filtered else answer.bare
    return ", ".join(f"{each.name} {each.hex}" for each in patches)
