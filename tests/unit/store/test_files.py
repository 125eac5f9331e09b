from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from evencast.errors import EvencastError
from evencast.store import files
from evencast.store.files import read_text, write_bytes, write_text


def refusal(path: Path | str) -> EvencastError:
    with pytest.raises(EvencastError) as raised:
        read_text(path)
    assert raised.value.where == str(path)
    return raised.value


@pytest.mark.parametrize(
    "content", [b"", b"a\n", "é\r\n".encode(), "\ufeffa = 1\r\n".encode(), b"no end", b"a\rb\x00"]
)
def test_a_text_is_read_to_the_byte(tmp_path: Path, content: bytes) -> None:
    """Line ends and a byte order mark are part of the text; the digest is of the bytes."""
    path = tmp_path / "kit.toml"
    path.write_bytes(content)
    found = read_text(path)
    assert found.text.encode() == content
    assert found.path == path
    assert found.sha256 == hashlib.sha256(content).hexdigest()
    assert read_text(str(path)) == found


def test_a_missing_file_names_the_nearest_one(tmp_path: Path) -> None:
    """Of the same folder; where none is near, the name is to be checked."""
    (tmp_path / "kitchen.toml").touch()
    (tmp_path / "kitchens.toml").mkdir()
    error = refusal(tmp_path / "kitchn.toml")
    assert error.what == "there is no such file"
    assert error.remedy == "Did you mean kitchen.toml?"
    assert refusal(tmp_path / "zzz").remedy == "Check the name."


def test_a_missing_folder_is_told_from_a_missing_file(tmp_path: Path) -> None:
    """The folder is named, and where paths begin."""
    error = refusal(tmp_path / "jobs" / "kitchen.toml")
    assert error.what == f'there is no folder "{tmp_path / "jobs"}"'
    assert error.remedy == "Check the path; it is taken from the folder you are in."


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """Files in it that might be meant are named."""
    assert refusal(tmp_path).remedy == "Name a file in it."
    for name in ("b.toml", "a.csv", "notes.txt"):
        (tmp_path / name).touch()
    error = refusal(tmp_path)
    assert error.what == "is a folder"
    assert error.remedy == "Name a file in it, such as a.csv or b.toml."


def test_bytes_that_are_not_utf_8_name_their_line(tmp_path: Path) -> None:
    """Latin-1 and UTF-16 are refused, with what to do about it."""
    path = tmp_path / "lamp.csv"
    path.write_bytes(b"a\nb\ncaf\xe9\n")
    error = refusal(path)
    assert error.what == "is not text in UTF-8: line 3 holds other bytes"
    assert error.remedy == "Save it as UTF-8 text; a spreadsheet goes out as CSV in UTF-8."
    path.write_bytes("a".encode("utf-16"))
    assert refusal(path).what == "is not text in UTF-8: line 1 holds other bytes"


def test_a_huge_file_is_refused_and_16_mib_are_not(tmp_path: Path) -> None:
    """One byte decides."""
    path = tmp_path / "huge.toml"
    path.write_bytes(b"#" * files.MOST_BYTES)
    assert len(read_text(path).text) == 16 * 1024 * 1024
    path.write_bytes(b"#" * (files.MOST_BYTES + 1))
    assert refusal(path).what == "is larger than 16 MiB"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    """Only files on disk are read."""
    path = tmp_path / "pipe"
    os.mkfifo(path)
    assert refusal(path).what == "is not a plain file"


def test_an_unreadable_file_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system's reason, and no traceback; the same for a name no system accepts."""
    path = tmp_path / "kit.toml"
    path.touch()

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", refuse)
        error = refusal(path)
    assert error.what == "cannot be read: Permission denied"
    assert error.remedy == "Check its name and that you may read it."
    assert refusal("nul\x00.toml").what.startswith("cannot be read: ")


def test_a_new_file_is_written_whole(tmp_path: Path) -> None:
    """Its text comes back, nothing else is left in the folder, and the digest fits."""
    path = tmp_path / "kit.toml"
    written = write_text(path, "\ufeffä = 1\r\n")
    assert read_text(path) == written
    assert [each.name for each in tmp_path.iterdir()] == ["kit.toml"]


