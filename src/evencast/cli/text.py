"""Answers with tables as text: an answer sentence, then a table that fits 80 columns."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict

from rich.box import SIMPLE
from rich.console import Console
from rich.table import Table

from evencast.cli.plain import WIDTH, bullets, sentence
from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.quantities import many, say_stops
from evencast.results.catalogue import CatalogueFilter, CatalogueLight
from evencast.results.choice import Choice, MatchAnswer
from evencast.results.light import say_kelvin
from evencast.results.plan import PlannedLight
from evencast.results.words import match_verdict, say_doubtful_left, say_inside, say_stack


def match(answer: MatchAnswer) -> str:
    """The best stacks for one light."""
    best = answer.choices[0]
    rows = [
        (
            str(place),
            say_stack(each),
            say_stops(each.loss_stops) if each.filters else "none",
            say_doubtful_left(each),
            say_inside(each),
        )
        for place, each in enumerate(answer.choices, 1)
    ]
    bare = answer.no_filter
    if all(each.filters for each in answer.choices):
        rows.append(
            (
                "-",
                "no filter",
                "none",
                say_doubtful_left(bare),
                say_inside(bare),
            )
        )
    lines = [sentence(match_verdict(answer)), table(("", "Stack", "Loss", "Left", "Inside"), rows)]
    lines.append(sentence(answer.reason))
    lines += [
        "",
        sentence(
            f"Compared: {answer.searched:,}, every stack of up to "
            f"{many(answer.proven.layers, 'sheet')}."
            + doubt_told([*answer.choices, answer.no_filter])
        ),
    ]
    lines += bullets("Know", answer.notes) + bullets("Mind", best.cautions)
    return "\n".join(
        lines + bullets("To look at", (problem_line(each) for each in answer.problems))
    )


def doubt_told(every: Sequence[Choice | PlannedLight]) -> str:
    """What ± and percent mean, where there is any doubt."""
    if all(each.band is None for each in every):
        return ""
    return (
        " After ± half the band that holds nine in ten of what sheets and lights not measured "
        "may do; under Inside the share of it within the tolerance."
    )


def lights(answer: dict[str, list[CatalogueLight]]) -> str:
    """The built-in lights."""
    rows = [
        (
            each.name,
            ", ".join(each.aliases),
            say_kelvin(each.reading),
            "-" if each.reading.cct_k is None else f"{each.reading.duv:+.4f}",
            each.note,
        )
        for each in answer["lights"]
    ]
    head = sentence(f"{len(rows)} built-in lights, all with published spectra or exact loci.")
    return "\n".join([head, table(("Light", "Short", "CCT", "Duv", "Note"), rows)])


def filters(answer: dict[str, list[CatalogueFilter]]) -> str:
    """Filters with what they do."""
    rows = [
        (
            each.name,
            each.role,
            f"{each.on_k:.0f} K",
            "-" if each.shift_mired is None else f"{round(each.shift_mired):+d}",
            "-" if each.shift_duv is None else f"{round(each.shift_duv, 4) + 0.0:+.4f}",
            say_stops(each.loss_stops),
        )
        for each in answer["filters"]
    ]
    head = sentence(
        f"{len(rows)} filters. Shift (+ warmer), Duv (+ greener) and loss hold for the white "
        "named in the row alone: ask `evencast through LIGHT FILTER` for any other."
    )
    return "\n".join([head, table(("Filter", "Role", "On", "Mired", "Duv", "Loss"), rows)])


def error(failure: EvencastError) -> str:
    """A failure: what, where, what to do."""
    lines = [f"what:   {failure.what}", f"where:  {failure.where}", f"remedy: {failure.remedy}"]
    if isinstance(failure, DocumentErrors):
        lines += bullets("Found", (problem_line(each) for each in failure.problems))
    return "\n".join(lines)


def error_json(failure: EvencastError) -> str:
    """A failure as the contract's one object."""
    content: dict[str, object] = {
        "error": {"what": failure.what, "where": failure.where, "remedy": failure.remedy}
    }
    if isinstance(failure, DocumentErrors):
        content["problems"] = [asdict(each) for each in failure.problems]
    return json.dumps(content, indent=2, ensure_ascii=False)


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of at most 80 columns, plain text."""
    drawn = Table(box=SIMPLE, pad_edge=False, show_edge=False, collapse_padding=True)
    for heading in headings:
        drawn.add_column(heading, overflow="fold")
    for row in rows:
        drawn.add_row(*row)
    console = Console(
        file=io.StringIO(), width=WIDTH, color_system=None, highlight=False, markup=False
    )
    console.print(drawn)
    text = console.file.getvalue()  # type: ignore[attr-defined]  # a StringIO, as given above
    return "\n" + "\n".join(line.rstrip() for line in text.splitlines()) + "\n"


def problem_line(problem: Problem) -> str:
    """A problem of a document on one line."""
    return f"{problem.severity}: {problem.where}: {problem.message}. {problem.remedy}"
