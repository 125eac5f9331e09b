"""The stacks at other balances as the pocket page tells them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from evencast.actions.handouts.every_balance import (
    BALANCES_K,
    AtBalance,
    EveryBalance,
    Lights,
    Searches,
    Stack,
)
from evencast.actions.handouts.job import Job, Part
from evencast.actions.match import tolerance_answer
from evencast.handouts.anchor import anchor
from evencast.handouts.pocket import BalanceRow, StackChoice, StackTable
from evencast.handouts.sums import Field
from evencast.plan.light import Light
from evencast.quantities import listed, many, say_left, say_stops
from evencast.results.plan import PlannedLight
from evencast.results.words import say_loss, say_tolerance

NO_WHITE = "it would have to be no white that light can have"


def stack_tables(job: Job) -> tuple[list[StackTable], list[str]]:
    """The tables of every light, one for set-ups in which it is the same; and the lights that have
    none, with the reason."""
    plan = job.parts[0].loaded.plan
    searches = Searches(job.parts[0].loaded.kit, most_loss_stops=plan.limits.loss_stops)
    found: dict[tuple[str, str, str], list[tuple[Part, StackTable]]] = {}
    without: dict[str, None] = {}
    for part in job.parts:
        lights = Lights(part, searches, job.path.parent)
        entries = part.loaded.plan.light
        for done, entry in enumerate(entries, 1):
            if job.progress:
                job.progress("stacks at every balance", done, len(entries))
            told = _table(part, lights, entry)
            if isinstance(told, str):
                without[told] = None
            else:
                alike = (told.name, told.takes, str(told.rows))
                found.setdefault(alike, []).append((part, told))
    return [_for_all(each, len(job.parts)) for each in found.values()], list(without)


def balance_field(job: Job) -> Field:
    """The field that picks a balance; at that of the first set-up to begin with."""
    cct_k = job.parts[0].answer.balance.cct_k or 4300.0
    nearest = min(BALANCES_K, key=lambda each: abs(each - cct_k))
    low, high = BALANCES_K[0], BALANCES_K[-1]
    return Field("balance", "Balance", str(nearest), low, high, "-50", "+50", unit="K")


def tables_say(job: Job) -> list[str]:
    """What the tables hold for."""
    plan, kit = job.parts[0].loaded.plan, job.parts[0].loaded.kit
    limit = plan.limits.loss_stops
    layers = many(plan.limits.layers, "sheet")
    most = "" if limit is None else f" that take at most {say_stops(limit)}"
    return [
        f"Computed before: the first three stacks of evencast match, of up to "
        f"{layers} of the kit {kit.name}{most}, by all that sheets and "
        "lights not measured may be. The first is best.",
        "For the sheets in the kit whatever its stock: whether there is enough of one was not "
        "asked.",
        "Each light by itself and its colour alone: levels, other lights and time were not "
        "weighed.",
        "Assumed: no tint on the camera, so that a balance of N K is the white of N K; lamps "
        "swapped and dimmed as planned, frost before them. What can be dialled is dialled first.",
        "A light that shall be like another is matched to that one behind its own first stack.",
    ]


def _for_all(each: Sequence[tuple[Part, StackTable]], parts: int) -> StackTable:
    """One table for the set-ups in which it is the same; they are named where not all are."""
    names = [part.name for part, _ in each]
    setups = "" if len(names) == parts else f"in set-up {listed(names)}"
    return replace(each[0][1], setups=setups)


def _table(part: Part, lights: Lights, entry: Light) -> StackTable | str:
    """The table of a light, or why it has none."""
    number = part.numbers[entry.name]
    if entry.behind is not None:
        return f"{number} {entry.name}: it has the sheets of {entry.behind}, before which it lies."
    every = lights.at_every_balance(entry)
    if every.layers == 0 and not any(row.dial_k for row in every.rows):
        return f"{number} {entry.name}: its moves allow no sheets."
    planned = next(each for each in part.answer.lights if each.name == entry.name)
    return StackTable(
        name=entry.name,
        number=str(number),
        setups="",
        takes=_takes(entry, planned, every),
        anchor=anchor(entry.name, part.name),
        rows=[_row(row) for row in every.rows],
        cautions=every.cautions,
    )


def _takes(entry: Light, planned: PlannedLight, every: EveryBalance) -> str:
    """How the lamp is set, what it shall look like, and how near is near enough."""
    parts = [
        f"as {entry.role}",
        _aim(entry),
        say_tolerance(tolerance_answer(entry.role, every.allowed)),
    ]
    parts += [f"swapped for {planned.swapped_for}"] if planned.swapped_for else []
    parts += [f"dimmed by {say_stops(planned.dim_stops)}"] if planned.dim_stops else []
    parts += [f"through {listed(entry.frost)}"] if entry.frost else []
    parts += ["the plan switches it off"] if planned.move == "switch off" else []
    return ", ".join(parts)


def _aim(entry: Light) -> str:
    aim = entry.aim
    if aim.like is not None:
        return f"to look like {aim.like}"
    if aim.look is not None:
        return f"to look {aim.look}"
    if aim.mired == 0 and aim.duv == 0:
        return "to look as the balance"
    return f"to look {say_left(aim.mired, aim.duv)} beside the balance"


def _row(row: AtBalance) -> BalanceRow:
    told = "" if row.dial_k is None else f"dial {row.dial_k:.0f} K"
    choices = [
        StackChoice(" + ".join(each.filters) or "no sheet", _says(each)) for each in row.stacks
    ]
    return BalanceRow(row.balance_k, told if row.stacks else NO_WHITE, choices)


def _says(each: Stack) -> str:
    left = say_left(each.residual_mired, each.residual_duv)
    loss = f", takes {say_loss(each.loss_stops)}" if each.filters else ""
    return f"{left}{loss}, {'inside' if each.within else 'outside'}"
