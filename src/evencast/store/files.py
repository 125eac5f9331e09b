"""Reading and writing the files a person owns.

Texts pass through unchanged, line endings and byte order mark included. A file that
changed on disk since it was read is not written over, and a write is whole or nothing.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from evencast.errors import EvencastError, nearest

MOST_BYTES = 16 * 1024 * 1024

_FOLDER: ContextVar[Path | None] = ContextVar("folder that files must lie in", default=None)


@contextmanager
def confined(folder: Path) -> Iterator[None]:
    """Inside, a file outside the folder is refused, whatever name, `..` or link leads to it.

    Holds for this thread or task and for what it awaits. A thread that is started inside by hand
    begins without it, unless it is run in a copy of the context.
    """
    before = _FOLDER.set(folder)
    try:
        yield
    finally:
        _FOLDER.reset(before)


def _refuse_outside(path: Path) -> None:
    """Raises EvencastError for a path that leads out of the folder one is confined to.

    First by its name alone: merely to look where a path leads may reach over a network.
    """
    folder = _FOLDER.get()
    if folder is None:
        return
    try:
        own, asked = (os.path.abspath(each) for each in (folder, path))  # noqa: PTH100 - no link
        by_name = Path(asked).is_relative_to(own)
        inside = by_name and path.resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        inside = False
    if not inside:
        raise EvencastError(
            "leads outside the bundle",
            where=path.name,
            remedy="A plan or a kit names files of its own bundle only: add the file to it and "
            "name it from there, such as spectra/lamp.csv.",
        )


def _shown(path: Path) -> str:
    """A path for messages: inside a folder one is confined to, without the way there, which is
    nobody's business who may see no more than that folder."""
    folder = _FOLDER.get()
    if folder is not None:
        with suppress(ValueError):
            return path.relative_to(folder).as_posix()
    return str(path)


@dataclass(frozen=True, slots=True)
class TextFile:
    """A text file as it was on disk.

    path   : as it was asked for
    text   : all of it; begins with U+FEFF where the file has a byte order mark
    sha256 : digest of its bytes, to hand back when writing
    """

    path: Path
    text: str
    sha256: str


def read_text(path: Path | str) -> TextFile:
    """A text file in UTF-8, with or without a byte order mark.

    Raises  EvencastError where there is no such file, it cannot be read, it is larger than
            16 MiB, or it is not UTF-8
    """
    path = Path(path)
    content = _content(path)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise EvencastError(
            f"is not text in UTF-8: line {line} holds other bytes",
            where=_shown(path),
            remedy="Save it as UTF-8 text; a spreadsheet goes out as CSV in UTF-8.",
        ) from None
    return TextFile(path, text, _digest(content))


def read_bytes(path: Path | str, *, most_bytes: int = MOST_BYTES) -> bytes:
    """A file that is no text, such as an archive or a photograph.

    Raises  EvencastError where there is no such file, it cannot be read, or it is larger than
            `most_bytes`
    """
    return _content(Path(path), most_bytes)


def write_text(path: Path | str, text: str, *, expected_sha256: str | None = None) -> TextFile:
    """The text on disk in UTF-8, all of it or none.

    expected_sha256 : digest the file had when it was read; None to write a new file only
    Raises  EvencastError where the file has another digest by now, is there although it
            should be new, or cannot be written
    """
    path = Path(path)
    _refuse_outside(path)
    _refuse_to_overwrite(path, expected_sha256)
    try:
        content = text.encode("utf-8")
    except ValueError as error:
        raise _unwritable(path, error) from error
    _write(path, content)
    return TextFile(path, text, _digest(content))


def write_bytes(path: Path | str, content: bytes, *, replace: bool = False) -> None:
    """A document or picture on disk, all of it or none.

    replace : whether a file of that name may be written over
    Raises  EvencastError where the file is there already and may not be, or cannot be written
    """
    path = Path(path)
    _refuse_outside(path)
    if not replace:
        refuse_if_there(path)
    _write(path, content)


