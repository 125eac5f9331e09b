"""A folder as it would be with some files changed, to be tried and thrown away."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from evencast.store.files import confined


@contextmanager
def trial(folder: Path, files: Mapping[str, bytes]) -> Iterator[Path]:
    """A copy of a folder with files put into it, nothing outside of which can be read meanwhile.

    files : bytes by name inside the folder
    """
    with tempfile.TemporaryDirectory(prefix="evencast-") as place:
        copy = Path(place).resolve() / "bundle"
        shutil.copytree(folder, copy)
        for name, content in files.items():
            file = copy / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.unlink(missing_ok=True)
            file.write_bytes(content)
        with confined(copy):
            yield copy
