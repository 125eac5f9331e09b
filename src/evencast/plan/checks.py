"""Rules between the parts of a document, and between plan and kit: one function each.

A rule returns problems whose `where` is the place inside its document. `plan_problems`,
`kit_problems` and `problems_together` run them and put the document's name before it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from evencast.errors import Problem, nearest
from evencast.filters.filter import SEARCHED_ROLES
from evencast.plan.kit import Kit
from evencast.plan.light import LightKeys
from evencast.plan.place import entry, folded, quoted
from evencast.plan.plan import Plan


def plan_problems(
    plan: Plan, *, where: str, known_lights: Collection[str] | None = None
) -> list[Problem]:
    """What is wrong between the parts of a plan.

    known_lights : names of the built-in lights; None leaves them unchecked
    """
    found = [
        *check_light_names(plan),
        *check_setup_names(plan),
        *check_setup_lights(plan),
        *check_card_light(plan),
        *check_balance_range(plan),
        *check_like(plan),
        *check_like_cycles(plan),
        *check_adjustable(plan),
        *check_dial(plan),
        *([] if known_lights is None else check_builtin_lights(plan, known_lights)),
    ]
    return _inside(where, found)


def kit_problems(
    kit: Kit, *, where: str, known_filters: Collection[str] | None = None
) -> list[Problem]:
    """What is wrong between the parts of a kit.

    known_filters : names of the generic filters; None leaves them unchecked
    """
    found = [
        *check_filter_names(kit),
        *check_stock_ids(kit),
        *check_empty_kit(kit),
        *([] if known_filters is None else check_generic_filters(kit, known_filters)),
    ]
    return _inside(where, found)


def problems_together(plan: Plan, kit: Kit, *, where: str) -> list[Problem]:
    """What is wrong between a plan and its kit; `where` names the kit."""
    return _inside(where, check_something_to_correct_with(plan, kit))


def check_light_names(plan: Plan) -> list[Problem]:
    """No two lights share a name, whatever its capitals."""
    return [
        Problem(
            "error",
            f"light {quoted(name)}",
            f"two lights are called {quoted(name)}",
            "Give each its own name; capitals make no difference.",
        )
        for name in _twice(light.name for light in plan.light)
    ]


def check_setup_names(plan: Plan) -> list[Problem]:
    """No two set-ups share a name, nor does one name a light twice."""
    found = [
        Problem(
            "error",
            f"setup {quoted(name)}",
            f"two set-ups are called {quoted(name)}",
            "Give each its own name; capitals make no difference.",
        )
        for name in _twice(setup.name for setup in plan.setup)
    ]
    return found + [
        Problem(
            "error",
            f"setup {quoted(setup.name)}.light {quoted(name)}",
            f"{quoted(name)} stands in this set-up twice",
            "Write what differs for it in one place.",
        )
        for setup in plan.setup
        for name in _twice(light.name for light in setup.light)
    ]


def check_setup_lights(plan: Plan) -> list[Problem]:
    """A set-up speaks of the plan's lights only."""
    names = {folded(light.name) for light in plan.light}
    return [
        _no_such_light(f"{where}.name", light.name, plan)
        for where, light in _everywhere(plan)
        if light.name and folded(light.name) not in names
    ]


def check_card_light(plan: Plan) -> list[Problem]:
    """The balance is taken under a light of the plan."""
    name = plan.camera.balance.from_card_under
    if name is None or plan.light_named(name) is not None:
        return []
    return [_no_such_light("camera.balance.from_card_under", name, plan)]


def check_balance_range(plan: Plan) -> list[Problem]:
    """A range of balances runs upwards."""
    balance = plan.camera.balance
    if balance.low_k is None or balance.high_k is None or balance.low_k < balance.high_k:
        return []
    return [_not_upwards("camera.balance", balance.low_k, balance.high_k)]


def check_like(plan: Plan) -> list[Problem]:
    """A light that shall look like another names a light of the plan."""
    names = {folded(light.name) for light in plan.light}
    return [
        _no_such_light(f"{where}.aim.like", light.aim.like, plan)
        for where, light in _everywhere(plan)
        if light.aim.like is not None and folded(light.aim.like) not in names
    ]


def check_like_cycles(plan: Plan) -> list[Problem]:
    """No light is to look like itself, by whatever detour."""
    like = {
        folded(light.name): folded(light.aim.like)
        for light in plan.light
        if light.name and light.aim.like
    }
    shown = {folded(light.name): light.name for light in plan.light}
    found: list[Problem] = []
    seen: set[str] = set()
    for start in like:
        chain = _chain(start, like)
        if chain[-1] != start or seen & set(chain):
            continue
        seen |= set(chain)
        said = " like ".join(quoted(shown[name]) for name in chain)
        found.append(
            Problem(
                "error",
                f"light {quoted(shown[start])}.aim.like",
                f"goes round in a circle: {said}",
                "Give one of them an aim of its own, as in aim = { mired = 0 }.",
            )
        )
    return found


def check_adjustable(plan: Plan) -> list[Problem]:
    """The range of an adjustable light runs upwards."""
    return [
        _not_upwards(f"{where}.adjustable", light.adjustable.low_k, light.adjustable.high_k)
        for where, light in _everywhere(plan)
        if light.adjustable is not None and light.adjustable.low_k >= light.adjustable.high_k
    ]