def refuse_if_there(path: Path, remedy: str = "") -> None:
    """Raises EvencastError where there is anything of that name."""
    if os.path.lexists(path):
        raise EvencastError(
            "is there already",
            where=_shown(path),
            remedy=remedy or "Choose another name, or move the file away.",
        )


def _write(path: Path, content: bytes) -> None:
    try:
        with written_beside(path.resolve()) as file:
            file.write(content)
    except (OSError, ValueError) as error:
        raise _unwritable(path, error) from error


def _unwritable(path: Path, error: OSError | ValueError) -> EvencastError:
    return EvencastError(
        f"cannot be written: {_reason(error)}",
        where=_shown(path),
        remedy="Check that the folder exists, that you may write there, and that the disk "
        "has room.",
    )


def _refuse_to_overwrite(path: Path, expected_sha256: str | None) -> None:
    if expected_sha256 is None:
        refuse_if_there(path)
        return
    if not path.exists():
        raise EvencastError(
            "is gone since it was read",
            where=_shown(path),
            remedy="Save under another name, or put the file back.",
        )
    if _digest(_content(path)) != expected_sha256:
        raise EvencastError(
            "was changed by something else since it was read; nothing was written",
            where=_shown(path),
            remedy="Read it again and repeat the change, or save under another name.",
        )


def _content(path: Path, most_bytes: int = MOST_BYTES) -> bytes:
    _refuse_outside(path)
    try:
        if path.is_dir():
            raise EvencastError(
                "is a folder",
                where=_shown(path),
                remedy=f"Name a file in it{_such_as(path)}.",
            )
        if path.exists() and not path.is_file():
            raise EvencastError(
                "is not a plain file", where=_shown(path), remedy="Name a text file on disk."
            )
        with path.open("rb") as file:
            content = file.read(most_bytes + 1)
    except FileNotFoundError:
        raise _missing(path) from None
    except (OSError, ValueError) as error:
        raise EvencastError(
            f"cannot be read: {_reason(error)}",
            where=_shown(path),
            remedy="Check its name and that you may read it.",
        ) from error
    if len(content) > most_bytes:
        raise EvencastError(
            f"is larger than {most_bytes >> 20} MiB",
            where=_shown(path),
            remedy="What is read here is far smaller: check that this is the right file.",
        )
    return content


def _missing(path: Path) -> EvencastError:
    folder = path.parent
    if not folder.is_dir():
        return EvencastError(
            f'there is no folder "{_shown(folder)}"',
            where=_shown(path),
            remedy="Check the path; it is taken from the folder you are in.",
        )
    close = nearest(path.name, _names_in(folder))
    meant = f"Did you mean {' or '.join(close)}?" if close else "Check the name."
    return EvencastError("there is no such file", where=_shown(path), remedy=meant)


def _such_as(folder: Path) -> str:
    names = [name for name in _names_in(folder) if name.endswith((".toml", ".csv", ".spdx"))]
    return f", such as {' or '.join(names[:3])}" if names else ""


def _names_in(folder: Path) -> list[str]:
    try:
        return sorted(each.name for each in folder.iterdir() if each.is_file())
    except OSError:
        return []


@contextmanager
def written_beside(path: Path) -> Iterator[IO[bytes]]:
    """A file beside a path, to write; on leaving it is brought to disk, then put in its place in
    one step, or it is gone where anything failed."""
    import secrets  # quick questions write no file

    beside = path.with_name(f".{path.name[:40]}.{secrets.token_hex(8)}.part")
    try:
        with beside.open("xb") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            beside.chmod(path.stat().st_mode & 0o7777)
        beside.replace(path)
    except BaseException:
        with suppress(OSError):
            beside.unlink()
        raise


def _digest(content: bytes) -> str:
    import hashlib  # quick questions read no file

    return hashlib.sha256(content).hexdigest()


def _reason(error: OSError | ValueError) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def make_folder(path: Path) -> None:
    """A folder for documents, and those above it, unless they are there.

    Raises  EvencastError where it cannot be made
    """
    _refuse_outside(path)
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise EvencastError(
            f"the folder cannot be made: {_reason(error)}",
            where=_shown(path),
            remedy="Name a folder where you may write.",
        ) from error
