"""What to know of the light that arrives: constants, candelas, diffusion, nearness."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.actions.taking import Taking
from evencast.filters import Filter
from evencast.lights.fixture import USUAL_WATTS
from evencast.lights.level import NEAR_SIZES, Level, is_near
from evencast.quantities import say_stops
from evencast.results.expose import Range

T_STOPS = (
    "Set it as a T-stop where the lens is marked in those; an f-stop passes less than it says."
)


def constant_notes(level: Level, camera: Taking, *, narrow: str) -> list[str]:
    """A word on the meter's constant, where the stop is told by two of them.

    narrow : what narrows it
    """
    if level.unit == "meter" or camera.constants[0] == camera.constants[1]:
        return []
    return [
        "The range holds both constants in use, disc 250 and dome 330, 0.4 stop apart. "
        f"{narrow}, and it narrows."
    ]


def candela_notes(candela: Range | None, watts: float | None) -> list[str]:
    """A word on candelas that are a range, and on lamps it was not made from."""
    if candela is None or candela[0] == candela[1]:
        return []
    notes = [
        ("Lamps of one size differ that much. " if watts else "")
        + "Read yours bare at a noted distance and focus, and give that reading instead."
    ]
    if watts and not USUAL_WATTS[0] <= watts <= USUAL_WATTS[1]:
        notes.append(
            f"The range per watt was made from lamps of {USUAL_WATTS[0]:g} to "
            f"{USUAL_WATTS[1]:g} W; {watts:g} W lies beyond it."
        )
    return notes


def diffusion_notes(filters: Sequence[Filter]) -> list[str]:
    """What each diffuser takes, which no single number tells."""
    return [
        f"{each.name} takes {say_stops(each.loss_range_stops[0])} to "
        f"{say_stops(each.loss_range_stops[1])}, by beam and distance: meter it."
        for each in filters
        if each.loss_range_stops
    ]


def near_field(
    to_m: float | None, at_m: float | None, *, size_m: float | None, ask: str
) -> list[str]:
    """A word on inverse square, where it was used or where the light is too near for it.

    to_m, at_m : from the light to the subject, and to where it was read
    ask        : how to say the light's size, where it is not known
    """
    if to_m is None:
        return []
    if size_m is not None:
        nearest = min(to_m, at_m or to_m)
        if not is_near(nearest, size_m=size_m):
            return []
        return [
            f"Near: {nearest:.3g} m is under {NEAR_SIZES:g} times the {size_m:g} m of the light. "
            "Inverse square overstates what moving it does: nearer than its own width it falls "
            "off as distance alone. Meter it there."
        ]
    if to_m == at_m:
        return []
    return [
        f"Distance: inverse square holds from about {NEAR_SIZES:g} times the light's size (frost "
        f"and frames make it larger). {ask}, or meter it there."
    ]
