"""What is told of the library: where it is, what is in it, what was kept and put back."""

from __future__ import annotations

from dataclasses import dataclass

from evencast.errors import Problem


@dataclass(frozen=True)
class BundleLine:
    """A bundle in short."""

    name: str
    documents: list[str]


@dataclass(frozen=True)
class BackupLine:
    """A backup that is there.

    made_at     : by the clock of the machine, in UTC, as in ISO 8601
    last_change : number of the last change it holds
    """

    file: str
    made_at: str
    last_change: int


@dataclass(frozen=True)
class LibraryCheck:
    """`library check`: every byte was read, and is what was saved.

    place        : folder, or database without its password
    last_change  : number of the newest change
    revisions    : of all documents, those taken out too
    backups      : the newest first
    since_backup : number of edits that no backup holds yet
    problems     : warnings
    """

    place: str
    last_change: int
    revisions: int
    bundles: list[BundleLine]
    backups: list[BackupLine]
    since_backup: int
    problems: list[Problem]


@dataclass(frozen=True)
class LibraryBackup:
    """`library backup`: written, read back and compared."""

    place: str
    backup: BackupLine
    bytes: int


@dataclass(frozen=True)
class LibraryRestored:
    """`library restore`: what is there again.

    backup    : None where single edits were enough
    edits     : changes put back that were made after the backup
    set_aside : folder that holds what was there before
    problems  : backups and edits that could not be used
    """

    place: str
    backup: BackupLine | None
    edits: int
    last_change: int
    bundles: int
    documents: int
    revisions: int
    set_aside: str | None
    problems: list[Problem]


@dataclass(frozen=True)
class LibraryImport:
    """`library import`: what is new.

    made     : names of documents that got a revision
    same     : how many were there already with just these bytes
    left_out : names of files that are no documents
    """

    place: str
    bundle: str
    made: list[str]
    same: int
    left_out: list[str]
    problems: list[Problem]


@dataclass(frozen=True)
class LibraryExport:
    """`library export`: the newest bytes of every document."""

    place: str
    bundle: str
    written_to: str
    files: list[str]
    problems: list[Problem]
