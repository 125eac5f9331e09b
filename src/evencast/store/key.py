"""A key of this machine's own, kept from one run to the next."""

from __future__ import annotations

import secrets
from contextlib import suppress
from pathlib import Path

KEY_BYTES = 32
_NAME = "forms.key"


def own_key(folder: Path) -> bytes:
    """The key in a folder, made where there is none; a passing one where the folder can be
    neither read nor written. Only its owner may read the file, where the system knows owners."""
    path = folder / _NAME
    with suppress(OSError):
        found = path.read_bytes()
        if len(found) == KEY_BYTES:
            return found
    made = secrets.token_bytes(KEY_BYTES)
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        path.unlink(missing_ok=True)
        path.touch(mode=0o600)
        path.write_bytes(made)
    return made
