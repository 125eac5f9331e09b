"""One typed line, such as "tungsten 650, 3 m, flood", to a light of a plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencast.actions.editing.document import PLAN, added_problems
from evencast.actions.entry.amounts import read_amounts
from evencast.actions.entry.bare import read_bare, technology
from evencast.actions.entry.keys import keys_of
from evencast.actions.entry.lamps import Lamp, lamp_of, read_builtins, read_kinds
from evencast.actions.entry.line import Line, line_of
from evencast.actions.entry.names import read_names, read_rest, read_words
from evencast.plan.document import sketch_plan
from evencast.plan.place import free_name, quoted
from evencast.plan.plan import Plan
from evencast.results.editing import Ask, Entry

NO_PLAN = """format = 1
name = "scratch"
kit = "kit.toml"
mains_hz = 50
[camera]
balance = { low_k = 2700, high_k = 6500, step_k = 100 }
"""
"""What a line is read against where there is no plan yet."""


def typed_light(text: str, *, plan: str = NO_PLAN) -> Entry:
    """The light that a typed line says: names, watts, distance, focus, level, colour, openings,
    aim and role in any order, with commas or spaces between.

    plan : text of the plan it shall belong to, for the names in it; one with errors will do
    Returns an entry; while it asks for something the plan will not take it
    Raises  EvencastError for a line that says two things about one, and for one that says nothing
    """
    sketch = sketch_plan(plan) or sketch_plan(NO_PLAN)
    assert sketch is not None, "the plan above can be read"
    line = line_of(text)
    read_names(line, sketch)
    read_builtins(line)
    read_kinds(line)
    read_amounts(line)
    read_words(line)
    read_bare(line, technology(line))
    lamp = lamp_of(line)
    lost = read_rest(line)
    keys = keys_of(line, lamp, sketch)
    name = _name(line, lamp, sketch)
    if not line.asks:
        _check(line, name, keys, plan)
    return Entry(name, keys, line.in_order(), lost, line.asks, line.assumed)


def _name(line: Line, lamp: Lamp, plan: Plan) -> str:
    """As typed, else what it is with its watts or Kelvin; with a number where that is taken."""
    typed = line.value("name")
    name = typed or _made_up(line, lamp)
    free = free_name(name, [each.name for each in plan.light if each.name])
    if typed is not None and free != name:
        line.assumed.append(f"{quoted(name)} is taken, so this one is called {quoted(free)}")
    return free


def _made_up(line: Line, lamp: Lamp) -> str:
    says = ("built-in light", "technology", "form")
    bits = sorted((line.said[each] for each in says if each in line.said), key=lambda b: b.begin)
    words = " ".join(each.words for each in bits)
    words = words or (line.value("spectrum") or "").rpartition("/")[2].partition(".")[0]
    words = words or line.value("role") or lamp.kind or "light"
    number = line.value("watts") or line.value("colour")
    if line.value("built-in light") and line.value("watts") is None:
        number = None
    return words if number is None else f"{words} {number:g}"


def _check(line: Line, name: str, keys: Mapping[str, Any], plan: str) -> None:
    """Asks for what the plan would complain of."""
    light = {"name": name, **keys}
    problems = added_problems(PLAN, plan, ("light",), light)
    if problems is None:
        problems = added_problems(PLAN, NO_PLAN, ("light",), light) or []
    for each in problems:
        if each.severity == "error":
            line.ask(f"{each.message}. {each.remedy}")


def answered(text: str, ask: Ask, words: str) -> str:
    """The line with an ask answered by some words; by "" what it asks about is left out.

    text : of the line that asks
    """
    plain = line_of(text).text
    if ask.instead_of and ask.instead_of in plain:
        return " ".join(plain.replace(ask.instead_of, words, 1).split())
    return f"{plain}, {words}" if words else plain
