"""A plan as it is in one set-up, and what hangs and was read there."""

from __future__ import annotations

from pydantic import ValidationError

from evencast.errors import DocumentErrors, EvencastError, nearest
from evencast.plan.faults import problems_of
from evencast.plan.light import Light
from evencast.plan.place import folded, quoted
from evencast.plan.plan import Plan
from evencast.plan.setup import Hung, Setup, SetupLight


def setup_named(plan: Plan, name: str | None) -> Setup | None:
    """The set-up of that name, whatever its capitals; without a name the plan's only one.

    Returns None where no name is given and the plan has no set-up
    Raises  EvencastError naming the set-ups there are, also where several are and none is named
    """
    if name is None and len(plan.setup) <= 1:
        return next(iter(plan.setup), None)
    names = [each.name for each in plan.setup]
    found = [each for each in plan.setup if folded(each.name) == folded(name or "")]
    if found:
        return found[0]
    if name is None:
        told = f"it has {len(names)} set-ups, and which one is meant is not said"
    else:
        told = f"no set-up is called {quoted(name)}"
    shown = ", ".join(quoted(each) for each in (nearest(name or "", names) or names))
    raise EvencastError(
        told,
        where=f"plan {quoted(plan.name)}",
        remedy=f"Name one of its set-ups: {shown}."
        if names
        else "It has no set-up yet: add one as [[setup]] with a name, or name none.",
    )


def at_setup(plan: Plan, name: str) -> Plan:
    """The plan with its lights as they are in a set-up: only the keys written there differ.

    A table, such as an aim or a level, is taken as a whole. A set-up that says in another way
    what the light is does away with the old way, with what went with it, and, where it names
    a built-in light, with the kind, since that has its own.

    Raises  EvencastError for a set-up that is not there; DocumentErrors where plan and set-up
            together contradict each other
    """
    setup = setup_named(plan, name)
    changes = {folded(each.name): each for each in setup.light} if setup else {}
    return plan.model_copy(
        update={
            "light": tuple(
                _merged(each, changes[folded(each.name)], f"setup {quoted(name)}")
                if folded(each.name) in changes
                else each
                for each in plan.light
            )
        }
    )


def light_in(setup: Setup | None, light: str) -> SetupLight | None:
    """What a set-up says of a light; None where it says nothing."""
    if setup is None:
        return None
    return next((each for each in setup.light if folded(each.name) == folded(light)), None)


def hung_on(changed: SetupLight | None) -> Hung | None:
    """What hangs on a light in a set-up: what was rigged, else what was planned."""
    return None if changed is None else changed.rigged or changed.planned


def _merged(light: Light, changed: SetupLight, where: str) -> Light:
    """One light with what the set-up changes in it, checked anew as a whole."""
    merged = changed.over(light)
    data = {
        key: value
        for key in Light.model_fields.keys() & merged.model_fields_set
        if (value := getattr(merged, key)) is not None
    }
    try:
        return Light.model_validate(data)
    except ValidationError as error:
        place = f"{where}.light {quoted(light.name)}"
        raise DocumentErrors(
            where, problems_of(error, model=Light, data=data, where=place)
        ) from None
