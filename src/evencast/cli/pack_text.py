"""A kit to pack as text."""

from __future__ import annotations

from collections.abc import Sequence

from evencast.cli.plain import bullets, sentence
from evencast.cli.text import problem_line, table
from evencast.quantities import many, say_left, say_stops
from evencast.results.pack import PackAnswer, Served, Unreached
from evencast.results.words import say_tolerance

DOUBT = (
    "In brackets the share of what light and sheets may be that is inside the tolerance: where it "
    "is small, hang the stack, read it and trim it."
)
MOST_NAMED = 12
"""More filters that are not needed are counted, not named."""


def pack(answer: PackAnswer) -> str:
    """What to pack, why, and what each light then gets."""
    blocks = [sentence(_verdict(answer))]
    if answer.sheets:
        rows = [(each.filter, str(each.copies), each.reason) for each in answer.sheets]
        blocks += [table(("Pack", "Copies", "Why"), rows), sentence(_proof(answer))]
    if answer.served:
        heads = ("Light", "Balance", "In front of it", "Loss", "Left")
        blocks.append(table(heads, _rows(answer.served)))
    if any(each.share_within < 1.0 for each in answer.served):
        blocks.append(sentence(DOUBT))
    if answer.sheets and answer.left_out:
        names = answer.left_out
        told = ", ".join(names) if len(names) <= MOST_NAMED else f"the other {len(names)}"
        blocks.append(sentence(f"Not needed to correct: {told}."))
    for title, texts in (
        ("Nothing in the kit reaches", _missed(answer.unreached)),
        ("Know", answer.notes),
        ("Mind", _cautions(answer.served)),
        ("To look at", [problem_line(each) for each in answer.problems]),
    ):
        blocks.append("\n".join(bullets(title, texts)))
    return "\n\n".join(each.strip("\n") for each in blocks if each)


def _verdict(answer: PackAnswer) -> str:
    count, pairs = answer.proven.sheets, len(answer.served) + len(answer.unreached)
    lights, balances = len(answer.lights), len(answer.balances)
    asked = f"{many(lights, 'light')} at {many(balances, 'balance')}"
    within = f"{answer.tolerance.role}: {say_tolerance(answer.tolerance)}"
    if not answer.served:
        return f"Nothing in {answer.kit} brings {asked} near enough ({within})."
    reach = f"{len(answer.served)} of {pairs} pairs of {asked}"
    if not count:
        return f"Pack nothing to correct with: {reach} are near enough bare ({within})."
    return (
        f"Pack {many(count, 'sheet')} of {answer.kit}: they reach {reach}, as many as the whole "
        f"kit does ({within})."
    )


def _proof(answer: PackAnswer) -> str:
    proven = answer.proven
    told = f"{answer.searched:,} stacks of up to {many(proven.layers, 'sheet')} for each pair"
    if proven.gap == 0:
        return f"Proven: no fewer sheets reach as many. Compared: {told}."
    return (
        f"Not proven to be the fewest, for time ran out: at least {proven.bound} are needed. "
        f"Compared: {told}."
    )


def _rows(served: Sequence[Served]) -> list[tuple[str, ...]]:
    """One row a pair; a light is named once."""
    rows: list[tuple[str, ...]] = []
    above = ""
    for each in served:
        rows.append(
            (
                "" if each.light == above else each.light,
                each.balance,
                " + ".join(each.filters) or "no filter",
                say_stops(each.loss_stops) if each.filters else "none",
                say_left(each.residual_mired, each.residual_duv) + _doubt(each),
            )
        )
        above = each.light
    return rows


def _doubt(each: Served) -> str:
    return "" if each.share_within >= 1.0 else f" ({each.share_within:.0%} inside)"


def _missed(unreached: Sequence[Unreached]) -> list[str]:
    """Each light once, with what comes nearest at each balance and what else can be done."""
    of: dict[str, list[Unreached]] = {}
    for each in unreached:
        of.setdefault(each.light, []).append(each)
    told = []
    for light, every in of.items():
        at = "; ".join(_nearest(each) for each in every)
        elsewhere = " or ".join(every[0].reached_at)
        balance = f"balance at {elsewhere}, where it is reached; " if elsewhere else ""
        told.append(f"{light}: {at}. Or {balance}{every[0].instead}.")
    return told


def _nearest(each: Unreached) -> str:
    left = say_left(each.residual_mired, each.residual_duv)
    told = f"at {each.balance} {' + '.join(each.nearest) or 'bare'} is {left}"
    if not each.borrow:
        return told
    beside = f" to go with {' + '.join(each.beside)}" if each.beside else ""
    return f"{told}, borrow {' + '.join(each.borrow)}{beside}"


def _cautions(served: Sequence[Served]) -> list[str]:
    """Every caution once, with the lights it belongs to."""
    of: dict[str, dict[str, None]] = {}
    for each in served:
        for caution in each.cautions:
            of.setdefault(caution, {})[each.light] = None
    return [f"{', '.join(lights)}: {caution}" for caution, lights in of.items()]
