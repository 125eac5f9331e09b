"""A trim as text."""

from __future__ import annotations

from evencast.cli.plain import bullets, pairs, sentence
from evencast.quantities import say_left, say_stops
from evencast.results.trim import AsRead, Hangs, Left, TrimAnswer
from evencast.results.words import say_stop_range


def trim(answer: TrimAnswer) -> str:
    """The change, what is there before and after, and why."""
    head = f"{answer.light}: {answer.trim}."
    lines = [sentence(head), ""]
    lines += pairs(
        [
            ("hangs", f"{hangs(answer.hangs)}{_by(answer)}"),
            *_read(answer.read),
            *_expected(answer),
            ("wanted", _wanted(answer)),
            ("now", left(answer.before)),
            *_then_hangs(answer),
            *(
                []
                if answer.move == "leave"
                else [("then", left(answer.after, doubt=answer.after.within_tolerance or False))]
            ),
        ]
    )
    lines += ["", sentence(answer.why)] if answer.why else []
    lines += ["", sentence(answer.then)] if answer.then else []
    lines += bullets("Know", answer.notes) + bullets("Mind", answer.cautions)
    return "\n".join(
        lines
        + bullets(
            "To look at",
            (
                f"{each.severity}: {each.where}: {each.message}. {each.remedy}"
                for each in answer.problems
            ),
        )
    )


def _then_hangs(answer: TrimAnswer) -> list[tuple[str, str]]:
    before, after = hangs(answer.hangs), hangs(answer.after_hangs)
    return [] if before == after else [("then hangs", after)]


def hangs(what: Hangs) -> str:
    """What hangs on a light and how it is set."""
    parts = [] if what.swapped_for is None else [f"swapped for {what.swapped_for}"]
    parts += [] if what.dial_k is None else [f"dial {what.dial_k:.0f} K"]
    parts += [] if what.dim_stops == 0 else [f"dimmed {say_stops(what.dim_stops)}"]
    parts += [*what.filters, *what.frost, *(f"{each} scrim" for each in what.scrims)]
    return " + ".join(parts) or "nothing"


def left(what: Left, *, doubt: bool = False) -> str:
    """What is left of colour and level; with its doubt, where it is not read but computed."""
    parts = []
    if what.within_tolerance is not None and what.share_within is not None:
        inside = "inside" if what.within_tolerance else "outside"
        share = f", as is {what.share_within:.0%} of what it may be" if doubt else ""
        parts.append(f"{say_left(what.residual_mired, what.residual_duv)}: {inside}{share}")
    if what.over_stops is not None:
        low, high = what.over_stops
        parts.append(_level(low) if high - low < 0.05 else f"{_level(low)} to {_level(high)}")
    return "; ".join(parts) or "not judged"


def _level(over: float) -> str:
    told = say_stops(over)
    return (
        f"level {told} {'over' if over > 0 else 'under'}"
        if abs(over) >= 0.05
        else "level as wanted"
    )


def _by(answer: TrimAnswer) -> str:
    where = "" if answer.setup is None else f' in "{answer.setup}"'
    return "" if answer.hangs_by is None else f", as {answer.hangs_by}{where}"


def _read(read: AsRead) -> list[tuple[str, str]]:
    rows = []
    if read.cct_k is not None:
        duv = "" if read.duv is None else f", Duv {read.duv + 0.0:+.4f}"
        when = "".join(f", {each}" for each in (read.time, read.sky) if each)
        rows.append(("reads", f"{read.cct_k:.0f} K{duv}, by the {read.known_by}{when}"))
    if read.level is not None and read.f_number is not None:
        rows.append(
            ("level", f"{read.level}: {say_stop_range(read.f_number)} at this index and shutter")
        )
    return rows


def _expected(answer: TrimAnswer) -> list[tuple[str, str]]:
    if answer.expected_k is None or answer.expected_duv is None:
        return []
    return [("expected", f"{answer.expected_k:.0f} K, Duv {answer.expected_duv + 0.0:+.4f}")]


def _wanted(answer: TrimAnswer) -> str:
    colour = "no CCT" if answer.aim.cct_k is None else f"{answer.aim.cct_k:.0f} K"
    level = "" if answer.wanted_level is None else f"; level {answer.wanted_level}"
    return f"{colour}, Duv {answer.aim.duv + 0.0:+.4f} ({answer.aim.label}){level}"
