"""The cautions that belong to a light and what hangs in front of it.

Common practice, no source, unless said. The tool states no safe distance of its own: the
label on the fixture, local code and a competent person decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from evencast.filters import Filter
from evencast.lights import Light

if TYPE_CHECKING:  # few questions are about a look
    from evencast.lights.looks import Look

DENSE_STOPS = 1.3
"""From here a stack stops well over half of the visible light and takes it as heat."""

HOT_SHEET = (
    "Heat: sheets this dense take most of the light as heat and fade or melt first. In the "
    "fixture's own frame or on the outside of the doors, air behind, off glass, mesh and "
    "vents; keep the clearance on the fixture's label."
)
HOT_LAMP = (
    "Heat: keep sheets in the fixture's own frame or outside the doors, never on glass, "
    "bulb or mesh, and keep the clearance on the fixture's label. Change sheets with the "
    "lamp off; frames and doors stay hot for minutes."
)
HOUSEHOLD = (
    "Household lamp: no sheet on a bulb or inside a shade; enclosed bulbs overheat. Swap the "
    "bulb, or hang the sheet clear of the lampshade."
)
PANEL_VENTS = "LED panel: do not seal its vents with the sheet; a hot panel shifts and ages."
TUBE = (
    "Tube: a sleeve is no insulation and stays off the tube's ends; switch off and let it "
    "cool before you touch it."
)
STREET = "Street lamp: not yours to filter or touch. Flag its light, or frame it out."
DISCHARGE = (
    "Discharge lamp: never run it with its glass or lens cracked or missing (ultraviolet "
    "burns skin and eyes); warn before striking; the ballast is for qualified hands."
)
WINDOW = (
    "Window: dark film can crack sun-heated glass (double, laminated, wired or part-shaded "
    "panes above all): ask the owner, hang it off the glass. Work from inside or a lift."
)

FLICKER_EFFECT = (
    "Flicker effect: changing light can harm photosensitive people. Warn cast and crew before "
    "it runs, keep it slow, and stop if anyone is unwell."
)
HOT_DIMMED = (
    "Heat: a dimmed lamp and its frame still burn. Sheets in the fixture's own frame or outside "
    "the doors; keep the clearance on the fixture's label, and dim only lamps and on dimmers "
    "made for it."
)

SWAP = (
    "Swap: switch off and let it cool before you touch it; another lamp must suit the label of "
    "its fitting in cap, watts and type. Somebody holds the ladder."
)
DIMMER = (
    "Dimmer: only on lamps, drivers and ballasts made for one; on others it can fail hot. A lamp "
    "that is dimmed still burns."
)
SCRIM = (
    "Heat: scrims, frames and doors stay hot for minutes; gloves on, and change them with the "
    "lamp off."
)

WHITE_ALONE = (
    "Only the white can match: this lamp lacks parts of the spectrum, and no filter puts "
    "them back, so skin and colours stay off."
)


def cautions(light: Light, stack: Sequence[Filter], loss_stops: float) -> list[str]:
    """What to mind with this stack in front of this light, most pressing first."""
    found = []
    if stack:
        found += _heat(light, stack, loss_stops)
        by_fitting = {
            "household": HOUSEHOLD,
            "panel": PANEL_VENTS,
            "tube": TUBE,
            "street": STREET,
            "window": WINDOW,
        }
        if light.fitting in by_fitting:
            found.append(by_fitting[light.fitting])
    if light.is_discharge and light.fitting != "street":
        found.append(DISCHARGE)
    return found


def move_cautions(light: Light, *, swapped: bool, dimmed: bool, scrims: bool) -> list[str]:
    """What to mind when a lamp is swapped, dimmed, or wire goes into it."""
    found = [SWAP] if swapped else []
    found += [DIMMER] if dimmed else []
    return found + ([SCRIM] if scrims and light.is_hot else [])


def look_cautions(look: Look) -> list[str]:
    """What to mind with a look, whatever makes it."""
    texts = {"flicker": FLICKER_EFFECT, "heat": HOT_DIMMED}
    return [texts[each] for each in look.minds]


def _heat(light: Light, stack: Sequence[Filter], loss_stops: float) -> list[str]:
    if not light.is_hot:
        return []
    dark = loss_stops >= DENSE_STOPS or any(each.role == "effect" for each in stack)
    return [HOT_SHEET if dark else HOT_LAMP]
