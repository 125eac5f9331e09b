"""A bundle as a folder on disk, to be read by whatever reads files; made anew when it changes.

Every content is one file of a pool, and a folder holds links to them: an edit costs one file.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import shutil
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path

from evencast.store.library.disk import written_whole

KEPT = 32
"""So many folders are always kept, newest use first; others while used in the last minutes."""
IN_USE_S = 600.0
PRUNED_EVERY = 16
"""The first new folder of a program and each sixteenth after it look for those that may go."""


class Checkouts:
    """The folders, named by what is in them."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._pool = folder / "contents"
        self._made = 0

    def folder_with(self, digests: Mapping[str, str], content: Callable[[str], bytes]) -> Path:
        """The folder that holds files of these names with these digests, whole or not there.

        content : the bytes of a digest, asked for those that are not on disk yet
        """
        listed = "".join(f"{name}\0{digests[name]}\n" for name in sorted(digests))
        folder = self._folder / hashlib.sha256(listed.encode()).hexdigest()[:32]
        if folder.is_dir():
            os.utime(folder)
            return folder
        building = self._folder / f".{folder.name}.{secrets.token_hex(8)}.part"
        building.mkdir(parents=True)
        self._pool.mkdir(exist_ok=True)
        try:
            for name, sha256 in digests.items():
                self._place(building / name, sha256, content)
            with suppress(OSError):
                building.rename(folder)  # where another was quicker, its folder is the same
        finally:
            shutil.rmtree(building, ignore_errors=True)
        if not folder.is_dir():
            raise FileNotFoundError(2, "the folder could not be put in its place", str(folder))
        if self._made % PRUNED_EVERY == 0:
            self._prune(folder)
        self._made += 1
        return folder

    def _place(self, path: Path, sha256: str, content: Callable[[str], bytes]) -> None:
        pooled = self._pool / sha256
        if not pooled.exists():
            found = content(sha256)
            with written_whole(pooled) as file:
                file.write(found)
            with suppress(OSError):
                pooled.chmod(0o444)
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            os.link(pooled, path)
        except OSError:  # a disk without links, or one link too many
            shutil.copyfile(pooled, path)

    def _prune(self, newest: Path) -> None:
        found = {}
        for path in self._folder.iterdir():
            with suppress(OSError):
                if path != self._pool and path.is_dir():
                    found[path] = path.stat().st_mtime
        now = newest.stat().st_mtime
        for path in sorted(found, key=found.__getitem__, reverse=True)[KEPT:]:
            if now - found[path] > IN_USE_S:
                shutil.rmtree(path, ignore_errors=True)
        for pooled in self._pool.iterdir():
            with suppress(OSError):
                stat = pooled.stat()
                if stat.st_nlink == 1 and now - stat.st_mtime > IN_USE_S:
                    pooled.unlink()
