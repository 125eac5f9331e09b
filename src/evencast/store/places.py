"""Where the library and the log are on this machine. Nothing is made until it is needed."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "EVENCAST_LIBRARY"


def library_dir() -> Path:
    """The person's own folder for the library, unless another place is named."""
    from platformdirs import user_data_path  # only the commands that ask for it pay for it

    return user_data_path("evencast", appauthor=False)


def cache_dir() -> Path:
    """The person's own folder for what can be made again."""
    from platformdirs import user_cache_path

    return user_cache_path("evencast", appauthor=False)


def library_place() -> str:
    """Where the library is: a folder, or the URL of a database. EVENCAST_LIBRARY names it; left
    out, it is `library_dir`."""
    return os.environ.get(VARIABLE, "").strip() or str(library_dir())


def shown_place(place: str) -> str:
    """A place for messages: the URL of a database without its password."""
    head, parted, rest = place.partition("://")
    if not parted:
        return place
    from urllib.parse import parse_qsl, urlencode

    rest, _, query = rest.partition("?")
    user, at, address = rest.rpartition("@")
    name, colon, _ = user.partition(":")
    options = [
        (key, "..." if "pass" in key.casefold() else value)
        for key, value in parse_qsl(query, keep_blank_values=True)
    ]
    hidden = f"{name}:..." if colon else name
    return f"{head}://{hidden}{at}{address}" + (
        f"?{urlencode(options, safe='/.')}" if query else ""
    )


def log_file() -> Path:
    """The file that unexpected errors are written to."""
    from platformdirs import user_log_path

    return user_log_path("evencast", appauthor=False) / "evencast.log"
