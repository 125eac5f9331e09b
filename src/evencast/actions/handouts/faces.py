"""Small pictures of grey and two skins under a light of the plan, at each balance."""

from __future__ import annotations

from evencast.actions.balance import Balance
from evencast.actions.handouts.job import Job, Part
from evencast.actions.hanging import set_light
from evencast.actions.picture import picture_at
from evencast.actions.planned import swapped_light
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.handouts.choice import Face
from evencast.handouts.pictures import FACES, faces_svg
from evencast.lights import Light
from evencast.quantities import listed, say_left
from evencast.results.picture import PictureAnswer
from evencast.results.plan import Alternative, AlternativeLight

Faces = tuple[Face | None, Face | None]
"""Bare, and as it hangs."""


def pictured_light(part: Part) -> str:
    """The light that is pictured: the first key, or else the first light; "" where none is."""
    lights = part.answer.lights
    keys = [each.name for each in lights if each.role == "key"]
    return next(iter([*keys, *(each.name for each in lights)]), "")


def faces_of(job: Job, part: Part, way: Alternative) -> Faces:
    """That light as it is and as it hangs, under the balance of one way; each metered for itself,
    by the eye, since the plan's camera is not what is compared."""
    name = pictured_light(part)
    found = next((each for each in way.lights if each.name == name), None)
    if found is None or way.balance.cct_k is None:
        return None, None
    balance = Balance(way.balance.cct_k, way.balance.duv)
    bare = _face(part.loaded.lights[name], [], balance, "bare")
    if found.move == "switch off":
        return bare, None
    sheets = [each for each in map(part.loaded.kit.find, found.filters) if each is not None]
    return bare, _face(_lamp(job, part, found), sheets, balance, "as it hangs")


def _lamp(job: Job, part: Part, found: AlternativeLight) -> Light:
    """The lamp as it is set there: swapped, dialled, dimmed."""
    lamp = part.loaded.lights[found.name]
    entry = next(each for each in part.loaded.plan.light if each.name == found.name)
    swap = next((each for each in entry.swap if each.name == found.swapped_for), None)
    if swap is not None:
        step_duv = part.loaded.plan.camera.tint_step_duv
        lamp = swapped_light(entry, swap, job.path.parent, tint_step_duv=step_duv)
    return set_light(lamp, dial_k=found.dial_k, dim_stops=found.dim_stops)


def _face(light: Light, sheets: list[Filter], balance: Balance, how: str) -> Face | None:
    """None where no camera is balanced so."""
    try:
        seen = picture_at(light, sheets, balance, exposure="compensated")
    except EvencastError:
        return None
    return Face(faces_svg(seen.filtered), _alt(seen, how), _words(seen))


def _alt(seen: PictureAnswer, how: str) -> str:
    colours = listed([f"{each.name} {each.hex}" for each in seen.filtered[:FACES]])
    beyond = [each.name for each in seen.filtered[:FACES] if each.limited]
    past = f"; beyond what a display shows: {listed(beyond)}" if beyond else ""
    return f"{seen.light} {how}, balanced at {seen.balance}: {colours}{past}. Computed."


def _words(seen: PictureAnswer) -> str:
    return say_left(seen.residual_mired, seen.residual_duv)
