"""Names that must be those of something else in the plan, or of something built in."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Sequence

from evencast.errors import Problem
from evencast.plan.checks.say import (
    did_you_mean,
    folded_set,
    no_such,
    no_such_light,
    not_built_in,
)
from evencast.plan.checks.standing import Standing, everywhere, scenes, standing
from evencast.plan.place import entry, folded, quoted
from evencast.plan.plan import Plan


def check_setup_lights(plan: Plan) -> list[Problem]:
    """A set-up speaks of the plan's lights only."""
    return [
        no_such_light(f"{where}.name", light.name, plan)
        for where, light in everywhere(plan)
        if light.name and plan.light_named(light.name) is None
    ]


def check_card_light(plan: Plan) -> list[Problem]:
    """The balance is taken under a light of the plan."""
    name = plan.camera.balance.from_card_under
    if not name or plan.light_named(name) is not None:
        return []
    return [no_such_light("camera.balance.from_card_under", name, plan)]


def check_like(plan: Plan) -> list[Problem]:
    """A light that shall look like another names a light of the plan."""
    return [
        no_such_light(f"{where}.aim.like", light.aim.like, plan)
        for where, light in everywhere(plan)
        if light.aim.like and plan.light_named(light.aim.like) is None
    ]


def check_like_cycles(plan: Plan) -> list[Problem]:
    """No light is to look like itself, by whatever detour, in the plan or in a set-up; what a
    view looks like hangs on the sheets of the window that it is behind."""
    found: list[Problem] = []
    told: set[frozenset[str]] = set()
    for scene in scenes(plan):
        named = {folded(each.light.name): each for each in reversed(scene) if each.light.name}
        for circle in _circles(scene):
            if frozenset(circle) in told:
                continue
            told.add(frozenset(circle))
            said = quoted(named[circle[0]].light.name)
            for name, following in itertools.pairwise(circle):
                how = "behind" if named[name].light.behind else "like"
                said += f" {how} {quoted(named[following].light.name)}"
            alike = [named[name] for name in circle if not named[name].light.behind]
            at = next((each for each in alike if each.wrote("aim")), alike[0])
            found.append(
                Problem(
                    "error",
                    f"{at.where}.aim.like",
                    f"goes round in a circle: {said}",
                    "Give one of them an aim of its own, as in aim = { mired = 0 }.",
                )
            )
    return found


def check_behind(plan: Plan) -> list[Problem]:
    """A view, and nothing else, is seen through a light of the plan that is no view itself."""
    return [
        problem
        for each in standing(plan)
        if each.light.behind and each.wrote("behind", "role")
        for problem in _behind(each, each.light.behind, plan)
    ]


def check_spot_lights(plan: Plan) -> list[Problem]:
    """A spot speaks of the plan's lights only."""
    return [
        no_such_light(
            f"spot{entry(spot.name, number=number)}.light {quoted(light.name)}.name",
            light.name,
            plan,
        )
        for number, spot in enumerate(plan.spot, start=1)
        for light in spot.light
        if light.name and plan.light_named(light.name) is None
    ]


def check_circuits(plan: Plan) -> list[Problem]:
    """A light is plugged into a circuit of the plan."""
    names = [circuit.name for circuit in plan.circuit]
    return [
        no_such(
            f"{where}.circuit",
            light.circuit,
            what="circuit of the plan",
            names=names,
            add=f"Add it, as in [[circuit]] with name = {quoted(light.circuit)}, volts = 230 and "
            "breaker_a = 16.",
        )
        for where, light in everywhere(plan)
        if light.circuit and folded(light.circuit) not in folded_set(names)
    ]


def check_builtin_lights(plan: Plan, known_lights: Collection[str]) -> list[Problem]:
    """A built-in light, or one that a lamp may be swapped for, is one that there is."""
    known = folded_set(known_lights)
    named = [
        (at, name)
        for where, light in everywhere(plan)
        for at, name in (
            (where, light.builtin),
            *(
                (f"{where}.swap{entry(swap.name, number=number)}", swap.builtin)
                for number, swap in enumerate(light.swap, start=1)
            ),
        )
    ]
    return [
        not_built_in(f"{where}.builtin", name, known_lights, "light")
        for where, name in named
        if name and folded(name) not in known
    ]


def check_looks(plan: Plan, known_looks: Collection[str]) -> list[Problem]:
    """A look is one of the plan's own or a built-in one."""
    names = [*(look.name for look in plan.look if look.name), *known_looks]
    return [
        Problem(
            "error",
            f"{where}.aim.look",
            f"no look is called {quoted(light.aim.look)}, neither of the plan nor built in",
            f"{did_you_mean(light.aim.look, names)}`evencast looks` lists the built-in ones; "
            "your own is a [[look]] of the plan.",
        )
        for where, light in everywhere(plan)
        if light.aim.look and folded(light.aim.look) not in folded_set(names)
    ]


def _behind(each: Standing, name: str, plan: Plan) -> list[Problem]:
    where, window = f"{each.where}.behind", plan.light_named(name)
    if each.light.role not in ("view", ""):
        return [
            Problem(
                "error",
                where,
                f"only a view is seen through a window, and its role is {each.light.role}",
                'Leave "behind" out, or write role = "view".',
            )
        ]
    if window is None:
        return [no_such_light(where, name, plan)]
    if folded(window.name) == folded(each.light.name):
        said = "a view is not seen through itself"
    elif window.role == "view":
        said = f"{quoted(window.name)} is a view too, and not the light that comes in"
    else:
        return []
    remedy = 'Name the window as a light of its own, of another role and fitting = "window".'
    return [Problem("error", where, said, remedy)]


def _circles(scene: Sequence[Standing]) -> Iterator[list[str]]:
    """Lights that lead back to where they began, each circle once; its first comes again last."""
    like = {
        folded(each.light.name): folded(each.light.aim.like)
        for each in scene
        if each.light.name and each.light.aim.like
    }
    behind = {
        folded(each.light.name): folded(each.light.behind)
        for each in scene
        if each.light.name and each.light.behind
    }
    seen: set[str] = set()
    for start in like:
        chain = _chain(start, like | behind)
        if chain[-1] == start and start not in behind and not seen & set(chain):
            seen |= set(chain)
            yield chain


def _chain(start: str, like: dict[str, str]) -> list[str]:
    """From a light to what it is like, and on, until a light comes again or the chain ends."""
    chain, met = [start], {start}
    while (following := like.get(chain[-1])) is not None:
        chain.append(following)
        if following in met:
            break
        met.add(following)
    return chain
