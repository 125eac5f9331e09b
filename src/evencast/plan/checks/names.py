"""Names that may be given only once."""

from __future__ import annotations

from collections.abc import Iterable

from evencast.errors import Problem
from evencast.plan.checks.say import twice
from evencast.plan.checks.standing import everywhere
from evencast.plan.place import quoted
from evencast.plan.plan import Plan


def check_empty_plan(plan: Plan) -> list[Problem]:
    """A plan holds at least one light."""
    if plan.light:
        return []
    return [
        Problem(
            "warning",
            "light",
            "the plan has no light yet: there is nothing to solve",
            'Add one, as in [[light]] with name = "key", role = "key" and '
            'builtin = "tungsten 3200 K".',
        )
    ]


def check_light_names(plan: Plan) -> list[Problem]:
    """No two lights share a name, whatever its capitals."""
    return _given_once("light", "lights", (light.name for light in plan.light))


def check_setup_names(plan: Plan) -> list[Problem]:
    """No two set-ups share a name, nor does one name a light twice."""
    found = _given_once("setup", "set-ups", (setup.name for setup in plan.setup))
    return found + [
        Problem(
            "error",
            f"setup {quoted(setup.name)}.light {quoted(name)}",
            f"{quoted(name)} stands in this set-up twice",
            "Write what differs for it in one place.",
        )
        for setup in plan.setup
        for name in twice(light.name for light in setup.light)
    ]


def check_spot_names(plan: Plan) -> list[Problem]:
    """No two spots share a name, nor does one name a light twice."""
    found = _given_once("spot", "spots", (spot.name for spot in plan.spot))
    return found + [
        Problem(
            "error",
            f"spot {quoted(spot.name)}.light {quoted(name)}",
            f"{quoted(name)} stands at this spot twice",
            "Write what it gives there in one place.",
        )
        for spot in plan.spot
        for name in twice(light.name for light in spot.light)
    ]


def check_circuit_names(plan: Plan) -> list[Problem]:
    """No two circuits share a name."""
    return _given_once("circuit", "circuits", (circuit.name for circuit in plan.circuit))


def check_look_names(plan: Plan) -> list[Problem]:
    """No two looks of the plan share a name; one of the built-in looks may be replaced."""
    return _given_once("look", "looks", (look.name for look in plan.look))


def check_swap_names(plan: Plan) -> list[Problem]:
    """A light's lamp has one swap of a name."""
    return [
        problem
        for where, light in everywhere(plan)
        for problem in _given_once(f"{where}.swap", "swaps", (swap.name for swap in light.swap))
    ]


def _given_once(where: str, things: str, names: Iterable[str]) -> list[Problem]:
    return [
        Problem(
            "error",
            f"{where} {quoted(name)}",
            f"two {things} are called {quoted(name)}",
            "Give each its own name; capitals make no difference.",
        )
        for name in twice(names)
    ]
