"""Bundles carried in and out: folders and archives, to the byte."""

from __future__ import annotations

import stat
import zipfile
import zlib
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

from evencast.errors import EvencastError
from evencast.store.files import make_folder, read_bytes, refuse_if_there, write_bytes

MOST_DOCUMENT_BYTES = 128 * 1024 * 1024
MOST_BYTES = 1024 * 1024 * 1024
MOST_FILES = 2000
MOST_RATIO = 200
_FREE_BYTES = 16 * 1024 * 1024
"""Up to here nothing is made of how well an archive is packed."""

_COMMENT = b"evencast bundle"
_MADE_BY_SYSTEMS = {"thumbs.db", "desktop.ini", "__macosx"}


def files_at(path: Path, *, without: Path | None = None) -> tuple[dict[str, bytes], list[str]]:
    """The files of a folder or a .zip; see `files_of_folder` and `files_of_zip`."""
    if path.suffix.casefold() != ".zip" or not path.is_file():
        return files_of_folder(path, without=without)
    return files_of_zip(read_bytes(path, most_bytes=MOST_BYTES), where=path.name)


def files_of_folder(
    folder: Path, *, without: Path | None = None
) -> tuple[dict[str, bytes], list[str]]:
    """The files of a folder by name, and the names of those left out: hidden ones, those that
    systems put there, and what is no plain file.

    without : a folder that is left out too, where it lies in there
    Raises  EvencastError where there is no such folder, or it holds more than a bundle may
    """
    if not folder.is_dir():
        raise EvencastError(
            "is no folder", where=str(folder), remedy="Name a folder of documents, or a .zip."
        )
    found: dict[str, bytes] = {}
    left_out: list[str] = []
    room = _Room(str(folder))
    for path in sorted(_walked(folder, without and without.resolve())):
        name = path.relative_to(folder).as_posix()
        if _is_of_a_system(name) or path.is_symlink() or not path.is_file():
            left_out.append(name)
            continue
        room.take(name, path.stat().st_size)
        found[name] = read_bytes(path, most_bytes=MOST_DOCUMENT_BYTES)
    return found, left_out


def _walked(folder: Path, without: Path | None) -> list[Path]:
    """Every file below, no link followed, and no hidden folder gone into."""
    found: list[Path] = []
    for path in folder.iterdir():
        is_folder = path.is_dir() and not path.is_symlink()
        if is_folder and not _is_of_a_system(path.name) and path.resolve() != without:
            found += _walked(path, without)
        else:
            found.append(path)
    return found


def files_of_zip(content: bytes, *, where: str) -> tuple[dict[str, bytes], list[str]]:
    """The files of an archive by name, and the names of those left out.

    Where all lie in one folder, that folder is the bundle, unless `zip_of` made the archive.
    Raises  EvencastError where it is none, is locked, leads outside, or unpacks to too much
    """
    room = _Room(where)
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            members = [each for each in archive.infolist() if not each.is_dir()]
            room.refuse_many(len(members))
            room.refuse_bomb(sum(each.file_size for each in members), len(content))
            found, left_out = _members(archive, members, room, where)
            own = archive.comment == _COMMENT
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError):
        raise _broken(where) from None
    except (RuntimeError, OSError, ValueError, OverflowError):
        raise EvencastError(
            "is locked with a password, or broken",
            where=where,
            remedy="Unpack it on the laptop and import the folder.",
        ) from None
    return (found if own else _without_one_folder(found)), left_out


def _members(
    archive: zipfile.ZipFile, members: list[zipfile.ZipInfo], room: _Room, where: str
) -> tuple[dict[str, bytes], list[str]]:
    found: dict[str, bytes] = {}
    left_out: list[str] = []
    for member in members:
        name = member.filename
        if _is_of_a_system(name) or stat.S_ISLNK(member.external_attr >> 16):
            left_out.append(name)
            continue
        if name in found:
            raise EvencastError(
                f'holds "{name}" more than once',
                where=where,
                remedy="Unpack it, look which is the right one, and pack it again.",
            )
        with archive.open(member) as file:
            text = file.read(MOST_DOCUMENT_BYTES + 1)
        room.take(name, len(text))
        found[name] = text
    return found, left_out


def _without_one_folder(files: dict[str, bytes]) -> dict[str, bytes]:
    tops = {name.partition("/")[0] for name in files}
    if len(tops) != 1 or not all("/" in name for name in files):
        return files
    return {name.partition("/")[2]: content for name, content in files.items()}


def _is_of_a_system(name: str) -> bool:
    parts = name.split("/")
    return any(
        part.casefold() in _MADE_BY_SYSTEMS or (part.startswith(".") and part not in (".", ".."))
        for part in parts
    )


def zip_of(files: Mapping[str, bytes]) -> bytes:
    """An archive of files, the same bytes for the same files."""
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(files):
            archive.writestr(member_named(name), files[name])
        archive.comment = _COMMENT
    return packed.getvalue()


def member_named(name: str) -> zipfile.ZipInfo:
    """A member of an archive with a fixed date: what is in it does not hang on the clock."""
    info = zipfile.ZipInfo(name)
    info.compress_type = zipfile.ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info


def write_folder(files: Mapping[str, bytes], to: Path) -> None:
    """Files in a folder; nothing is written where one of them is there already.

    Raises  EvencastError where one is there, or one cannot be written
    """
    for name in files:
        refuse_if_there(to / name, "Export to another folder, or move the file away.")
    make_folder(to)
    for name, content in files.items():
        make_folder((to / name).parent)
        write_bytes(to / name, content)


class _Room:
    """How much a bundle may still hold."""

    def __init__(self, where: str) -> None:
        self._where = where
        self._files = 0
        self._bytes = 0

    def take(self, name: str, size_bytes: int) -> None:
        """One file more.

        Raises  EvencastError where it, or all together, is too large
        """
        check_size(f"{self._where}, {name}", size_bytes)
        self._files += 1
        self._bytes += size_bytes
        self.refuse_many(self._files)
        if self._bytes > MOST_BYTES:
            self._refuse(f"is larger than {MOST_BYTES >> 30} GiB in all")

    def refuse_many(self, files: int) -> None:
        """Raises EvencastError where there are too many."""
        if files > MOST_FILES:
            self._refuse(f"holds more than {MOST_FILES} files")

    def refuse_bomb(self, unpacked_bytes: int, packed_bytes: int) -> None:
        """Raises EvencastError where an archive unpacks to far more than documents do."""
        if unpacked_bytes > max(_FREE_BYTES, MOST_RATIO * packed_bytes):
            self._refuse(f"unpacks to more than {MOST_RATIO} times its size")

    def _refuse(self, what: str) -> None:
        raise EvencastError(
            what, where=self._where, remedy="Check that it is the right one; import it in parts."
        )


def check_size(where: str, size_bytes: int) -> None:
    """Raises EvencastError where a document is larger than one may be."""
    if size_bytes > MOST_DOCUMENT_BYTES:
        raise EvencastError(
            f"is larger than {MOST_DOCUMENT_BYTES >> 20} MiB",
            where=where,
            remedy="Check that it is the right file.",
        )


def _broken(where: str) -> EvencastError:
    return EvencastError(
        "is no archive, or one that is broken or cut short",
        where=where,
        remedy="Pack or fetch it again: a .zip of the folder.",
    )
