"""`library`: looked through, backed up, put back, carried in and out."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from evencast.errors import DocumentErrors, EvencastError, Problem
from evencast.results.library import (
    BackupLine,
    BundleLine,
    LibraryBackup,
    LibraryCheck,
    LibraryExport,
    LibraryImport,
    LibraryRestored,
)

if TYPE_CHECKING:  # loads SQLAlchemy
    from evencast.store.library import Backup, Library


def back_up_if_due(library: Library) -> list[Problem]:
    """A backup where changes are in none of the last day; a warning where it failed, since work
    goes on without one."""
    try:
        library.backup_if_due()
    except EvencastError as error:
        return [Problem("warning", error.where, f"no backup: {error.what}", error.remedy)]
    return []


def check() -> LibraryCheck:
    """Read every byte of the library.

    Raises  DocumentErrors where anything is not as it was saved
    """
    from evencast.store.library import Library

    with Library.open() as library:
        warnings = back_up_if_due(library)
        found = library.check()
        where = library.place.shown
        if found.faults:
            remedy = "`evencast library restore` brings back the last good backup and every edit."
            raise DocumentErrors(where, [Problem("error", where, f, remedy) for f in found.faults])
        warnings += [
            Problem("warning", where, each, "It was made anew from the documents.")
            for each in found.mended
        ]
        names: dict[str, list[str]] = {each.name: [] for each in library.bundles()}
        for document in library.documents():
            names[document.bundle.name].append(document.name)
        return LibraryCheck(
            place=library.place.shown,
            last_change=found.last_change,
            revisions=found.revisions,
            bundles=[BundleLine(name, documents) for name, documents in names.items()],
            backups=[_line(each) for each in found.backups],
            since_backup=found.since_backup,
            problems=warnings,
        )


def backup(to: Path | None) -> LibraryBackup:
    """Write a backup, to a folder elsewhere if one is given."""
    from evencast.store.library import Library

    with Library.open() as library:
        made = library.backup(to=to)
        return LibraryBackup(library.place.shown, _line(made), made.path.stat().st_size)


def restore(file: Path | None, *, at: datetime) -> LibraryRestored:
    """Put back a backup; the last good one and every edit since where none is named.

    at : dates the folder in which what was there is set aside
    """
    from evencast.store.library import Library
    from evencast.store.places import library_place, shown_place

    place = shown_place(library_place())
    found = Library.restore(backup=file, at=at)
    line = None
    if found.backup is not None and found.made_at is not None:
        change = found.last_change - found.edits
        line = BackupLine(str(found.backup), found.made_at.isoformat(timespec="seconds"), change)
    return LibraryRestored(
        place=place,
        backup=line,
        edits=found.edits,
        last_change=found.last_change,
        bundles=found.bundles,
        documents=found.documents,
        revisions=found.revisions,
        set_aside=None if found.set_aside is None else str(found.set_aside),
        problems=[
            Problem("warning", place, note, "What could not be used was kept: nothing is deleted.")
            for note in found.notes
        ],
    )


def carry_in(path: Path, *, bundle: str | None, by: str) -> LibraryImport:
    """A folder or a .zip as a bundle, or into one that is there.

    bundle : its name; that of the folder or the file where None
    """
    from evencast.store.library import Library
    from evencast.store.library.carrying import files_at

    name = bundle or (path.resolve().stem if path.is_file() else path.resolve().name)
    with Library.open() as library:
        files, left_out = files_at(path, without=library.place.folder)
        known = {each.name.casefold(): each for each in library.bundles()}
        target = known.get(name.strip().casefold()) or library.new_bundle(name)
        made = library.import_files(target, files, by=by)
        return LibraryImport(
            place=library.place.shown,
            bundle=target.name,
            made=[each.name for each in made],
            same=len(files) - len(made),
            left_out=left_out,
            problems=back_up_if_due(library),
        )


def carry_out(bundle: str, *, to: Path | None) -> LibraryExport:
    """A bundle as a folder or a .zip.

    to : where it is written, a .zip by its ending; a new folder of its name where None
    """
    from evencast.store.files import write_bytes
    from evencast.store.library import Library
    from evencast.store.library.carrying import write_folder, zip_of

    with Library.open() as library:
        found = library.bundle(bundle)
        files = library.export(found)
        target = Path(found.name) if to is None else to
        if target.suffix.casefold() == ".zip":
            write_bytes(target, zip_of(files))
        else:
            write_folder(files, target)
        return LibraryExport(
            place=library.place.shown,
            bundle=found.name,
            written_to=str(target),
            files=sorted(files),
            problems=back_up_if_due(library),
        )


def _line(backup: Backup) -> BackupLine:
    return BackupLine(
        str(backup.path), backup.made_at.isoformat(timespec="seconds"), backup.last_change
    )
