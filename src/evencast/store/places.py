"""Where the library and the log are on this machine. Nothing is made until it is needed."""

from __future__ import annotations

from pathlib import Path


def library_dir() -> Path:
    """The folder of the library: kits, measured sheets and lights kept between jobs."""
    from platformdirs import user_data_path  # only the commands that ask for it pay for it

    return user_data_path("evencast", appauthor=False)


def log_file() -> Path:
    """The file that unexpected errors are written to."""
    from platformdirs import user_log_path

    return user_log_path("evencast", appauthor=False) / "evencast.log"
