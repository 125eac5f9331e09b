"""Levels: what a reading needs to be used, and what needs a level."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evencast.errors import Problem
from evencast.plan.checks.standing import Standing, scenes, standing
from evencast.plan.level import READ_KEYS, Level
from evencast.plan.place import entry, folded, listed_names, quoted
from evencast.plan.plan import Plan

INCIDENT_KEYS = ("lux", "fc")
BY_CANDELA_KEYS = ("cd", "watts", "photometry")
READINGS = tuple(key for (key,) in READ_KEYS)


def check_reading_distance(plan: Plan) -> list[Problem]:
    """A reading is carried to the light's distance only from a distance that is known."""
    return [
        Problem(
            "error",
            f"{each.where}.level",
            "how far from the light it was read is not said, so it cannot be carried to the "
            f"light's own distance of {distance_mm / 1000:.3g} m",
            "Add it to the level, as in level = { lux = 800, distance_m = 3 }; leave the light's "
            "own distance out if it was read at the subject.",
        )
        for each, level in _levels(plan)
        if (distance_mm := each.light.distance_mm) is not None
        and level.distance_mm is None
        and _given(level, READINGS)
        and each.light.role != "view"
    ]


def check_candela_distance(plan: Plan) -> list[Problem]:
    """Candelas light a subject at a distance."""
    return [
        Problem(
            "error",
            f"{each.where}.level",
            f"{quoted(given[0])} says how bright the lamp is, and nothing says how far away it "
            "stands",
            "Add its distance to the subject, as in distance_m = 3.",
        )
        for each, level in _levels(plan)
        if (given := _given(level, BY_CANDELA_KEYS))
        and each.light.distance_mm is None
        and level.distance_mm is None
    ]


def check_watts(plan: Plan) -> list[Problem]:
    """Watts tell how bright a tungsten lamp is, and no other."""
    return [
        Problem(
            "error",
            f"{each.where}.level.watts",
            "watts do not tell how bright a lamp is unless it is tungsten, and "
            + (
                "nothing says that this one is"
                if each.light.lamp_kind() == "unknown"
                else f"the kind of this one is {each.light.lamp_kind()}"
            ),
            'Give a reading, as in level = { lux = 800, distance_m = 3 }; or kind = "tungsten" '
            "if it is.",
        )
        for each, level in _levels(plan)
        if level.watts is not None and each.light.lamp_kind() not in ("tungsten", "")
    ]


def check_view_reading(plan: Plan) -> list[Problem]:
    """A view is read as the camera sees it, by the light that comes from it."""
    return [
        Problem(
            "error",
            f"{each.where}.level",
            f"{quoted(given[0])} says what falls on a place, and a view is judged by what comes "
            "from it",
            "Give a reflected reading of the view, as in level = { ev = 12 } or "
            "level = { f_stop = 11 }.",
        )
        for each, level in _levels(plan)
        if each.light.role == "view" and (given := _given(level, INCIDENT_KEYS + BY_CANDELA_KEYS))
    ]


def check_spot_levels(plan: Plan) -> list[Problem]:
    """What a light gives at a spot in stops stands against a level that it has."""
    return [
        Problem(
            "error",
            f"spot{entry(spot.name, number=number)}.light {quoted(light.name)}.stops",
            f"{quoted(named.name)} has no level that these stops could be set against",
            "Give the light its level, as in level = { lux = 800, distance_m = 3 }, or the spot "
            "a reading of the light in place of stops.",
        )
        for number, spot in enumerate(plan.spot, start=1)
        for light in spot.light
        if light.name and light.stops is not None
        for named in (plan.light_named(light.name),)
        if named is not None and named.level is None
    ]


def check_judged(plan: Plan) -> list[Problem]:
    """An aim in stops is judged where the light and a key light have a level."""
    return [
        problem
        for scene in scenes(plan)
        for each in scene
        if each.wrote("aim", "level", "role")
        for problem in _unjudged(each, scene, plan)
    ]


def check_frost_size(plan: Plan) -> list[Problem]:
    """How wide a frost is lit is said of a frost."""
    return [
        Problem(
            "warning",
            f"{each.where}.frost_size",
            "no frost hangs in front of it, so this is not used",
            'Name the frost, as in frost = ["light frost"], or leave the size out.',
        )
        for each in standing(plan)
        if each.wrote("frost", "frost_size_mm")
        and each.light.frost_size_mm is not None
        and not each.light.frost
    ]


def check_read_colour(plan: Plan) -> list[Problem]:
    """Green and tint were read together with kelvin."""
    return [
        Problem(
            "error",
            f"setup{entry(setup.name, number=count)}.light{entry(light.name, number=number)}"
            f".read.{key}",
            f"{quoted(key)} says no colour without the kelvin of the same reading",
            "Add it, as in read = { cct_k = 5480, duv = 0.001 }.",
        )
        for count, setup in enumerate(plan.setup, start=1)
        for number, light in enumerate(setup.light, start=1)
        if light.read is not None and light.read.cct_k is None
        for key in ("duv", "tint")
        if getattr(light.read, key) is not None
    ]


def check_on_a_circuit(plan: Plan) -> list[Problem]:
    """Where a plan has circuits, a light that draws from one says from which."""
    return [
        Problem(
            "warning",
            f"{each.where}.circuit",
            "it draws current and hangs on none of the plan's circuits, so it is counted on none",
            f"Name one of them: {listed_names(circuits[:6])}; or leave its watts and amps out if "
            "it runs on a battery.",
        )
        for circuits in ([circuit.name for circuit in plan.circuit if circuit.name],)
        if circuits
        for each in standing(plan)
        if each.wrote("watts", "amps", "circuit")
        and (each.light.watts is not None or each.light.amps is not None)
        and each.light.circuit is None
    ]


def _levels(plan: Plan) -> Iterator[tuple[Standing, Level]]:
    """Lights with a level, where something is written that its rules read."""
    for each in standing(plan):
        read = ("level", "distance_mm", "role", "kind", "builtin", "spectrum", "cct_k")
        if each.light.level is not None and each.wrote(*read):
            yield each, each.light.level


def _given(level: Level, keys: tuple[str, ...]) -> list[str]:
    return [key for key in keys if getattr(level, key) is not None]


def _unjudged(each: Standing, scene: Sequence[Standing], plan: Plan) -> list[Problem]:
    """A warning where an aim in stops cannot be judged, naming whose level is missing."""
    key, stops = _aimed_stops(each, plan)
    if stops is None:
        return []
    keys = [other.light for other in scene if other.light.role in ("key", "")]
    lit_key = any(light.level is not None for light in keys)
    missing = [] if each.light.level is not None else ["it has no level"]
    if not lit_key and each.light.role not in ("key", ""):
        missing.append(
            f"the key light {quoted(keys[0].name)} has none" if keys else "there is no key light"
        )
    if not missing:
        return []
    return [
        Problem(
            "warning",
            f"{each.where}.aim.{key}",
            f"its level against the key cannot be judged: {' and '.join(missing)}",
            "Write what the meter says of each alone, as in level = { lux = 800, distance_m = 3 }.",
        )
    ]


def _aimed_stops(each: Standing, plan: Plan) -> tuple[str, float | None]:
    """The key that asks for a level against the key light, and the level it asks for."""
    aim = each.light.aim
    if aim.stops is not None or not aim.look:
        return "stops", aim.stops
    own = next((look for look in plan.look if folded(look.name) == folded(aim.look or "")), None)
    return "look", own.stops if own else None
