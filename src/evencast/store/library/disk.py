"""Files that are on disk whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from evencast.store.files import written_beside


@contextmanager
def written_whole(path: Path) -> Iterator[IO[bytes]]:
    """A file to write, its folder made; on leaving its bytes and its name are brought to disk."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with written_beside(path) as file:
        yield file
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to disk, where the system can."""
    if os.name == "nt":
        return
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def drop_unfinished(folder: Path) -> None:
    """Delete what writers that were cut short have left."""
    if folder.is_dir():
        for path in folder.glob(".*.part"):
            with suppress(OSError):
                path.unlink()


def unused(path: Path) -> Path:
    """The path, or one with a number behind it where there is something already."""
    number, free = 2, path
    while free.exists():
        free = path.with_name(f"{path.name}-{number}")
        number += 1
    return free