def check_dial(plan: Plan) -> list[Problem]:
    """A light that may be dialled says over which range."""
    return [
        Problem(
            "warning",
            f"light{entry(light.name, number=number)}.moves",
            "it may be dialled, but nothing says over which range, so it will not be",
            "Add its range, as in adjustable = { low_k = 2700, high_k = 6500 }.",
        )
        for number, light in enumerate(plan.light, start=1)
        if "moves" in light.model_fields_set and "dial" in light.moves and light.adjustable is None
    ]


def check_builtin_lights(plan: Plan, known_lights: Collection[str]) -> list[Problem]:
    """A built-in light is one that there is."""
    known = {folded(name) for name in known_lights}
    return [
        _not_built_in(f"{where}.builtin", light.builtin, known_lights, "light")
        for where, light in _everywhere(plan)
        if light.builtin is not None and folded(light.builtin) not in known
    ]


def check_filter_names(kit: Kit) -> list[Problem]:
    """No two filters share a name, whatever its capitals."""
    return [
        Problem(
            "error",
            f"filter {quoted(name)}",
            f"two filters are called {quoted(name)}",
            "Give each its own name, or write one filter with more stock.",
        )
        for name in _twice(each.name for each in kit.filter)
    ]


def check_stock_ids(kit: Kit) -> list[Problem]:
    """No two pieces carry one id."""
    ids = [(each.name, stock.id) for each in kit.filter for stock in each.stock if stock.id]
    owner = {folded(stock_id): name for name, stock_id in ids}
    return [
        Problem(
            "error",
            f"filter {quoted(owner[folded(stock_id)])}.stock {quoted(stock_id)}",
            f"{quoted(stock_id)} is the id of another entry of stock too",
            "Give each its own id, or count the pieces of one size in one entry.",
        )
        for stock_id in _twice(stock_id for _, stock_id in ids)
    ]


def check_empty_kit(kit: Kit) -> list[Problem]:
    """A kit holds something to put in front of a light."""
    if kit.filter:
        return []
    return [
        Problem(
            "warning",
            "filter",
            "the kit holds no filter: there is nothing to put in front of any light",
            'Add one, as in [[filter]] with name = "full CTB", role = "correction" and '
            'generic = "full CTB".',
        )
    ]


def check_generic_filters(kit: Kit, known_filters: Collection[str]) -> list[Problem]:
    """A generic filter is one that there is."""
    known = {folded(name) for name in known_filters}
    return [
        _not_built_in(
            f"filter{entry(each.name, number=number)}.generic",
            each.generic,
            known_filters,
            "filter",
        )
        for number, each in enumerate(kit.filter, start=1)
        if each.generic is not None and folded(each.generic) not in known
    ]


def check_something_to_correct_with(plan: Plan, kit: Kit) -> list[Problem]:
    """Where lights may be filtered, the kit holds a filter that a search may pick."""
    lights = [quoted(light.name) for light in plan.light if "filter" in light.moves]
    if not lights or not kit.filter or any(each.role in SEARCHED_ROLES for each in kit.filter):
        return []
    return [
        Problem(
            "warning",
            "filter",
            f"nothing in the kit can correct {', '.join(lights)}: no filter has the role "
            "correction, green or ND",
            "Check the roles, or add such a filter; diffusion and effect are never picked to "
            "correct.",
        )
    ]


def _inside(where: str, problems: Iterable[Problem]) -> list[Problem]:
    return [replace(each, where=f"{where}, {each.where}") for each in problems]


def _twice(names: Iterable[str]) -> Iterator[str]:
    """Each name that comes again, as written the second time."""
    counts: dict[str, int] = {}
    for name in filter(None, names):
        counts[folded(name)] = counts.get(folded(name), 0) + 1
        if counts[folded(name)] == 2:
            yield name


def _chain(start: str, like: dict[str, str]) -> list[str]:
    """From a light to what it is like, and on, until a light comes again or the chain ends."""
    chain, met = [start], {start}
    while (following := like.get(chain[-1])) is not None:
        chain.append(following)
        if following in met:
            break
        met.add(following)
    return chain


def _everywhere(plan: Plan) -> Iterator[tuple[str, LightKeys]]:
    """The plan's lights and what its set-ups change in them, each with its place."""
    for number, light in enumerate(plan.light, start=1):
        yield f"light{entry(light.name, number=number)}", light
    for count, setup in enumerate(plan.setup, start=1):
        for number, changed in enumerate(setup.light, start=1):
            inside = f"setup{entry(setup.name, number=count)}"
            yield f"{inside}.light{entry(changed.name, number=number)}", changed


def _no_such_light(where: str, name: str, plan: Plan) -> Problem:
    names = [light.name for light in plan.light if light.name]
    such = ", ".join(quoted(each) for each in (nearest(name, names) or names)[:6])
    return Problem(
        "error",
        where,
        f"no light of the plan is called {quoted(name)}",
        f"Name one of its lights, such as {such}." if such else "Add a light of that name.",
    )


def _not_built_in(where: str, name: str, known: Collection[str], what: str) -> Problem:
    close = nearest(name, known)
    meant = "Did you mean " + " or ".join(quoted(each) for each in close) + "? " if close else ""
    return Problem(
        "error",
        where,
        f"no built-in {what} is called {quoted(name)}",
        f"{meant}`evencast {what}s` lists them.",
    )


def _not_upwards(where: str, low_k: float, high_k: float) -> Problem:
    return Problem(
        "error",
        where,
        f"runs from {low_k:g} K to {high_k:g} K",
        "Write the lower number as low_k and the higher as high_k.",
    )
