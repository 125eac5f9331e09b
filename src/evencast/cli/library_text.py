"""The library as text."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from evencast.cli.plain import bullets, pairs, sentence
from evencast.cli.text import problem_line
from evencast.errors import Problem
from evencast.quantities import many
from evencast.results.library import (
    BackupLine,
    LibraryBackup,
    LibraryCheck,
    LibraryExport,
    LibraryImport,
    LibraryRestored,
)

MOST_LISTED = 12


def check(answer: LibraryCheck) -> str:
    """What is in it, and which backups there are."""
    documents = sum(len(each.documents) for each in answer.bundles)
    told = (
        f"The library is whole: {many(len(answer.bundles), 'bundle')}, "
        f"{many(documents, 'document')}, {many(answer.revisions, 'revision')}, every byte as it "
        "was saved."
    )
    lines = [sentence(told), "", *_place(answer.place)]
    lines += _listed("Bundles", (_bundle(each.name, each.documents) for each in answer.bundles))
    lines += _listed("Backups, the newest first", (_backup(each) for each in answer.backups))
    if answer.since_backup:
        edits = f"{many(answer.since_backup, 'edit')} since"
        verb = "is" if answer.since_backup == 1 else "are"
        told = f"{edits} {verb} in no backup yet: `evencast library backup` writes one."
        lines += ["", sentence(told)]
    return "\n".join(lines + _problems(answer.problems))


def backup(answer: LibraryBackup) -> str:
    """Where it is."""
    told = f"Everything up to change {answer.backup.last_change} is backed up, and was read back."
    size = f"{answer.bytes / 1e6:.1f} MB" if answer.bytes >= 1e5 else f"{answer.bytes} bytes"
    return "\n".join(
        [
            sentence(told),
            "",
            *pairs([("library", answer.place), ("backup", answer.backup.file)], wrap=False),
            *pairs([("size   ", size)]),
        ]
    )


def restore(answer: LibraryRestored) -> str:
    """What is there again, and where what was there is now."""
    if answer.backup is None:
        begun = "from single edits alone"
    elif answer.edits:
        begun = f"with {many(answer.edits, 'edit')} made since the backup"
    else:
        begun = "as the backup has it"
    told = (
        f"The library is there again, {begun}: {many(answer.bundles, 'bundle')}, "
        f"{many(answer.documents, 'document')}, {many(answer.revisions, 'revision')}."
    )
    rows = [("library", answer.place)]
    rows += [] if answer.backup is None else [("backup", answer.backup.file)]
    rows += [] if answer.set_aside is None else [("set aside", answer.set_aside)]
    return "\n".join([sentence(told), "", *pairs(rows, wrap=False), *_problems(answer.problems)])


def carried_in(answer: LibraryImport) -> str:
    """What is new in the bundle."""
    new = many(len(answer.made), "document")
    there = f"{answer.same or 'none'} {'was' if answer.same < 2 else 'were'} there already"
    told = f"{new} taken into {answer.bundle}; {there} just as they are."
    lines = [sentence(told), "", *_place(answer.place)]
    lines += _listed("Taken in", answer.made)
    lines += _listed("Left out", answer.left_out)
    return "\n".join(lines + _problems(answer.problems))


def carried_out(answer: LibraryExport) -> str:
    """What was written."""
    told = (
        f"{many(len(answer.files), 'document')} of {answer.bundle} written to {answer.written_to}."
    )
    lines = [told, *_listed("Written", answer.files)]
    return "\n".join(lines + _problems(answer.problems))


def _place(place: str) -> list[str]:
    return pairs([("library", place)], wrap=False)


def _bundle(name: str, documents: list[str]) -> str:
    return f"{name}: {', '.join(documents[:MOST_LISTED]) or 'empty'}" + (
        f" and {len(documents) - MOST_LISTED} more" if len(documents) > MOST_LISTED else ""
    )


def _backup(line: BackupLine) -> str:
    date = datetime.fromisoformat(line.made_at).strftime("%Y-%m-%d %H:%M UTC")
    return f"{date}, change {line.last_change}: {line.file}"


def _listed(title: str, texts: Iterable[str]) -> list[str]:
    """A titled list, one line for each, so that a path can be copied; or nothing."""
    every = list(texts)
    left = len(every) - MOST_LISTED
    lines = [f"  - {text}" for text in every[:MOST_LISTED]]
    lines += [f"  and {left} more"] if left > 0 else []
    return ["", f"{title}:", *lines] if lines else []


def _problems(problems: list[Problem]) -> list[str]:
    return bullets("To look at", (problem_line(each) for each in problems))
