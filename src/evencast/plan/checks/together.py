"""Rules between a plan and its kit."""

from __future__ import annotations

from collections.abc import Iterator

from evencast.errors import Problem, nearest
from evencast.filters.filter import SEARCHED_ROLES
from evencast.plan.checks.say import folded_set
from evencast.plan.checks.standing import everywhere, standing
from evencast.plan.kit import Kit, KitFilter
from evencast.plan.place import entry, folded, listed_names, quoted
from evencast.plan.plan import Plan


def check_something_to_correct_with(plan: Plan, kit: Kit) -> list[Problem]:
    """Where lights may be filtered, the kit holds a filter that a search may pick."""
    lights = [light.name for light in plan.light if "filter" in light.moves]
    if not lights or not kit.filter or any(map(_may_be_picked, kit.filter)):
        return []
    return [
        Problem(
            "warning",
            "filter",
            f"nothing in the kit can correct {listed_names(lights)}: no filter has the role "
            "correction, green or ND",
            "Check the roles, or add such a filter; diffusion and effect are never picked to "
            "correct.",
        )
    ]


def check_unlimited(plan: Plan, kit: Kit) -> list[Problem]:
    """A filter that may be used says how much of it there is, or its sheets are never used up."""
    frosts = folded_set(name for _, light in everywhere(plan) for name in light.frost)
    is_filtered = bool(_filtered(plan))
    used = [
        each
        for each in kit.filter
        if (is_filtered and _may_be_picked(each)) or folded(each.name) in frosts
    ]
    unlimited = [each.name for each in used if not each.stock]
    if not unlimited:
        return []
    every = len(unlimited) == len(used) > 1
    which = "any filter" if every else listed_names(unlimited)
    return [
        Problem(
            "warning",
            "filter",
            f"nothing says how much there is of {which}: not limited",
            'Write what is there, as in stock = [{ form = "sheet", width_mm = 530, '
            "length_mm = 1220, count = 2 }]; with count = 0 none is left.",
        )
    ]


def check_openings(plan: Plan, kit: Kit) -> list[Problem]:
    """Pieces are counted against the stock where the opening they cover is known."""
    if not any(each.stock and _may_be_picked(each) for each in kit.filter):
        return []
    lights = [name for name, open_to_cover in _filtered(plan).items() if not open_to_cover]
    if not lights:
        return []
    has, their = ("has", "its") if len(lights) == 1 else ("have", "their")
    return [
        Problem(
            "warning",
            "light",
            f"{listed_names(lights)} may be filtered and {has} no aperture: {their} pieces cannot "
            "be counted against the stock",
            "Measure what there is to cover, as in "
            "aperture = [{ width_mm = 170, height_mm = 170, count = 1 }].",
        )
    ]


def check_frosts(plan: Plan, kit: Kit) -> list[Problem]:
    """A frost is a diffusion filter of the kit."""
    return [
        problem
        for where, light in everywhere(plan)
        for name in light.frost
        for problem in _no_frost(f"{where}.frost", name, kit)
    ]


def check_hung(plan: Plan, kit: Kit) -> list[Problem]:
    """What was planned and rigged are filters of the kit."""
    known = folded_set(each.name for each in kit.filter)
    return [
        Problem(
            "warning",
            f"{where}.filters",
            f"no filter of the kit is called {quoted(name)}",
            _such(name, [each.name for each in kit.filter]) or "Add it to the kit.",
        )
        for where, names in _hung(plan)
        for name in names
        if folded(name) not in known
    ]


def _may_be_picked(each: KitFilter) -> bool:
    """Whether a search may pick it; one whose role cannot be read may be meant to."""
    return each.role in SEARCHED_ROLES or not each.role


def _filtered(plan: Plan) -> dict[str, bool]:
    """Lights that may be filtered, in the plan or a set-up, and whether each has an opening; a
    view has the sheets of the window that it is behind."""
    found: dict[str, bool] = {}
    for each in standing(plan):
        if each.light.name and "filter" in each.light.moves and each.light.behind is None:
            has_opening = bool(each.light.aperture)
            found[each.light.name] = found.get(each.light.name, True) and has_opening
    return found


def _hung(plan: Plan) -> Iterator[tuple[str, tuple[str, ...]]]:
    for count, setup in enumerate(plan.setup, start=1):
        for number, light in enumerate(setup.light, start=1):
            where = (
                f"setup{entry(setup.name, number=count)}.light{entry(light.name, number=number)}"
            )
            if light.planned is not None:
                yield f"{where}.planned", light.planned.filters
            if light.rigged is not None:
                yield f"{where}.rigged", light.rigged.filters


def _no_frost(where: str, name: str, kit: Kit) -> list[Problem]:
    named = [each for each in kit.filter if folded(each.name) == folded(name)]
    if any(each.role in ("diffusion", "") for each in named):
        return []
    frosts = [each.name for each in kit.filter if each.role == "diffusion"]
    if named:
        said = f"{quoted(name)} has the role {named[0].role} in the kit, and a frost is diffusion"
    else:
        said = f"no filter of the kit is called {quoted(name)}"
    remedy = _such(name, frosts) or 'Add it to the kit, with role = "diffusion".'
    return [Problem("error", where, said, remedy)]


def _such(name: str, names: list[str]) -> str:
    """What could have been meant; empty where there is nothing to name."""
    there = [each for each in names if each]
    such = listed_names((nearest(name, there) or there)[:6])
    return f"Name one of the kit, such as {such}." if such else ""
