"""A disk that is full, and one that cannot be written to."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from evencast.errors import EvencastError
from evencast.store.library import Library
from evencast.store.library.faults import FULL, READ_ONLY
from tests.faults.children import Nursery, Told

can_mount = pytest.mark.skipif(
    os.name != "posix" or os.geteuid() != 0 or not Path("/proc/mounts").exists(),
    reason="only root may mount a small disk; a limit on file sizes is tested instead",
)


def mount(*arguments: str) -> None:
    subprocess.run(["mount", *arguments], check=True, capture_output=True)


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 3 MiB."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount("-t", "tmpfs", "-o", "size=3m", "none", str(folder))
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


@can_mount
def test_a_full_disk_refuses_and_keeps_what_was_saved(disk: Path, nursery: Nursery) -> None:
    """The refusal says so; once there is room everything acknowledged is there, and saving goes
    on."""
    place = str(disk / "library")
    child = nursery.child("fill", place, "b")
    assert child.wait() == 0
    lines = child.lines()
    assert lines[-1] == f"refused {FULL}"
    assert len(lines) > 5
    told = Told()
    told.take("b", lines)
    try:
        Library.open(place).close()
    except EvencastError as error:
        assert "no room" in error.what or "cannot be written" in error.what  # noqa: PT017
    mount("-o", "remount,size=12m", str(disk))
    with Library.open(place) as library:
        told.check(library)
        document = library.document(library.bundle("b"), "plan.toml")
        saved = library.save(document, b"more", based_on=document.head.number, by="A")
        assert library.read(document) == saved
        assert library.backup().path.exists()


@can_mount
def test_a_full_disk_takes_no_backup_by_halves(disk: Path, tmp_path: Path) -> None:
    """Nothing under a backup's name, nothing left over, and the library goes on."""
    with Library.open(tmp_path / "library") as library:
        bundle = library.new_bundle("b")
        library.add(bundle, "a.dng", os.urandom(4_000_000), by="A")
        with pytest.raises(EvencastError) as raised:
            library.backup(to=disk / "backups")
        assert raised.value.what == FULL
        assert list((disk / "backups").iterdir()) == []
        assert library.check().faults == ()


def test_a_file_that_may_not_grow_refuses_and_keeps_what_was_saved(
    tmp_path: Path, nursery: Nursery
) -> None:
    """A limit on the size of files, as a quota sets it."""
    place = str(tmp_path / "library")
    child = nursery.child("fill_to", place, "b", "1000000")
    assert child.wait() == 0
    lines = child.lines()
    assert lines[-1].startswith("refused ")
    assert "nothing was saved" in lines[-1]
    assert len(lines) > 5
    told = Told()
    told.take("b", lines)
    with Library.open(place) as library:
        told.check(library)


@can_mount
def test_a_disk_that_cannot_be_written_to_refuses(disk: Path) -> None:
    """Nothing is harmed, nothing set aside; written to again, everything is there."""
    place = disk / "library"
    with Library.open(place) as library:
        document = library.add(library.new_bundle("b"), "plan.toml", b"1", by="A")
    mount("-o", "remount,ro", str(disk))
    with pytest.raises(EvencastError) as raised:
        Library.open(place)
    assert raised.value.what == READ_ONLY
    mount("-o", "remount,rw", str(disk))
    assert not (place / "set-aside").exists()
    with Library.open(place) as library:
        assert library.read(document).content == b"1"
        assert library.save(document, b"2", based_on=1, by="A").number == 2


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    """A file stands where the folder would be."""
    (tmp_path / "file").write_text("")
    with pytest.raises(EvencastError) as raised:
        Library.open(tmp_path / "file" / "library")
    assert "nothing was saved" in raised.value.what


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="looks into /proc")
def test_every_save_reaches_the_disk_before_it_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite brings its log to disk at every commit, and the edit is brought there before it."""
    synced: list[str] = []
    real = os.fsync

    def counted(descriptor: int) -> None:
        synced.append(str(Path(f"/proc/self/fd/{descriptor}").readlink()))
        real(descriptor)

    with Library.open(tmp_path / "library") as library:
        for pragma, value in (("synchronous", 2), ("journal_mode", "wal"), ("foreign_keys", 1)):
            with library._database.reading() as connection:
                found = connection.exec_driver_sql(f"PRAGMA {pragma}").scalar_one()
            assert found == value
        document = library.add(library.new_bundle("b"), "plan.toml", b"1", by="A")
        monkeypatch.setattr(os, "fsync", counted)
        library.save(document, b"2", based_on=1, by="A")
    assert [Path(each).name.partition("-")[0] for each in synced[:2]] == [".000000003", "edits"]
