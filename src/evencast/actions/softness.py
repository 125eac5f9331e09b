"""How soft a plan's light is: what its frost does to size, shadow and level."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from evencast.actions.arriving import diffusion_notes
from evencast.actions.doubt import looks
from evencast.actions.kit import LoadedKit
from evencast.colour import low_middle_high
from evencast.errors import EvencastError
from evencast.filters import Filter
from evencast.lights import Light
from evencast.lights.softness import EDGE_M, seen_deg, shadow_edge_at_m, shining_size_m
from evencast.plan.place import quoted
from evencast.results.expose import Range
from evencast.results.exposure import SoftnessAnswer

if TYPE_CHECKING:
    from evencast.plan.light import Light as LightEntry

ON_AXIS = (
    "Losses of frost are told for the middle of a hard lamp's beam; frost spreads light, so that "
    "it depends on beam, distance and where you stand (common practice, no source)."
)
PARTLY = (
    "Thin frost lets part of the light through as it came: the shadow keeps a harder core in a "
    "softer rim (common practice, no source)."
)
FULLY_LIT = "The frost is taken as evenly lit over all of its width."


def frost_of(entry: LightEntry, kit: LoadedKit) -> list[Filter]:
    """The frost of the kit that hangs before a light in any case."""
    return [sheet for sheet in map(kit.find, entry.frost) if sheet is not None]


def frost_loss(light: Light, frost: Sequence[Filter]) -> Range:
    """What frost takes, least and most: by what is met in practice, or else by its numbers.

    Raises  EvencastError where nothing of the light passes
    """
    low, high = 0.0, 0.0
    for each in frost:
        least, most = each.loss_range_stops or _by_its_numbers(light, each)
        low, high = low + least, high + most
    return low, high


def shining_m(entry: LightEntry, *, unless_said_m: float | None = None) -> float | None:
    """Greatest width of what shines: of the lit frost where frost hangs.

    unless_said_m : that of the lamp, where the plan does not say it
    """
    return shining_size_m(
        unless_said_m if entry.size_mm is None else entry.size_mm / 1000.0,
        frost_size_m=None if entry.frost_size_mm is None else entry.frost_size_mm / 1000.0,
        frosted=bool(entry.frost),
    )


def softness(
    entry: LightEntry, frost: Sequence[Filter], *, loss_stops: Range, distance_m: float | None
) -> SoftnessAnswer | None:
    """How soft a light is, bare and with its frost; None where neither size nor frost is said.

    loss_stops : what its frost takes, of `frost_loss`
    distance_m : from the light to the subject
    """
    if not frost and entry.size_mm is None:
        return None
    bare_mm = entry.size_mm
    frost_mm = entry.frost_size_mm if frost else None
    answer = SoftnessAnswer(
        frost=[each.name for each in frost],
        frost_stops=(round(loss_stops[0], 4), round(loss_stops[1], 4)),
        bare_size_mm=bare_mm,
        frost_size_mm=frost_mm,
        bare_seen_deg=_seen(bare_mm, distance_m),
        frost_seen_deg=_seen(frost_mm, distance_m),
        edge_mm=EDGE_M * 1000.0,
        bare_edge_mm=_edge(bare_mm, distance_m),
        frost_edge_mm=_edge(frost_mm, distance_m),
        text="",
        notes=[],
    )
    return replace(answer, text=_text(answer), notes=_notes(answer, frost))


def _seen(size_mm: float | None, distance_m: float | None) -> float | None:
    if size_mm is None or distance_m is None:
        return None
    return round(seen_deg(size_mm / 1000.0, distance_m=distance_m), 2)


def _edge(size_mm: float | None, distance_m: float | None) -> float | None:
    if size_mm is None or distance_m is None:
        return None
    width_m = shadow_edge_at_m(size_mm / 1000.0, distance_m=distance_m)
    return None if width_m is None else round(width_m * 1000.0, 2)


def _text(answer: SoftnessAnswer) -> str:
    """In words: "An edge 0.3 m in front of the face throws a half-shadow 33 mm wide bare, ..."."""
    told = [
        f"{float(f'{width_mm:.2g}'):g} mm wide {how}"
        for width_mm, how in (
            (answer.bare_edge_mm, "bare"),
            (answer.frost_edge_mm, "with its frost"),
        )
        if width_mm is not None
    ]
    if not told:
        return "How soft it is cannot be told without its size and distance."
    edge = f"An edge {answer.edge_mm / 1000.0:g} m in front of the face throws a half-shadow"
    return f"{edge} {', '.join(told)}."


def _notes(answer: SoftnessAnswer, frost: Sequence[Filter]) -> list[str]:
    if not frost:
        return []
    notes = [*diffusion_notes(frost), ON_AXIS, PARTLY]
    if answer.frost_size_mm is None:
        notes.append("How large the lit frost is, is not said: add frost_size.")
        return notes
    notes.append(FULLY_LIT)
    if answer.bare_size_mm is not None and answer.frost_size_mm < answer.bare_size_mm:
        notes.append("The lit frost is smaller than the light itself: check frost_size and size.")
    return notes


def _by_its_numbers(light: Light, sheet: Filter) -> Range:
    """What a diffuser takes by its spectrum alone, which is a figure on the axis. [stop]"""
    low, _, high = (float(each) for each in low_middle_high(looks(light, [sheet]).loss_stops))
    if not high < float("inf"):
        raise EvencastError(
            f"nothing of {light.name} passes {quoted(sheet.name)}",
            where="frost",
            remedy="Hang frost that passes some of the wavelengths this light has.",
        )
    return low, high
