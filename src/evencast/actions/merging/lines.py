"""Two changed versions of a text brought together line by line, where their changes lie apart."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

Edit = tuple[int, int, Sequence[str]]
"""Lines of the base from, to, and what stands in their place."""


def merged_lines(base: str, mine: str, theirs: str) -> str | None:
    """The base with the changes of both; None where they touch."""
    lines = base.splitlines(keepends=True)
    pending = sorted(
        [*_edits(lines, mine), *_edits(lines, theirs)], key=lambda edit: (edit[0], edit[1])
    )
    merged: list[str] = []
    at, last = 0, None
    for edit in pending:
        begin, end, new = edit
        if last == edit:
            continue
        if last is not None and begin <= last[1]:
            return None
        merged += [*lines[at:begin], *new]
        at, last = end, edit
    return "".join([*merged, *lines[at:]])


def _edits(base: Sequence[str], text: str) -> list[Edit]:
    lines = text.splitlines(keepends=True)
    matcher = SequenceMatcher(None, base, lines, autojunk=False)
    return [
        (begin, end, lines[first:last])
        for tag, begin, end, first, last in matcher.get_opcodes()
        if tag != "equal"
    ]
