"""The lights of a plan in every place they are written: the plan itself and its set-ups."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from evencast.itself import Itself
from evencast.plan.light import Light, LightKeys
from evencast.plan.place import entry, folded
from evencast.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class Standing:
    """A light as it stands in the plan or in a set-up.

    where   : its place
    light   : every key that holds there, a set-up's before the plan's
    written : names of the keys that are written at that place; all of them in the plan itself
    """

    where: str
    light: Light
    written: frozenset[str]

    def wrote(self, *keys: str) -> bool:
        """Whether that place is the one to complain of what these keys say together."""
        return not self.written.isdisjoint(keys)


def everywhere(plan: Plan) -> Iterator[tuple[str, LightKeys]]:
    """The plan's lights and what its set-ups change in them, as written, each with its place."""
    for number, light in enumerate(plan.light, start=1):
        yield f"light{entry(light.name, number=number)}", light
    for count, setup in enumerate(plan.setup, start=1):
        for number, changed in enumerate(setup.light, start=1):
            inside = f"setup{entry(setup.name, number=count)}"
            yield f"{inside}.light{entry(changed.name, number=number)}", changed


def scenes(plan: Plan) -> tuple[tuple[Standing, ...], ...]:
    """All lights of the plan, and again all of them for each set-up."""
    return _scenes(Itself(plan))


def standing(plan: Plan) -> Iterator[Standing]:
    """Every light in every place where something is written of it."""
    for scene in scenes(plan):
        yield from (each for each in scene if each.written)


@lru_cache(2)
def _scenes(itself: Itself[Plan]) -> tuple[tuple[Standing, ...], ...]:
    plan, every = itself.held, frozenset(Light.model_fields)
    own = tuple(
        Standing(f"light{entry(light.name, number=number)}", light, every)
        for number, light in enumerate(plan.light, start=1)
    )
    found = [own]
    first = {folded(each.light.name): at for at, each in reversed(list(enumerate(own)))}
    for count, setup in enumerate(plan.setup, start=1):
        inside = f"setup{entry(setup.name, number=count)}"
        scene = [Standing(inside, each.light, frozenset()) for each in own]
        for number, differs in enumerate(setup.light, start=1):
            at = first.get(folded(differs.name)) if differs.name else None
            if at is not None:
                scene[at] = Standing(
                    f"{inside}.light{entry(differs.name, number=number)}",
                    differs.over(own[at].light),
                    frozenset(differs.model_fields_set),
                )
        found.append(tuple(scene))
    return tuple(found)
