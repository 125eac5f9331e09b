"""A picture in a new file of the person's."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from evencast.errors import EvencastError
from evencast.store.files import refuse_if_there, write_bytes, write_text

ENDINGS = (".svg", ".png")


def write_picture(to: Path | None, svg: Callable[[], str]) -> str | None:
    """The picture in a new file, .svg or .png; None if none is wanted.

    svg : draws it, asked only where the file's name is one that can be written
    Raises  EvencastError for another ending, and rather than overwrite a file
    """
    if to is None:
        return None
    check_picture_file(to)
    if to.suffix.casefold() == ".svg":
        write_text(to, svg())
    else:
        from evencast.handouts.typeset import png_of  # loads the typesetter

        write_bytes(to, png_of(svg()))
    return str(to)


def check_picture_file(to: Path | None) -> None:
    """Before any work is done: raises EvencastError for a file that no picture is written to."""
    if to is None:
        return
    if to.suffix.casefold() not in ENDINGS:
        raise EvencastError(
            f'a picture cannot be written as "{to.suffix or to.name}"',
            where="--to",
            remedy="End the file's name in .svg or .png.",
        )
    refuse_if_there(to)
