"""What was written on paper, as text."""

from __future__ import annotations

from evencast.cli.plain import bullets, sentence
from evencast.cli.text import problem_line, table
from evencast.quantities import listed, many, say_duv, say_stops, say_turn
from evencast.results.card import CardAnswer, CardRow
from evencast.results.handout import HandoutAnswer


def handout(answer: HandoutAnswer) -> str:
    """The documents of a plan: which, where, and what they lack."""
    of = f" for {listed(answer.setups)}" if answer.setups else ""
    lines = [
        sentence(f"{answer.plan}, {answer.date}: {many(len(answer.files), 'file')}{of}."),
        "",
        *(f"  {each.what:<10} {each.file}" for each in answer.files),
    ]
    return "\n".join(
        lines + bullets("To look at", (problem_line(each) for each in answer.problems))
    )


def card(answer: CardAnswer) -> str:
    """The filters of a kit: what each is for, what it costs, and the documents."""
    balances = listed([f"{each:.0f} K" for each in answer.balances_k])
    head = f"{answer.kit}, {answer.date}: {many(len(answer.rows), 'filter')} at {balances}."
    rows = [
        (each.name, each.light, _shift(each), _out(each), say_stops(each.loss_stops))
        for each in answer.rows
    ]
    lines = (
        [sentence(head), table(("Filter", "In front of", "Shift", "Comes out", "Loss"), rows)]
        if rows
        else []
    )
    lines = lines or [sentence(head), ""]
    lines += [f"  {each.what:<10} {each.file}" for each in answer.files]
    return "\n".join(
        lines + bullets("To look at", (problem_line(each) for each in answer.problems))
    )


def _shift(row: CardRow) -> str:
    return "no CCT" if row.shift_mired is None else say_turn(row.shift_mired)


def _out(row: CardRow) -> str:
    if row.filtered_cct_k is None:
        return "no CCT"
    return f"{row.filtered_cct_k:.0f} K, {say_duv(row.filtered_green_duv or 0.0)}"