def test_a_file_that_is_there_is_not_written_over_unread(tmp_path: Path) -> None:
    """Without the digest of what was read nothing is replaced, a dangling link included."""
    path = tmp_path / "kit.toml"
    path.write_text("old")
    with pytest.raises(EvencastError) as raised:
        write_text(path, "new")
    assert raised.value.what == "is there already"
    assert path.read_text() == "old"
    link = tmp_path / "link.toml"
    try:
        link.symlink_to(tmp_path / "nowhere")
    except OSError:
        return  # this system does not let everybody make links
    with pytest.raises(EvencastError, match="is there already"):
        write_text(link, "new")


def test_a_file_is_replaced_when_it_is_as_it_was_read(tmp_path: Path) -> None:
    """And its permissions stay."""
    path = tmp_path / "kit.toml"
    path.write_text("old")
    path.chmod(0o640)
    mode = path.stat().st_mode
    written = write_text(path, "new", expected_sha256=read_text(path).sha256)
    assert path.read_text() == "new"
    assert path.stat().st_mode == mode
    assert write_text(path, "newer", expected_sha256=written.sha256).text == "newer"


@pytest.mark.parametrize(
    ("change", "what"),
    [
        (lambda path: path.write_text("theirs"), "was changed by something else since it was read"),
        (lambda path: path.unlink(), "is gone since it was read"),
    ],
)
def test_a_file_changed_or_gone_since_it_was_read_is_left_alone(
    tmp_path: Path, change: object, what: str
) -> None:
    """Somebody else's work is never lost."""
    path = tmp_path / "kit.toml"
    path.write_text("mine")
    digest = read_text(path).sha256
    assert callable(change)
    change(path)
    before = [(each.name, each.read_text()) for each in tmp_path.iterdir()]
    with pytest.raises(EvencastError) as raised:
        write_text(path, "new", expected_sha256=digest)
    assert raised.value.what.startswith(what)
    assert [(each.name, each.read_text()) for each in tmp_path.iterdir()] == before


def test_a_link_keeps_pointing_to_the_file_that_is_written(tmp_path: Path) -> None:
    """The file behind it is replaced, not the link."""
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("old")
    try:
        link.symlink_to(real)
    except OSError:
        pytest.skip("links need a permission here")
    write_text(link, "new", expected_sha256=read_text(link).sha256)
    assert link.is_symlink()
    assert real.read_text() == "new"


@pytest.mark.parametrize(("owner", "moment"), [(os, "fsync"), (Path, "replace")])
def test_a_write_that_fails_leaves_the_old_file_and_no_litter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, owner: object, moment: str
) -> None:
    """A full disk or a lost connection costs nothing that was there."""
    path = tmp_path / "kit.toml"
    path.write_text("old")
    digest = read_text(path).sha256

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(owner, moment, fail)
    with pytest.raises(EvencastError) as raised:
        write_text(path, "new", expected_sha256=digest)
    assert raised.value.what == "cannot be written: No space left on device"
    assert [(each.name, each.read_text()) for each in tmp_path.iterdir()] == [("kit.toml", "old")]


@pytest.mark.parametrize("name", ["missing/kit.toml", "nul\x00.toml"])
def test_a_place_that_cannot_be_written_says_so(tmp_path: Path, name: str) -> None:
    """A folder that is not there, a name no system accepts."""
    with pytest.raises(EvencastError) as raised:
        write_text(tmp_path / name, "new")
    assert raised.value.what.startswith("cannot be written: ")
    assert raised.value.remedy == (
        "Check that the folder exists, that you may write there, and that the disk has room."
    )


def test_bytes_replace_a_file_only_where_they_may(tmp_path: Path) -> None:
    path = tmp_path / "cards.pdf"
    write_bytes(path, b"one")
    with pytest.raises(EvencastError) as raised:
        write_bytes(path, b"two")
    assert (raised.value.what, raised.value.where) == ("is there already", str(path))
    assert path.read_bytes() == b"one"
    write_bytes(path, b"two", replace=True)
    assert path.read_bytes() == b"two"
    assert [each.name for each in tmp_path.iterdir()] == ["cards.pdf"]
