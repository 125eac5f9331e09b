"""Cautions of an answer, each once, with all that it belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from evencast.results.hangs import HangsAnswer
from evencast.results.plan import SolveAnswer


def minded(said: Iterable[tuple[str, Sequence[str]]]) -> dict[str, list[str]]:
    """By caution the names that it belongs to, each once; both in the order they come.

    said : names, and the cautions of each
    """
    of: dict[str, dict[str, None]] = {}
    for name, cautions in said:
        for caution in cautions:
            of.setdefault(caution, {})[name] = None
    return {caution: list(names) for caution, names in of.items()}


def of_lights(answer: SolveAnswer | HangsAnswer) -> list[tuple[str, Sequence[str]]]:
    """Every light and view of a plan with its cautions."""
    said: list[tuple[str, Sequence[str]]] = [(each.name, each.cautions) for each in answer.lights]
    return said + [(each.name, each.cautions) for each in answer.views]


def of_scene(answer: SolveAnswer | HangsAnswer) -> list[tuple[str, Sequence[str]]]:
    """Every light, view and circuit of a plan with its cautions."""
    return of_lights(answer) + [(each.name, each.load.cautions) for each in answer.circuits]
