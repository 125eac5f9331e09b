"""What several rules say in the same words."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from evencast.errors import Problem, nearest
from evencast.plan.place import folded, listed_names, quoted
from evencast.plan.plan import Plan


def twice(names: Iterable[str]) -> Iterator[str]:
    """Each name that comes again, as written the second time."""
    counts: dict[str, int] = {}
    for name in filter(None, names):
        counts[folded(name)] = counts.get(folded(name), 0) + 1
        if counts[folded(name)] == 2:
            yield name


def folded_set(names: Iterable[str]) -> set[str]:
    """Names as they are compared, without empty ones."""
    return {folded(name) for name in names if name}


def no_such(where: str, name: str, *, what: str, names: Sequence[str], add: str) -> Problem:
    """A name that nothing has.

    what  : "light of the plan", "circuit of the plan"
    names : those that there are
    add   : what to do where there is none at all
    """
    there = [each for each in names if each]
    such = listed_names((nearest(name, there) or there)[:6])
    return Problem(
        "error",
        where,
        f"no {what} is called {quoted(name)}",
        f"Name one of its {what.split()[0]}s, such as {such}." if such else add,
    )


def no_such_light(where: str, name: str, plan: Plan) -> Problem:
    """A name that no light of the plan has."""
    names = [light.name for light in plan.light]
    return no_such(
        where, name, what="light of the plan", names=names, add="Add a light of that name."
    )


def not_built_in(where: str, name: str, known: Collection[str], what: str) -> Problem:
    """A name that no built-in thing of that sort has."""
    return Problem(
        "error",
        where,
        f"no built-in {what} is called {quoted(name)}",
        f"{did_you_mean(name, known)}`evencast {what}s` lists them.",
    )


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """The nearest names as a question, with a space behind it; empty where none is near."""
    close = nearest(name, known)
    return "Did you mean " + " or ".join(quoted(each) for each in close) + "? " if close else ""


def not_upwards(where: str, low_k: float, high_k: float) -> Problem:
    """A range of kelvin that runs down or stands still."""
    return Problem(
        "error",
        where,
        f"runs from {low_k:g} K to {high_k:g} K",
        "Write the lower number as low_k and the higher as high_k.",
    )
