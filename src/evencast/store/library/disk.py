"""Files that are on disk whole or not at all."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO


@contextmanager
def written_whole(path: Path) -> Iterator[IO[bytes]]:
    """A file to write; on leaving it is brought to disk and put in its place in one step."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{secrets.token_hex(8)}.part")
    try:
        with beside.open("xb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
        sync_folder(path.parent)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise


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
