"""What a card says beside the stack: pieces to cut, where a light stands, what it shall look like,
and what it hangs on."""

from __future__ import annotations

from collections import Counter

from evencast.actions.handouts.job import Part
from evencast.cutting.pieces import WINDOW_MARGIN_MM, pieces_of
from evencast.handouts.sizes import say_distance, say_size
from evencast.handouts.typeset import Paper
from evencast.plan.light import Light
from evencast.plan.place import folded
from evencast.plan.setup import Rigged, SetupLight
from evencast.quantities import is_offset, listed, many, say_left
from evencast.results.expose import CircuitLoad
from evencast.results.exposure import ViewAnswer
from evencast.results.plan import PlannedLight
from evencast.results.words import (
    say_balance,
    say_circuit,
    say_doubtful_left,
    say_gap,
    say_tolerance,
    say_view,
)

Fact = tuple[str, str]


def facts_of_lamp(
    part: Part,
    light: Light,
    planned: PlannedLight,
    view: ViewAnswer | None,
    said: SetupLight | None,
    *,
    paper: Paper,
) -> list[Fact]:
    """Of a light that is lit, or switched off: names and what belongs to them."""
    rigged = (said.rigged if said else None) or Rigged()
    found = [("Cut", _cut(part, light, planned, paper)), ("Stands", _stands(light, rigged, paper))]
    if planned.move != "switch off":
        found += [("Shall look", _aim(part, light, planned)), ("Comes out", _left(planned))]
        found += [("Level", _level(part, light)), ("View", say_view(view) if view else "")]
    found += [("Circuit", _circuit(part, light)), ("Note", rigged.note or "")]
    return [each for each in found if each[1]]


def facts_of_view(view: ViewAnswer | None) -> list[Fact]:
    """Of what is seen through a window of the plan."""
    if view is None:
        return [("ND", "not known: the plan has no reading of it as level")]
    return [("Comes out", say_view(view))]


def circuit_of(part: Part, light: Light) -> CircuitLoad | None:
    """The circuit a light hangs on."""
    return next((each for each in part.answer.circuits if light.name in each.lights), None)


def _cut(part: Part, light: Light, planned: PlannedLight, paper: Paper) -> str:
    """Pieces of every sheet, by size."""
    if not planned.filters:
        return ""
    fitting = part.loaded.lights[light.name].fitting
    sizes = Counter((each.width_mm, each.height_mm) for each in pieces_of(light, fitting))
    if not sizes:
        return "the opening is not in the plan: measure it"
    of_each = ", of each sheet" if len(planned.filters) > 1 else ""
    told = [f"{many(count, 'piece')}, {say_size(*size, paper)}" for size, count in sizes.items()]
    over = f"; {WINDOW_MARGIN_MM:g} mm over the glass all round" if fitting == "window" else ""
    return f"{listed(told)}{of_each}{over}"


def _stands(light: Light, rigged: Rigged, paper: Paper) -> str:
    """Focus, distance and height, as rigged, else as the plan has them."""
    focus = rigged.focus or (light.level.focus if light.level else None)
    read_at_mm = light.level.distance_mm if light.level else None
    distance_mm = rigged.distance_mm or light.distance_mm or read_at_mm
    parts = [focus] if focus else []
    parts += [f"{say_distance(distance_mm, paper)} from the subject"] if distance_mm else []
    parts += [f"{say_distance(rigged.height_mm, paper)} high"] if rigged.height_mm else []
    return ", ".join(parts)


def _aim(part: Part, light: Light, planned: PlannedLight) -> str:
    """What it shall look like, and how near is near enough."""
    aim, balance = planned.aim, part.answer.balance
    told = f"as the balance, {say_balance(balance)}"
    if aim.mired is None or balance.mired is None:
        told = aim.label
    else:
        offset, duv = aim.mired - balance.mired, aim.duv - balance.duv
        if is_offset(offset, duv):
            told = f"{say_left(offset, duv)} beside the balance, {say_balance(balance)}"
    named = [f"like {light.aim.like}"] if light.aim.like else []
    named += [light.aim.look] if light.aim.look else []
    return f"{', '.join([*named, told])}; {say_tolerance(planned.tolerance)}"


def _left(planned: PlannedLight) -> str:
    if planned.harmless:
        return f"{say_doubtful_left(planned)}; harmless"
    side = "inside" if planned.within_tolerance else "outside"
    if planned.band is None:
        return f"{say_doubtful_left(planned)}; {side}"
    of_it = "" if planned.within_tolerance else "inside "
    return f"{say_doubtful_left(planned)}; {side} ({of_it}{planned.share_within:.0%} likely)"


def _level(part: Part, light: Light) -> str:
    exposure = part.answer.exposure
    found = [each for each in (exposure.lights if exposure else []) if each.name == light.name]
    return say_gap(found[0]) if found and found[0].gap_stops is not None else ""


def _circuit(part: Part, light: Light) -> str:
    load = circuit_of(part, light)
    if load is None:
        return ""
    others = [each for each in load.lights if folded(each) != folded(light.name)]
    beside = f", with {listed(others)}" if others else ""
    uncounted = ", its own draw not counted" if light.name in load.uncounted else ""
    return f"{load.name}: {say_circuit(load)}{beside}{uncounted}"
